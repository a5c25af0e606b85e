"""Starting: the frame first, then the recipe, and the engine only after both are painted."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from app.session import state
from app.session.state import State, write_state
from app.window.frame import MainWindow
from app.window.start import AfterNextPaint, move_in
from core.recipe import dumps
from tests.app.sample import sample_recipe

ALL_BUT_THE_ENGINE = """
import sys
from app.window.start import MainWindow, application, move_in
app = application()
window = MainWindow()
assert "core.recipe" not in sys.modules, "the frame loads the recipe's reader"
move_in(window, None)
assert window.room.session.plan is not None
print(*sorted(name for name in ("numpy", "scipy", "pint", "highspy") if name in sys.modules))
"""


@pytest.fixture
def started(
    dressed: None, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[Callable[[Path | None], MainWindow]]:
    """Starts windows that never reach their first paint, so that no engine is loaded."""
    monkeypatch.setattr(state, "state_file", lambda: tmp_path / "window.json")
    windows: list[MainWindow] = []

    def start(path: Path | None) -> MainWindow:
        windows.append(MainWindow())
        move_in(windows[-1], path)
        return windows[-1]

    yield start
    for window in windows:
        window.close()
        window.deleteLater()


@pytest.fixture
def file(tmp_path: Path) -> Path:
    file = tmp_path / "mine.saltwright"
    file.write_bytes(dumps(sample_recipe()))
    return file


def test_nothing_heavy_before_the_engine_is_asked(repository: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", ALL_BUT_THE_ENGINE],
        cwd=repository,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip() == ""


def test_the_first_start_shows_the_demo_with_its_plan(started: Callable[[Path | None], MainWindow]) -> None:
    room = started(None).room
    assert "invented" in room.headline.accessibleName()
    assert room.session.plan is not None
    assert room.design.aim.rows["K"].bar.accessibleDescription()


def test_the_first_start_says_that_it_is_an_example_and_leads_to_ones_own(
    started: Callable[[Path | None], MainWindow],
) -> None:
    room = started(None).room
    assert "example" in room.notice.text()
    room.notice.buttons[0].click()
    assert room.session.recipe is not None
    assert room.session.recipe.shelf == ()
    assert room.notice.text() == ""


def test_a_file_on_the_command_line(started: Callable[[Path | None], MainWindow], file: Path) -> None:
    room = started(file).room
    assert room.session.path == file
    assert room.notice.text() == ""


def test_a_bad_file_is_said_over_the_demo(started: Callable[[Path | None], MainWindow], tmp_path: Path) -> None:
    room = started(tmp_path / "nowhere.saltwright").room
    assert "nowhere.saltwright" in room.notice.text()
    assert room.session.plan is not None


def test_a_later_start_opens_what_was_used_last(
    started: Callable[[Path | None], MainWindow], file: Path, tmp_path: Path
) -> None:
    write_state(State((str(tmp_path / "gone.saltwright"), str(file)), "tanks"))
    window = started(None)
    assert window.room.session.path == file
    assert window.room.surface() == "tanks"


def test_after_the_next_paint_and_only_once(started: Callable[[Path | None], MainWindow], qtbot: QtBot) -> None:
    window, calls = MainWindow(), []
    AfterNextPaint(window, lambda: calls.append(1))
    assert calls == []
    window.show()
    qtbot.waitUntil(lambda: bool(calls))
    window.repaint()
    qtbot.waitUntil(lambda: len(calls) == 1)
    window.close()
    window.deleteLater()
