"""One undoable edit: a recipe before, a recipe after, and which field was touched."""

from __future__ import annotations

from collections.abc import Callable

from msgspec import structs
from PySide6.QtGui import QUndoCommand

from core.recipe import check
from core.recipe.records import Recipe, ShelfEntry

Path = tuple[str, ...]
"""Which field an edit touched, such as ("aim", "K"); edits of one field in quick succession are one edit."""

MERGE_WITHIN_S = 1.0


class Edit(QUndoCommand):
    """Exchanges one recipe for another; typing in one field within a second goes on with the same command.

    The stack could merge two commands itself, but the binding never lets go of the one it takes in.
    """

    def __init__(
        self, take: Callable[[Recipe], None], label: str, path: Path, old: Recipe, new: Recipe, at_s: float
    ) -> None:
        super().__init__(label)
        self.path = path
        self._take = take
        self._old = old
        self._new = new
        self._at_s = at_s

    def goes_on(self, path: Path, at_s: float) -> bool:
        """Return whether an edit of this field at this time is the same typing."""
        return path == self.path and at_s - self._at_s <= MERGE_WITHIN_S

    def go_on(self, new: Recipe, at_s: float) -> None:
        """Take a later recipe in place of the later one; typed back to the earlier one, the edit is none."""
        self._new = new
        self._at_s = at_s
        self.setObsolete(new == self._old)
        self._take(new)

    def redo(self) -> None:
        """Put the later recipe in place."""
        self._take(self._new)

    def undo(self) -> None:
        """Put the earlier recipe back."""
        self._take(self._old)


def check_edit(recipe: Recipe, since: Recipe) -> None:
    """Refuse what is no recipe; one that only wants a first salt on its shelf is let through.

    Parameters
    ----------
    since : the recipe before the edit, which was checked when it came about.

    Raises
    ------
    RecipeError : the first thing found besides.
    """
    check(recipe if recipe.shelf else structs.replace(recipe, shelf=(ShelfEntry("potassium-nitrate"),)), since)
