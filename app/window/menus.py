"""The menus: every command with its text, its shortcut and what the status tip says."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import qVersion
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu

from app import __version__
from app.session.session import Session
from app.session.state import read_state, recent_files, without_recent, write_state
from app.wording import editors as edit_words
from app.wording import surfaces
from app.wording import window as say

if TYPE_CHECKING:
    from app.surfaces.editors import Editors
    from app.window.frame import MainWindow
    from app.window.room import Room

Standard = QKeySequence.StandardKey

EDITOR_KEYS = {"aim": "F5", "water": "F6", "shelf": "F7", "tanks": "F8"}


class Menus:
    """Fills the menus of a window that is furnished."""

    def __init__(self, window: MainWindow, room: Room) -> None:
        self._window = window
        self._opening = room.opening
        self._fill_file(window.titles["file"])
        self._fill_edit(window.titles["edit"], room.session)
        self._fill_recipe(window.titles["recipe"], room.editors)
        self._fill_view(window.titles["view"])
        self._action(window.titles["help"], "about", self._about)

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

    def _fill_file(self, menu: QMenu) -> None:
        self._action(menu, "new", self._opening.new, Standard.New)
        self._action(menu, "open", self._opening.ask, Standard.Open)
        text, tip = say.action("recent")
        self._recent = menu.addMenu(text)
        self._recent.menuAction().setStatusTip(tip)
        self._recent.aboutToShow.connect(self._fill_recent)
        self._action(menu, "demo", self._opening.demo)
        menu.addSeparator()
        self._action(menu, "save", self._opening.filing.save, Standard.Save)
        self._action(menu, "save_as", self._opening.filing.save_as, Standard.SaveAs)
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
            return
        self._recent.addSeparator()
        text, tip = say.action("clear_recent")
        clear = self._recent.addAction(text)
        clear.setStatusTip(tip)
        clear.triggered.connect(lambda _checked=False: write_state(without_recent(read_state())))

    def _fill_edit(self, menu: QMenu, session: Session) -> None:
        for name, make, keys in (
            ("undo", session.edits.createUndoAction, Standard.Undo),
            ("redo", session.edits.createRedoAction, Standard.Redo),
        ):
            text, tip = say.action(name)
            action = make(self._window, text.replace("&", ""))
            action.setStatusTip(tip)
            action.setShortcuts(keys)
            menu.addAction(action)

    def _fill_recipe(self, menu: QMenu, editors: Editors) -> None:
        for name, keys in EDITOR_KEYS.items():
            text, tip = edit_words.menu(name)
            action = QAction(text, self._window)
            action.setStatusTip(tip)
            action.setShortcut(QKeySequence(keys))
            action.triggered.connect(lambda _checked=False, name=name: editors.toggle(name))
            menu.addAction(action)

    def _fill_view(self, menu: QMenu) -> None:
        for number, surface in enumerate(surfaces.SURFACES, start=1):
            action = QAction(surfaces.surface(surface), self._window)
            action.setStatusTip(surfaces.surface_tip(surface))
            action.setShortcut(QKeySequence(f"Ctrl+{number}"))
            action.triggered.connect(lambda _checked=False, surface=surface: self._window.go_to(surface))
            menu.addAction(action)
        menu.addSeparator()
        self._action(menu, "chemistry", self._window.show_chemistry).setShortcut(QKeySequence("Ctrl+I"))

    def _about(self) -> None:
        from PySide6.QtWidgets import QMessageBox  # looked at rarely

        QMessageBox.about(self._window, say.PROGRAM, say.about_text(__version__, qVersion()))
