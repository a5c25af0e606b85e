"""The one way a recipe reaches a file: whole or not at all, and only if it can be opened again."""

from __future__ import annotations

import os
import shutil
from enum import Enum
from pathlib import Path

from PySide6.QtCore import QSaveFile

from app.wording.refusals import refusal
from core.recipe import RecipeError, dumps, loads
from core.recipe.records import Recipe


class Why(Enum):
    """What kept a recipe from being saved."""

    NOT_A_RECIPE = "not a recipe"
    READ_ONLY = "read only"
    NO_FOLDER = "no folder"
    FULL = "full"
    OPEN_ELSEWHERE = "open elsewhere"
    OTHER = "other"


class SaveError(Exception):
    """The recipe was not saved; the file, if there was one, is as it was.

    Parameters
    ----------
    path : the file that was to be written.
    why : the kind of obstacle.
    detail : what the system or the recipe's reader said about it; may be empty.
    """

    def __init__(self, path: Path, why: Why, detail: str = "") -> None:
        super().__init__(path, why, detail)
        self.path = path
        self.why = why
        self.detail = detail


class ChangedElsewhere(Exception):
    """The file is no longer what was opened or saved here; saving would overwrite another's work."""


def save_recipe(path: Path, recipe: Recipe) -> None:
    """Write the recipe to this file, in place of what is there.

    Raises
    ------
    SaveError : what is there stays, byte for byte.
    """
    try:
        data = dumps(recipe)
        loads(data, path.name)
    except RecipeError as error:
        raise SaveError(path, Why.NOT_A_RECIPE, refusal(error)) from error
    write_whole(path, data)


def write_whole(path: Path, data: bytes) -> None:
    """Write these bytes beside the file and exchange the two when all of them are on the disk.

    Raises
    ------
    SaveError : what is there stays, byte for byte.
    """
    if "\0" in str(path):  # Qt would write nowhere and call it done
        raise SaveError(path, Why.OTHER)
    file = QSaveFile(str(path))
    if not file.open(QSaveFile.OpenModeFlag.WriteOnly):
        raise SaveError(path, _why_not_begun(path), _said(file))
    if file.write(data) != len(data):  # a short write is no error to Qt: commit would put half a recipe in place
        file.cancelWriting()
    if not file.commit():
        raise SaveError(path, _why_not_finished(path, len(data)), _said(file))


def _said(file: QSaveFile) -> str:
    said = file.errorString()
    return "" if said == "Unknown error" else said


def _why_not_begun(path: Path) -> Why:
    """Find out why not a first byte could be written."""
    folder = path.parent
    if not folder.is_dir():
        return Why.NO_FOLDER
    if not os.access(folder, os.W_OK) or (path.exists() and not os.access(path, os.W_OK)):
        return Why.READ_ONLY
    return _why_not_finished(path, 1)


def _why_not_finished(path: Path, size: int) -> Why:
    """Find out why not every byte of this size could be written."""
    try:
        return Why.FULL if shutil.disk_usage(path.parent).free < size else Why.OTHER
    except OSError:
        return Why.OTHER
