"""A window at the tanks and one at the bench, planned by the engine."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.session import clock as our_clock
from app.session.demo import demo_recipe
from app.session.planning import Planner, solve
from app.session.session import Session
from app.surfaces.tanks import TanksSurface
from app.window.frame import MainWindow
from core.plan.records import Plan
from tests.app.conftest import Clock, put_away, settle
from tests.app.surfaces.weighout_bench import DATE, AtTheBench


@pytest.fixture(scope="module")
def bench_plan() -> Plan:
    """The demo's plan; by the time it is there the engine is loaded."""
    return solve(demo_recipe())


@pytest.fixture
def bench(
    bench_plan: Plan, dressed: None, clock: Clock, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[AtTheBench]:
    from app.session import book, state

    monkeypatch.setattr(state, "state_file", lambda: tmp_path / "window.json")
    monkeypatch.setattr(book, "own_logbook", lambda: tmp_path / "logbook.saltwright-log")
    monkeypatch.setattr(our_clock, "now_text", lambda: f"{DATE}T09:05")
    window = MainWindow()
    window.furnish(Session(Planner(make=solve, warm=lambda: None), clock))
    window.resize(1366, 768)
    window.room.session.start(demo_recipe(), plan=bench_plan)
    window.show()
    window.activateWindow()
    settle(window)
    window.go_to("weighout")
    at = AtTheBench(window)
    at.wait()
    yield at
    put_away(window)


@pytest.fixture
def real(
    dressed: None, clock: Clock, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[MainWindow]:
    """A shown window on the demo, planned by the engine itself."""
    from app.session import state

    monkeypatch.setattr(state, "state_file", lambda: tmp_path / "window.json")
    window = MainWindow()
    window.furnish(Session(Planner(make=solve, warm=lambda: None), clock))
    window.resize(1366, 768)
    window.room.session.start(demo_recipe())
    window.show()
    window.activateWindow()
    settle(window)
    window.go_to("tanks")
    QApplication.processEvents()
    yield window
    put_away(window)


@pytest.fixture
def tanks(real: MainWindow) -> TanksSurface:
    surface = real.room.surfaces["tanks"]
    assert isinstance(surface, TanksSurface)
    return surface
