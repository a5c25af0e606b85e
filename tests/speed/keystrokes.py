"""Types into a window and takes the time from each key to the painted plan: ``python -m tests.speed.keystrokes demo``.

Prints JSON: wall times from key to paint [ms], the work of the window's own thread until then [ms], on which other
programs weigh less, what of it was the plan [ms], and the work put off until after the paint [ms].
"""

from __future__ import annotations

import json
import os
import random
import sys
import threading
import time
from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import QEvent, QObject

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.widgets.quantity_field import QuantityField
    from app.window.frame import MainWindow
    from core.plan.records import Plan
    from core.recipe.records import Recipe

STROKES, PAUSE_S = 400, 0.02
KEYS_A_TURN = 4
FIELDS = ("K", "N", "Ca", "Mg", "P")


class Stroke(NamedTuple):
    """One key: wall time to its paint, the thread's work to it, the plan's part, what came after [s]."""

    wall: float
    work: float
    plan: float
    after: float


class Frames(QObject):
    """Stops the clock when a frame is painted in which the newest plan can be seen.

    A plan that looks like the one before it needs no frame; then the clock stops where nothing is left to be painted.
    """

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self.plan: Plan | None = None
        self.painted: tuple[float, float] | None = None
        window.room.session.planned.connect(self._take)
        window.installEventFilter(self)

    def _take(self, _recipe: Recipe, plan: Plan) -> None:
        self.plan = plan

    def begin(self) -> None:
        """Wait for the next plan's frame."""
        self.plan = self.painted = None

    def wait(self) -> None:
        """Run the event loop until that frame is painted."""
        from PySide6.QtCore import QDeadlineTimer, QEventLoop
        from PySide6.QtWidgets import QApplication

        deadline = QDeadlineTimer(10_000)
        while self.plan is None and not deadline.hasExpired():
            QApplication.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)
        for _ in range(5):
            if self.painted is None:
                QApplication.processEvents()
        if self.painted is None and self.plan is not None:
            self.painted = time.perf_counter(), time.thread_time()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.UpdateRequest and self.plan is not None and self.painted is None:
            watched.event(event)  # which paints and hands over to the screen
            self.painted = time.perf_counter(), time.thread_time()
            return True
        return False


class Watched:
    """Plans, and remembers how much work of the window's thread that was; none where it was made behind it."""

    def __init__(self, solve: Callable[[Recipe], Plan]) -> None:
        self._solve = solve
        self.seconds = 0.0

    def __call__(self, recipe: Recipe) -> Plan:
        began = time.thread_time()
        plan = self._solve(recipe)
        here = threading.current_thread() is threading.main_thread()
        self.seconds = time.thread_time() - began if here else 0.0
        return plan


def opened(which: str) -> tuple[MainWindow, Watched]:
    """Return a shown window on the demo or on forty salts, planned, and what plans for it."""
    from PySide6.QtTest import QTest

    from app.session.demo import demo_plan, demo_recipe
    from app.session.planning import Planner, solve
    from app.session.session import Session
    from app.window.frame import MainWindow
    from tests.speed.test_plan_speed import recipe

    window, watched = MainWindow(), Watched(solve)
    window.furnish(Session(Planner(make=watched)))
    if which == "demo":
        window.room.session.start(demo_recipe(), plan=demo_plan())
    else:
        window.room.session.start(recipe())
    window.go_to("design")  # whatever surface was in view when the program was closed last
    window.resize(1366, 768)
    window.show()
    window.activateWindow()
    QTest.qWaitForWindowExposed(window)
    window.room.session.verify()
    wait(window)
    return window, watched


def wait(window: MainWindow) -> None:
    """Run the event loop until the newest plan is painted, and what was put off until then is done."""
    from PySide6.QtCore import QEventLoop
    from PySide6.QtWidgets import QApplication

    while not window.room.session._planner.idle():
        QApplication.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)
    for _ in range(3):
        QApplication.processEvents()


def typed(window: MainWindow, field: QuantityField, keys: list[str], frames: Frames, watched: Watched) -> list[Stroke]:
    """Type into a field and return what became of each key."""
    from PySide6.QtCore import Qt
    from PySide6.QtTest import QTest

    strokes = []
    field.setFocus(Qt.FocusReason.TabFocusReason)
    wait(window)
    for key in keys:
        frames.begin()
        began, worked = time.perf_counter(), time.thread_time()
        QTest.keyClick(field, Qt.Key[f"Key_{key}"])
        frames.wait()
        wait(window)
        assert frames.painted is not None, "nothing new was painted"
        wall, work = frames.painted
        strokes.append(Stroke(wall - began, work - worked, watched.seconds, time.thread_time() - work))
        time.sleep(PAUSE_S)  # a person does not type faster, and what was put off is done meanwhile
        wait(window)
    return strokes


def keys_of(number: int) -> list[str]:
    """Return the keys that type a number and take its last figure back."""
    return [*str(number), "Backspace"]


def main(which: str) -> None:
    """Type and print."""
    from PySide6.QtGui import QGuiApplication

    from app.window.start import application

    application()
    window, watched = opened(which)
    frames, numbers = Frames(window), random.Random(7)
    strokes: list[Stroke] = []
    for turn in range(-2, STROKES // KEYS_A_TURN):
        field = window.room.design.aim.rows[FIELDS[turn % len(FIELDS)]].field
        times = typed(window, field, keys_of(numbers.randint(100, 299)), frames, watched)
        strokes += times if turn >= 0 else []
    told = {f"{name}_ms": [1000 * getattr(one, name) for one in strokes] for name in Stroke._fields}
    print(json.dumps({"platform": QGuiApplication.platformName(), **told}), flush=True)
    os._exit(0)


if __name__ == "__main__":
    main(sys.argv[1])
