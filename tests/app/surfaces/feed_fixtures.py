"""A window on a recipe with its reservoir in view, and the keys that work it."""

from __future__ import annotations

from pathlib import Path

from msgspec import structs
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.session.planning import Planner, solve
from app.session.session import Session
from app.surfaces.feed import FeedSurface
from app.widgets.form_field import FormField
from app.window.frame import MainWindow
from core.recipe import load
from core.recipe.records import Recipe
from tests.app.conftest import Clock, settle, until

NOW = "2026-03-04T09:05"


def jugs() -> Recipe:
    """Two jugs of a US grower, read backwards."""
    return load(Path("tests/outside/stories/us_two_jugs.saltwright"))


def lettuce_jugs() -> Recipe:
    """The jugs for a crop whose profile names an EC and a pH."""
    recipe = jugs()
    return structs.replace(recipe, aim=structs.replace(recipe.aim, crop="lettuce-samarakoon-2020"))


def window_on(recipe: Recipe, clock: Clock) -> MainWindow:
    """Return a shown window with the reservoir in view and its tanks worked out."""
    window = MainWindow()
    window.furnish(Session(Planner(make=solve, warm=lambda: None), clock))
    window.resize(1366, 768)
    window.room.session.start(recipe)
    window.show()
    window.activateWindow()
    settle(window)
    window.go_to("feed")
    wait(surface_of(window))
    return window


def surface_of(window: MainWindow) -> FeedSurface:
    """Return the surface."""
    surface = window.room.surfaces["feed"]
    assert isinstance(surface, FeedSurface)
    return surface


def wait(feed: FeedSurface) -> None:
    """Run the event loop until the tanks are worked out and shown."""
    until(feed.dosing.asker.idle)


def enter(qtbot: QtBot, field: FormField, text: str) -> None:
    """Type into a field that has the keyboard, or is given it, and press Enter."""
    if not field.hasFocus():
        field.setFocus(Qt.FocusReason.TabFocusReason)
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    QApplication.processEvents()


def press(qtbot: QtBot) -> None:
    """Press Enter on whatever has the keyboard."""
    focused = QApplication.focusWidget()
    assert focused is not None
    qtbot.keyClick(focused, Qt.Key.Key_Return)
    QApplication.processEvents()


def tab_to(qtbot: QtBot, wanted: QWidget, steps: int = 60) -> None:
    """Walk with Tab until a widget has the keyboard."""
    for _ in range(steps):
        if wanted.hasFocus():
            return
        focused = QApplication.focusWidget()
        assert focused is not None
        qtbot.keyClick(focused, Qt.Key.Key_Tab)
    raise AssertionError(f"Tab does not lead to {wanted.accessibleName()}")
