"""The menus: every command with its text, its shortcut and what the status tip says."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import qVersion
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMainWindow, QMenu, QMessageBox

from app import __version__
from app.session.session import Session
from app.session.state import read_state, recent_files
from app.window.opening import Opening
from app.wording import surfaces
from app.wording import window as say

Standard = QKeySequence.StandardKey


class Menus:
    """Builds the menu bar of a window and keeps its actions."""

    def __init__(self, window: QMainWindow, session: Session, opening: Opening, go_to: Callable[[str], None]) -> None:
        self._window = window
        self._opening = opening
        self._fill_file()
        self._fill_edit(session)
        self._fill_view(go_to)
        self._fill_help()

    def _menu(self, name: str) -> QMenu:
        return self._window.menuBar().addMenu(say.menu(name))

    def _action(
        self, menu: QMenu, name: str, slot: Callable[[], object], keys: QKeySequence.StandardKey | None = None
    ) -> QAction:
        text, tip = say.action(name)
        action = QAction(text, self._window)
        action.setStatusTip(tip)
        if keys is not None:
            action.setShortcuts(keys)
        action.triggered.connect(lambda _checked=False: slot())
        menu.addAction(action)
        return action

    def _fill_file(self) -> None:
        menu = self._menu("file")
        self._action(menu, "open", self._opening.ask, Standard.Open)
        text, tip = say.action("recent")
        self._recent = menu.addMenu(text)
        self._recent.menuAction().setStatusTip(tip)
        self._recent.aboutToShow.connect(self._fill_recent)
        self._action(menu, "demo", self._opening.demo)
        menu.addSeparator()
        self._action(menu, "quit", self._window.close, Standard.Quit)

    def _fill_recent(self) -> None:
        self._recent.clear()
        files = recent_files(read_state())
        for path in files:
            action = self._recent.addAction(path.name)
            action.setStatusTip(str(path))
            action.triggered.connect(lambda _checked=False, path=path: self._opening.open(path))
        if not files:
            self._recent.addAction(say.no_recent()).setEnabled(False)

    def _fill_edit(self, session: Session) -> None:
        menu = self._menu("edit")
        for name, make, keys in (
            ("undo", session.edits.createUndoAction, Standard.Undo),
            ("redo", session.edits.createRedoAction, Standard.Redo),
        ):
            text, tip = say.action(name)
            action = make(self._window, text.replace("&", ""))
            action.setStatusTip(tip)
            action.setShortcuts(keys)
            menu.addAction(action)

    def _fill_view(self, go_to: Callable[[str], None]) -> None:
        menu = self._menu("view")
        for number, surface in enumerate(surfaces.SURFACES, start=1):
            action = QAction(surfaces.surface(surface), self._window)
            action.setStatusTip(surfaces.surface_tip(surface))
            action.setShortcut(QKeySequence(f"Ctrl+{number}"))
            action.triggered.connect(lambda _checked=False, surface=surface: go_to(surface))
            menu.addAction(action)

    def _fill_help(self) -> None:
        self._action(self._menu("help"), "about", self._about)

    def _about(self) -> None:
        QMessageBox.about(self._window, say.PROGRAM, say.about_text(__version__, qVersion()))
