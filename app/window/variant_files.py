"""Variants of a comparison and files: one is added, saved, or opened as the recipe."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from app.session.saving import SaveError, save_recipe
from app.session.session import Session
from app.session.side_by_side import Held
from app.widgets.notice import Notice
from app.window.opening import Opening
from app.wording import comparing as say
from app.wording import comparing_cards as cards
from app.wording import files
from app.wording import window as say_window
from core.recipe.records import Recipe

if TYPE_CHECKING:
    from app.surfaces.compare import CompareSurface

TOPIC = "variant"


class VariantFiles:
    """Does for the Compare surface what needs a dialog, or leaves the recipe in the window."""

    def __init__(self, window: QWidget, session: Session, notice: Notice, opening: Opening) -> None:
        self._window = window
        self._session = session
        self._notice = notice
        self._opening = opening

    def serve(self, surface: CompareSurface) -> None:
        """Listen to the surface."""
        surface.file_wanted.connect(lambda: self._add(surface))
        surface.open_wanted.connect(self.open)
        surface.save_wanted.connect(self.save_as)

    def open(self, held: Held, recipe: Recipe) -> None:
        """Have a variant as the recipe: by an edit that can be undone, or as a file or recipe of its own.

        What was the recipe is kept in the variant's place where it would be lost from view.
        """
        comparing, before, path = self._session.comparing, self._session.recipe, self._session.path
        if held.kind == "goal" or (held.kind == "kept" and held.path is None):
            name = held.name or say.title_of(recipe.title)
            self._session.push(cards.use_edit(name), ("compare", str(held.number)), recipe)
            return
        if held.path is not None:
            opened = self._opening.open(held.path)
        else:
            opened = self._opening.filing.may_leave()
            if opened:
                self._session.start_unsaved(recipe)
        if opened and before is not None:
            comparing.exchange(held.number, say.title_of(before.title), before, path)

    def save_as(self, held: Held, recipe: Recipe) -> None:
        """Ask for a file and write a variant to it."""
        from app.window import file_dialogs  # only when something is asked

        proposed = self._opening.filing.folder() / files.file_name(recipe.title)
        chosen = file_dialogs.ask_where_to_save(self._window, proposed)
        if chosen is not None:
            self.save(held, recipe, chosen)

    def save(self, held: Held, recipe: Recipe, path: Path) -> bool:
        """Write a variant to a file, say what became of it, and return whether it is there."""
        try:
            save_recipe(path, recipe)
        except SaveError as error:
            self._notice.say(files.not_saved(error.path.name, error.why.value, error.detail), topic=TOPIC)
            return False
        self._notice.clear(TOPIC)
        self._session.comparing.saved(held.number, path)
        return True

    def _add(self, surface: CompareSurface) -> None:
        from PySide6.QtWidgets import QFileDialog

        folder = str(self._opening.filing.folder())
        names, _filter = QFileDialog.getOpenFileNames(
            self._window, cards.add_dialog(), folder, say_window.file_filter()
        )
        surface.add_files([Path(name) for name in names])
