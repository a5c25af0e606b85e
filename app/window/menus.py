"""The menus: every command with its text, its shortcut and what the status tip says."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import qVersion
from PySide6.QtGui import QAction, QKeySequence, QUndoGroup
from PySide6.QtWidgets import QMenu

from app import __version__
from app.session.state import read_state, recent_files, without_recent, write_state
from app.wording import editors as edit_words
from app.wording import guide, surfaces
from app.wording import logbook_file as of_logbook
from app.wording import window as say

if TYPE_CHECKING:
    from app.surfaces.editors import Editors
    from app.window.frame import MainWindow
    from app.window.help_dialog import HelpDialog
    from app.window.room import Room

Standard = QKeySequence.StandardKey

EDITOR_KEYS = {"aim": "F5", "water": "F6", "shelf": "F7", "tanks": "F8", "why": "F9"}


class Menus:
    """Fills the menus of a window that is furnished."""

    def __init__(self, window: MainWindow, room: Room) -> None:
        self._window = window
        self.shown_help: HelpDialog | None = None
        self._opening = room.opening
        self._printing = room.printing
        self._fill_file(window.titles["file"])
        self._books = room.books
        self._fill_edit(window.titles["edit"], room.undo)
        self._fill_recipe(window.titles["recipe"], room.editors)
        self._fill_logbook(window.titles["logbook"])
        self._fill_view(window.titles["view"])
        self._fill_help(window.titles["help"])

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
        self._fill_printing(menu)
        menu.addSeparator()
        self._action(menu, "quit", self._window.close, Standard.Quit)

    def _fill_printing(self, menu: QMenu) -> None:
        self._action(menu, "print", self._printing.print_all, Standard.Print)
        self._action(menu, "preview", self._printing.open).setShortcut(QKeySequence("Ctrl+Shift+P"))
        text, tip = say.action("export")
        export = menu.addMenu(text)
        export.menuAction().setStatusTip(tip)
        for kind in ("pdf", "html", "csv"):
            self._action(export, f"export_{kind}", partial(self._printing.export, kind))

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

    def _fill_edit(self, menu: QMenu, edits: QUndoGroup) -> None:
        for name, make, keys in (
            ("undo", edits.createUndoAction, Standard.Undo),
            ("redo", edits.createRedoAction, Standard.Redo),
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

    def _fill_logbook(self, menu: QMenu) -> None:
        books = self._books
        commands = {"log_new": books.new, "log_open": books.open, "log_copy": books.save_copy,
                    "log_import": books.read_table, "log_export": books.write_table}  # fmt: skip
        for name, slot in commands.items():
            text, tip = of_logbook.action(name)
            action = menu.addAction(text)
            action.setStatusTip(tip)
            action.triggered.connect(lambda _checked=False, slot=slot: slot())
            if name == "log_copy":
                menu.addSeparator()

    def _fill_view(self, menu: QMenu) -> None:
        for number, surface in enumerate(surfaces.SURFACES, start=1):
            action = QAction(surfaces.surface(surface), self._window)
            action.setStatusTip(surfaces.surface_tip(surface))
            action.setShortcut(QKeySequence(f"Ctrl+{number}"))
            action.triggered.connect(lambda _checked=False, surface=surface: self._window.go_to(surface))
            menu.addAction(action)
        menu.addSeparator()
        self._action(menu, "chemistry", self._window.show_chemistry).setShortcut(QKeySequence("Ctrl+I"))

    def _fill_help(self, menu: QMenu) -> None:
        for name in guide.TOPICS:
            text, tip = guide.topic(name)
            action = QAction(text, self._window)
            action.setStatusTip(tip)
            action.triggered.connect(lambda _checked=False, name=name: self.help(name))
            menu.addAction(action)
            if name == "keys":
                action.setShortcut(QKeySequence("F1"))
        menu.addSeparator()
        self._action(menu, "about", self._about)

    def help(self, topic: str) -> None:
        """Open the help at this topic; it is made when it is first looked at."""
        if self.shown_help is None:
            from app.window.help_dialog import HelpDialog

            actions = [action for menu in self._window.titles.values() for action in menu.actions()]
            self.shown_help = HelpDialog(self._window, actions)
        self.shown_help.show_topic(topic)

    def _about(self) -> None:
        from PySide6.QtWidgets import QMessageBox  # looked at rarely

        QMessageBox.about(self._window, say.PROGRAM, say.about_text(__version__, qVersion()))
