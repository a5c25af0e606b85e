"""The logbook's surface in a window, with an invented diary or none, on a fixed clock."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from app.session import clock as clock_module
from app.surfaces.logbook import LogbookSurface
from app.window.frame import MainWindow
from tests.app.conftest import until
from tests.app.diary import sample_logbook

NOW = "2026-03-14T09:05"
Answered = Callable[[LogbookSurface], None]


@pytest.fixture(autouse=True)
def fixed_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(clock_module, "now_text", lambda: NOW)
    monkeypatch.setattr(clock_module, "today_text", lambda: NOW[:10])


def wait(surface: LogbookSurface) -> None:
    """Run the event loop until everything asked for is shown."""
    until(surface.idle)


@pytest.fixture
def answered() -> Answered:
    return wait


@pytest.fixture
def bare(window: MainWindow) -> LogbookSurface:
    """The surface with an empty logbook."""
    window.go_to("logbook")
    surface = window.room.surfaces["logbook"]
    assert isinstance(surface, LogbookSurface)
    wait(surface)
    return surface


@pytest.fixture
def surface(window: MainWindow) -> LogbookSurface:
    """The surface with a fortnight in it."""
    session = window.room.session
    assert session.recipe is not None
    session.book.push("begin", sample_logbook(session.recipe))
    window.go_to("logbook")
    surface = window.room.surfaces["logbook"]
    assert isinstance(surface, LogbookSurface)
    wait(surface)
    return surface
