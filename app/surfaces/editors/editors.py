"""Opens one editor at a time over the surface in view, and brings the keyboard back where it was."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QRect, Qt, Signal
from PySide6.QtWidgets import QApplication, QWidget
from shiboken6 import isValid

from app.session.session import Session
from app.widgets import theme

if TYPE_CHECKING:
    from app.surfaces.recipe_sheet import EditorSheet

WIDTH, LEAST_LEFT = 600, 320


class Editors(QObject):
    """The sheets, each made when it is first asked for.

    Signals
    -------
    changed : the name of the sheet now open, "" for none.
    """

    changed = Signal(str)

    def __init__(self, over: QWidget, session: Session) -> None:
        super().__init__(over)
        self._over = over
        self._session = session
        self._place = QRect()
        self._came_from: QWidget | None = None
        self.sheets: dict[str, EditorSheet] = {}
        self.name = ""
        session.edited.connect(self._follow)
        session.opened.connect(self._follow)
        session.planned.connect(lambda _recipe, _plan: self._follow())

    def toggle(self, name: str) -> None:
        """Open this editor, or close it where it is open."""
        if name == self.name:
            self.close()
        else:
            self.open(name)

    def open(self, name: str) -> None:
        """Open this editor in place of any other; the keyboard goes to its first field."""
        if self._session.recipe is None:
            return
        if not self.name:
            self._came_from = QApplication.focusWidget()
        else:
            self.sheets[self.name].hide()
        self.name = name
        if name not in self.sheets:
            self.sheets[name] = _build(name, self._over, self._session)
            self.sheets[name].closed.connect(self.close)
        sheet = self.sheets[name]
        sheet.setGeometry(self._sheet_place())
        sheet.show_recipe()
        sheet.show()
        sheet.raise_()
        sheet.begin()
        self.changed.emit(name)

    def close(self) -> None:
        """Close the editor that is open; what was typed last is sent first."""
        if not self.name:
            return
        sheet, self.name = self.sheets[self.name], ""
        back = self._came_from if self._came_from is not None and isValid(self._came_from) else None
        (back if back is not None and back.isVisible() else self._over).setFocus(Qt.FocusReason.OtherFocusReason)
        sheet.hide()
        self.changed.emit("")

    def place(self, within: QRect) -> None:
        """Lie over the right part of this place."""
        self._place = within
        if self.name:
            self.sheets[self.name].setGeometry(self._sheet_place())

    def _sheet_place(self) -> QRect:
        room = self._place
        width = min(room.width(), max(theme.px(WIDTH), 0), max(room.width() - theme.px(LEAST_LEFT), theme.px(480)))
        return QRect(room.right() + 1 - width, room.top(), width, room.height())

    def _follow(self) -> None:
        if self.name and self._session.recipe is not None:
            self.sheets[self.name].show_recipe()


def _build(name: str, over: QWidget, session: Session) -> EditorSheet:
    if name == "water":
        from app.surfaces.editors.water_editor import WaterEditor

        return WaterEditor(over, session)
    if name == "shelf":
        from app.surfaces.editors.shelf_editor import ShelfEditor

        return ShelfEditor(over, session)
    if name == "aim":
        from app.surfaces.editors.aim_editor import AimEditor

        return AimEditor(over, session)
    if name == "why":
        from app.surfaces.why import WhySheet

        return WhySheet(over, session)
    if name == "adapt":
        from app.surfaces.compare.adapt_sheet import AdaptSheet

        return AdaptSheet(over, session)
    from app.surfaces.editors.tanks_editor import TanksEditor

    return TanksEditor(over, session)
