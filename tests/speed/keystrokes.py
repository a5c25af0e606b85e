"""Types into a window and takes the time from each key to the painted plan: ``python -m tests.speed.keystrokes demo``.

Prints JSON: wall times [ms], and the work of the window's own thread [ms], on which other programs weigh less.
"""

from __future__ import annotations

import json
import os
import sys
import time
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from app.widgets.quantity_field import QuantityField
    from app.window.frame import MainWindow

KEYS = ("1", "7", "2", "Backspace")
STROKES, PAUSE_S = 200, 0.02


def opened(which: str) -> MainWindow:
    """Return a shown window on the demo or on forty salts, planned."""
    from app.session.demo import demo_plan, demo_recipe
    from app.session.planning import Planner
    from app.session.session import Session
    from app.window.frame import MainWindow
    from tests.speed.test_plan_speed import recipe

    window = MainWindow()
    window.furnish(Session(Planner()))
    if which == "demo":
        window.room.session.start(demo_recipe(), plan=demo_plan())
    else:
        window.room.session.start(recipe())
    window.resize(1366, 768)
    window.show()
    window.activateWindow()
    window.room.session.verify()
    wait(window)
    return window


def wait(window: MainWindow) -> None:
    """Run the event loop until the newest plan is painted."""
    from PySide6.QtCore import QEventLoop
    from PySide6.QtWidgets import QApplication

    while not window.room.session._planner.idle():
        QApplication.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)
    QApplication.processEvents()


def typed(window: MainWindow, field: QuantityField, keys: tuple[str, ...]) -> tuple[list[float], list[float]]:
    """Type into a field and return the wall and the thread times of each key [ms]."""
    from PySide6.QtCore import Qt
    from PySide6.QtTest import QTest

    wall, work = [], []
    field.setFocus(Qt.FocusReason.TabFocusReason)
    wait(window)
    for key in keys:
        began, worked = time.perf_counter(), time.thread_time()
        QTest.keyClick(field, Qt.Key[f"Key_{key}"])
        wait(window)
        wall.append(1000 * (time.perf_counter() - began))
        work.append(1000 * (time.thread_time() - worked))
        time.sleep(PAUSE_S)  # a person does not type faster, and what was put off is done meanwhile
        wait(window)
    return wall, work


def main(which: str) -> None:
    """Type and print."""
    from PySide6.QtGui import QGuiApplication

    from app.window.start import application

    application()
    window = opened(which)
    wall: list[float] = []
    work: list[float] = []
    for turn in range(-2, STROKES // len(KEYS)):
        field = window.room.design.aim.rows[("K", "N", "Ca", "Mg", "P")[turn % 5]].field
        times = typed(window, field, KEYS)
        if turn >= 0:
            wall += times[0]
            work += times[1]
    print(json.dumps({"platform": QGuiApplication.platformName(), "wall_ms": wall, "work_ms": work}), flush=True)
    os._exit(0)


if __name__ == "__main__":
    main(sys.argv[1])
