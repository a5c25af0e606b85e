"""Starts the window: its frame is painted first, then the recipe; the numerical libraries load behind both."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication, QWidget

from app.session.state import read_state, recent_files
from app.widgets import theme
from app.window.frame import MainWindow
from app.wording import window as say


class AfterNextPaint(QObject):
    """Calls once, as soon as a window has been painted."""

    def __init__(self, window: QWidget, then: Callable[[], None]) -> None:
        super().__init__(window)
        self._window = window
        self._then = then
        window.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Paint:
            self._window.removeEventFilter(self)
            QTimer.singleShot(0, self._then)
        return super().eventFilter(watched, event)


def application() -> QApplication:
    """Return the application, made and dressed on the first call."""
    existing = QApplication.instance()
    if isinstance(existing, QApplication):
        return existing
    app = QApplication(sys.argv[:1])
    app.setApplicationName(say.PROGRAM.lower())
    app.setApplicationDisplayName(say.PROGRAM)
    app.setDesktopFileName(say.PROGRAM.lower())
    theme.apply(app)
    return app


def move_in(window: MainWindow, path: Path | None) -> None:
    """Furnish a window that is painted already, with this recipe, the one used last, or the demo.

    The demo's plan is shipped and stands there at once; the engine is loaded behind the window.
    """
    from app.session.planning import Planner
    from app.session.session import Session

    planner = Planner(held=True)
    window.furnish(Session(planner))
    opening = window.room.opening
    wanted = path or next(iter(recent_files(read_state())), None)
    if wanted is None or not opening.open(wanted):
        opening.demo(keep_notice=True)
    AfterNextPaint(window, planner.release)


def run(path: Path | None) -> int:
    """Open the window, on this recipe if one is given, and return the program's exit code when it is closed."""
    app = application()
    window = MainWindow()
    AfterNextPaint(window, lambda: move_in(window, path))
    window.show()
    return app.exec()
