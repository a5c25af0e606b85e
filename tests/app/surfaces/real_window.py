"""A shown window on the demo, planned by the engine itself, and the wait for what it works out behind itself."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.session.asking import Asker
from app.session.demo import demo_recipe
from app.session.planning import Planner, solve
from app.session.session import Session
from app.window.frame import MainWindow
from core.recipe.records import Recipe
from tests.app.conftest import Clock, put_away, settle, until


@pytest.fixture
def real(
    dressed: None, clock: Clock, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[MainWindow]:
    """The window; its state and logbook lie in a folder of the test's own."""
    from app.session import book, state

    monkeypatch.setattr(state, "state_file", lambda: tmp_path / "window.json")
    monkeypatch.setattr(book, "own_logbook", lambda: tmp_path / "data" / "logbook.saltwright-log")
    recipe = demo_recipe()
    solve(recipe)  # loads the engine, which may take longer than a window waits for a plan
    window = MainWindow()
    window.furnish(Session(Planner(make=solve, warm=lambda: None), clock))
    window.resize(1366, 768)
    window.room.session.start(recipe)
    window.show()
    window.activateWindow()
    settle(window)
    yield window
    put_away(window)


def answered(*askers: Asker) -> None:
    """Run the event loop until these have nothing left to work out."""
    until(lambda: all(asker.idle() for asker in askers))


def recipe_of(window: MainWindow) -> Recipe:
    """Return the open recipe."""
    assert window.room.session.recipe is not None
    return window.room.session.recipe


def press(qtbot: QtBot, *keys: Qt.Key) -> None:
    """Press keys wherever the keyboard is."""
    for key in keys:
        qtbot.keyClick(QApplication.focusWidget(), key)
