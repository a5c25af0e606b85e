"""A window whose plans are real, and hands that only have a keyboard."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QGuiApplication
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.surfaces.editors import Editors
from app.window.frame import MainWindow
from core.recipe.records import Recipe
from tests.app.conftest import put_away, settle
from tests.app.sample import sample_recipe

CONTROL = Qt.KeyboardModifier.ControlModifier


class Hands:
    """Types into whatever has the focus."""

    def __init__(self, qtbot: QtBot, window: MainWindow) -> None:
        self._qtbot = qtbot
        self.window = window

    @property
    def on(self) -> QWidget:
        """What the keyboard is on."""
        widget = QApplication.focusWidget()
        assert widget is not None
        return widget

    @property
    def name(self) -> str:
        """What a screen reader calls it."""
        if self.on.accessibleName():
            return self.on.accessibleName()
        interface = QAccessible.queryAccessibleInterface(self.on)
        return interface.text(QAccessible.Text.Name) if interface is not None else ""

    def type(self, text: str) -> None:
        self._qtbot.keyClicks(self.on, text)

    def key(self, key: Qt.Key, modifiers: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        self._qtbot.keyClick(self.on, key, modifiers)

    def tab(self, times: int = 1) -> None:
        for _time in range(times):
            self.key(Qt.Key.Key_Tab)

    def enter(self) -> None:
        self.key(Qt.Key.Key_Return)

    def tab_to(self, name: str) -> None:
        """Press Tab until the keyboard is on the field of this name."""
        passed = []
        for _time in range(120):
            if self.name == name:
                return
            passed.append(self.name)
            self.tab()
        raise AssertionError(f"Tab does not lead to {name!r}, but to {passed}")

    def fill(self, name: str, text: str) -> None:
        """Go to a field by Tab and type into it."""
        self.tab_to(name)
        self.type(text)

    @property
    def recipe(self) -> Recipe:
        recipe = self.window.room.session.recipe
        assert recipe is not None
        return recipe

    def settle(self) -> None:
        settle(self.window)


@pytest.fixture
def editors(window: MainWindow) -> Editors:
    return window.room.editors


@pytest.fixture
def hands(qtbot: QtBot, window: MainWindow) -> Hands:
    return Hands(qtbot, window)


@pytest.fixture
def real_window(dressed: None, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[MainWindow]:
    """A shown window that plans with the engine itself."""
    from app.session import state
    from app.session.session import Session

    monkeypatch.setattr(state, "state_file", lambda: tmp_path / "window.json")
    gc.freeze()  # as in the window that is not real
    window = MainWindow()
    window.furnish(Session())
    window.room.session.start(sample_recipe())
    window.resize(1366, 768)
    window.show()
    window.activateWindow()
    QGuiApplication.processEvents()
    settle(window)
    yield window
    put_away(window)
