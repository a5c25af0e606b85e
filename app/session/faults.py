"""When the program itself is at fault: the work is kept, a line goes to the local log, a report is made."""

from __future__ import annotations

import faulthandler
import sys
import threading
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, TextIO

from PySide6.QtCore import QMessageLogContext, QObject, QtMsgType, Signal, qInstallMessageHandler, qVersion

from app import __version__
from app.session import state

if TYPE_CHECKING:
    from logging import Logger

_SERIOUS = (QtMsgType.QtWarningMsg, QtMsgType.QtCriticalMsg, QtMsgType.QtFatalMsg)


class Faults(QObject):
    """Stands where Python and Qt tell of faults nobody caught.

    Parameters
    ----------
    keep_work : writes the recovery copy before it returns; called from whichever thread is at fault.

    Signals
    -------
    happened : the report to show, once for each place in the program that fails.
    """

    happened = Signal(str)

    def __init__(self, keep_work: Callable[[], None]) -> None:
        super().__init__()
        self._keep_work = keep_work
        self._told: set[str] = set()
        self._native: TextIO | None = None
        self._before = sys.excepthook, threading.excepthook

    def install(self) -> None:
        """Begin to listen."""
        sys.excepthook = self.python_fault
        threading.excepthook = self._thread_fault
        qInstallMessageHandler(self.qt_message)
        self._native = _native_log()

    def remove(self) -> None:
        """Listen no more."""
        sys.excepthook, threading.excepthook = self._before
        qInstallMessageHandler(None)
        if self._native is not None:
            faulthandler.disable()
            self._native.close()
            self._native = None

    def python_fault(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        """Keep the work, log the fault, and tell of it; stands in for `sys.excepthook`."""
        if not issubclass(kind, Exception):
            self._before[0](kind, error, trace)
            return
        self._guarded(self._keep_work)
        self._guarded(lambda: _journal().error("fault", exc_info=(kind, error, trace)))
        place = _place(kind, trace)
        if place not in self._told:
            self._told.add(place)
            self.happened.emit(report(kind, error, trace))

    def qt_message(self, kind: QtMsgType, _context: QMessageLogContext, message: str) -> None:
        """Log what Qt warns of; what it cannot survive also has the work kept."""
        if kind is QtMsgType.QtFatalMsg:
            self._guarded(self._keep_work)
        if kind in _SERIOUS:
            self._guarded(lambda: _journal().warning("Qt: %s", message))

    def _thread_fault(self, fault: threading.ExceptHookArgs) -> None:
        if fault.exc_value is not None:
            self.python_fault(fault.exc_type, fault.exc_value, fault.exc_traceback)

    def _guarded(self, work: Callable[[], None]) -> None:
        """Do this if it can be done: a fault while a fault is dealt with must not hide the first."""
        try:
            work()
        except Exception as second:  # noqa: BLE001  # whatever it was
            self._before[0](type(second), second, second.__traceback__)


def report(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> str:
    """Return what a person can copy and send: versions and where it failed, without the name of their folders."""
    import platform
    from traceback import format_exception

    told = "".join(format_exception(kind, error, trace)).replace(str(Path.home()), "~")
    system = f"Python {platform.python_version()}, Qt {qVersion()}, {platform.platform()}"
    return f"Saltwright {__version__}\n{system}\n\n{told}"


def _journal() -> Logger:
    from app.session.journal import journal  # needed for faults only

    return journal()


def _place(kind: type[BaseException], trace: TracebackType | None) -> str:
    while trace is not None and trace.tb_next is not None:
        trace = trace.tb_next
    where = "" if trace is None else f"{trace.tb_frame.f_code.co_filename}:{trace.tb_lineno}"
    return f"{kind.__name__} {where}"


def _native_log() -> TextIO | None:
    """Have a fault below Python, which ends the process, write where it happened beside the log."""
    path = state.state_file().parent / "saltwright.native.log"
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        file = path.open("a", encoding="utf-8")
    except OSError:
        return None
    faulthandler.enable(file)
    return file
