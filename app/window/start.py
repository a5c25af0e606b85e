"""Starts the window: it is painted first, the numerical libraries load behind it."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication, QWidget

from app.session.planning import Planner
from app.session.session import Session
from app.session.state import read_state, recent_files
from app.widgets import theme
from app.window.frame import MainWindow
from app.wording import window as say


class AfterFirstPaint(QObject):
    """Calls once, as soon as a window has been painted for the first time."""

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


def build(path: Path | None) -> MainWindow:
    """Return a window with this recipe, the one used last, or the demo; not yet shown.

    Planning begins after the window's first paint; the demo's plan is shipped and stands there at once.
    """
    planner = Planner(held=True)
    window = MainWindow(Session(planner))
    recent = recent_files(read_state())
    wanted = path or next(iter(recent), None)
    if wanted is None or not window.opening.open(wanted):
        window.opening.demo(keep_notice=True)
    AfterFirstPaint(window, planner.release)
    return window


def run(path: Path | None) -> int:
    """Open the window, on this recipe if one is given, and return the program's exit code when it is closed."""
    app = application()
    window = build(path)
    window.show()
    return app.exec()
