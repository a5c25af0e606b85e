"""What every editor is: a side sheet that follows the recipe."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from app.session.session import Session
from app.widgets.side_sheet import SideSheet
from core.recipe.records import Recipe


class EditorSheet(SideSheet):
    """Base of the editors."""

    def __init__(self, over: QWidget, session: Session, title: str) -> None:
        super().__init__(over, title)
        self.session = session

    @property
    def recipe(self) -> Recipe:
        """The open recipe; editors are only ever open on one."""
        assert self.session.recipe is not None
        return self.session.recipe

    def show_recipe(self) -> None:
        """Show the recipe as it is now."""
        raise NotImplementedError

    def begin(self) -> None:
        """Put the keyboard on the first field."""
        raise NotImplementedError
