"""Opening a recipe: a path or bytes in, a checked `Recipe` out, or a refusal in one sentence."""

from __future__ import annotations

import os
import stat

import msgspec

from core.phrase import Phrase
from core.recipe.checks import check
from core.recipe.errors import RecipeError
from core.recipe.kinds import RECIPE, FileKind
from core.recipe.migrations import migrated
from core.recipe.records import Recipe
from core.recipe.shape import check_shape, recipe_type
from core.recipe.strict_json import parse, too_large


def load(path: str | os.PathLike[str]) -> Recipe:
    """Open the recipe at this path; the file is only read.

    Raises
    ------
    RecipeError : the file cannot be read, or is refused (see `loads`).
    """
    where = os.fspath(path)
    return loads(read_whole(where), where)


def read_whole(where: str, kind: FileKind = RECIPE) -> bytes:
    """Return all of a file that should be of this kind; what is too large, or never ends, is not read.

    Raises
    ------
    RecipeError : it cannot be read, in a sentence that names the file.
    """
    try:
        return _read(where, kind)
    except RecipeError as error:
        error.where = where
        raise
    except FileNotFoundError:
        raise RecipeError("cannot be found", "check its name", where=where) from None
    except PermissionError:
        raise RecipeError("may not be read", "ask its owner for the right to read it", where=where) from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else Phrase("its name is not usable")
        raise RecipeError(
            Phrase("cannot be read: {reason}", reason=reason), "check the file and the disk", where=where
        ) from None


def loads(data: bytes, where: str = "") -> Recipe:
    """Return the recipe these bytes hold, migrated to the newest schema and checked.

    Parameters
    ----------
    data : a UTF-8 JSON document, at most 1 MB; a byte order mark is skipped.
    where : the file's name for the message, if there is one.

    Raises
    ------
    RecipeError : one sentence that says what, where and how to mend it.
    """
    try:
        document = migrated(parse(data))
        check_shape(document, recipe_type())
        recipe = msgspec.convert(document, Recipe)
        check(recipe)
    except RecipeError as error:
        error.where = where
        raise
    return recipe


def _read(where: str, kind: FileKind) -> bytes:
    """Read at most one byte more than the file may hold; pipes and devices could block or never end."""
    status = os.stat(where)
    if stat.S_ISDIR(status.st_mode):
        raise RecipeError("is a folder", kind.choose)
    if not stat.S_ISREG(status.st_mode):
        raise RecipeError("is not an ordinary file", kind.choose)
    if status.st_size > kind.most_bytes:
        raise too_large(status.st_size, kind)
    with open(where, "rb") as file:
        return file.read(kind.most_bytes + 1)
