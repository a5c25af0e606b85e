"""A window to type into, and the check that nothing of it is left behind."""

from __future__ import annotations

import gc
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from app.window.frame import MainWindow


OFFSCREEN_REMARK = "This plugin does not support propagateSizeHints"
"""What Qt's offscreen plug-in says of every window with a least size; no fault of ours."""


def pytest_itemcollected(item: pytest.Item) -> None:
    """Let no test fail for the one remark of the offscreen plug-in."""
    item.add_marker(pytest.mark.qt_log_ignore(OFFSCREEN_REMARK, extend=True))


class Clock:
    """A clock that a test moves."""

    def __init__(self) -> None:
        self.now_s = 100.0

    def __call__(self) -> float:
        return self.now_s


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def dressed(qapp: object) -> Iterator[None]:
    """The application in the window's own style and typeface, light."""
    from app.widgets import theme

    if not getattr(dressed, "done", False):
        theme.apply(qapp)  # type: ignore[arg-type]
        dressed.done = True  # type: ignore[attr-defined]
    yield
    theme.recolour()


@pytest.fixture
def window(
    dressed: None, clock: Clock, qtbot: object, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[MainWindow]:
    """A shown window on the sample recipe, planned by a function that follows every edit."""
    from app.session import book, state
    from app.session.planning import Planner
    from app.session.session import Session
    from app.window.frame import MainWindow
    from tests.app.sample import follow, sample_recipe

    monkeypatch.setattr(state, "state_file", lambda: tmp_path / "window.json")
    monkeypatch.setattr(book, "own_logbook", lambda: tmp_path / "data" / "logbook.saltwright-log")
    gc.freeze()  # what was there before is not this test's to leave behind, and not to be looked through
    window = MainWindow()
    window.furnish(Session(Planner(make=follow, warm=lambda: None), clock))
    window.room.session.start(sample_recipe())
    window.show()
    window.activateWindow()
    settle(window)
    yield window
    put_away(window)


@pytest.fixture
def settled() -> Callable[[MainWindow], None]:
    """Waits until everything asked for so far is planned and shown."""
    return settle


def settle(window: MainWindow) -> None:
    """Run the event loop until the newest plan is the recipe's."""
    until(window.room.session._planner.idle)


def until(is_so: Callable[[], bool]) -> None:
    """Run the event loop until this is so, and what it brought is shown."""
    from PySide6.QtCore import QCoreApplication, QDeadlineTimer

    deadline = QDeadlineTimer(20_000)
    while not is_so() and not deadline.hasExpired():
        QCoreApplication.processEvents()
    QCoreApplication.processEvents()
    assert is_so()


def put_away(window: MainWindow) -> None:
    """Close a window for good, and see that nothing of it is left behind."""
    from PySide6.QtCore import QCoreApplication, QEvent, QTimer
    from shiboken6 import isValid

    window.room.session.edits.setClean()  # or closing asks whether to save
    window.close()
    window.deleteLater()
    del window
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    gc.collect()
    timers = [thing for thing in gc.get_objects() if issubclass(type(thing), QTimer) and isValid(thing)]
    assert [timer for timer in timers if timer.isActive()] == []
    assert [thread for thread in threading.enumerate() if thread.name in ("planner", "recovery")] == []
