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
_EDIT_ID = 1


class Edit(QUndoCommand):
    """Exchanges one recipe for another; typing in one field within a second merges into one command."""

    def __init__(
        self, take: Callable[[Recipe], None], label: str, path: Path, old: Recipe, new: Recipe, at_s: float
    ) -> None:
        super().__init__(label)
        self.path = path
        self._take = take
        self._old = old
        self._new = new
        self._at_s = at_s

    def id(self) -> int:
        """Return the one id that lets Qt ask whether two edits merge."""
        return _EDIT_ID

    def mergeWith(self, other: QUndoCommand) -> bool:
        """Take over a later edit of the same field if it came within a second of this one."""
        if not isinstance(other, Edit) or other.path != self.path or other._at_s - self._at_s > MERGE_WITHIN_S:
            return False
        self._new = other._new
        self._at_s = other._at_s
        self.setObsolete(self._new == self._old)
        return True

    def redo(self) -> None:
        """Put the later recipe in place."""
        self._take(self._new)

    def undo(self) -> None:
        """Put the earlier recipe back."""
        self._take(self._old)


def check_edit(recipe: Recipe) -> None:
    """Refuse what is no recipe; one that only wants a first salt on its shelf is let through.

    Raises
    ------
    RecipeError : the first thing found besides.
    """
    check(recipe if recipe.shelf else structs.replace(recipe, shelf=(ShelfEntry("potassium-nitrate"),)))
