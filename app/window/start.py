"""Starts the window: its frame is painted first, then the recipe; the numerical libraries load behind both."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtGui import QFileOpenEvent
from PySide6.QtWidgets import QApplication, QWidget

from app.session.state import read_state, recent_files
from app.widgets import theme
from app.window.frame import MainWindow
from app.wording import window as say

if TYPE_CHECKING:
    from app.session.faults import Faults
    from app.session.recovery import Recovery


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


class FilesFromOutside(QObject):
    """Opens what the system asks a running program to open, as one does after a double click on a file."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(event, QFileOpenEvent):
            self._window.room.opening.open(Path(event.file()))
            return True
        return super().eventFilter(watched, event)


def move_in(window: MainWindow, path: Path | None, recovery: Recovery | None = None) -> None:
    """Furnish a window that is painted already, with this recipe, the one used last, or the demo.

    The demo's plan is shipped and stands there at once; the engine is loaded behind the window.
    """
    from app.session.planning import Planner
    from app.session.recovery import Recovery
    from app.session.session import Session
    from app.session.slot import leftovers, recovery_folder

    planner = Planner(held=True)
    window.furnish(Session(planner, recovery=recovery or Recovery()))
    opening = window.room.opening
    wanted = path or used_last()
    if wanted is None or not opening.open(wanted):
        opening.demo(keep_notice=True)
    if wanted is None:
        opening.welcome()
    opening.filing.offer_leftovers(leftovers(recovery_folder()))
    AfterNextPaint(window, planner.release)


def used_last() -> Path | None:
    """Return the file used last that no other window has open, if there is one."""
    from app.session.files import open_elsewhere

    return next((path for path in recent_files(read_state()) if not open_elsewhere(path)), None)


def listen_for_faults(window: MainWindow, recovery: Recovery) -> Faults:
    """Have every fault nobody caught kept from costing work, and told of in the window."""
    from app.session.faults import Faults
    from app.window.fault_teller import FaultTeller

    faults = Faults(recovery.flush)
    faults.setParent(window)
    faults.happened.connect(FaultTeller(window).tell, Qt.ConnectionType.QueuedConnection)
    faults.install()
    return faults


def begin(window: MainWindow, path: Path | None) -> None:
    """Furnish the window, and listen to whatever happens to it from then on."""
    from app.session.recovery import Recovery

    recovery = Recovery()
    faults = listen_for_faults(window, recovery)
    application().aboutToQuit.connect(faults.remove)
    move_in(window, path, recovery)
    application().installEventFilter(FilesFromOutside(window))


def run(path: Path | None) -> int:
    """Open the window, on this recipe if one is given, and return the program's exit code when it is closed."""
    app = application()
    window = MainWindow()
    AfterNextPaint(window, lambda: begin(window, path))
    window.show()
    return app.exec()
