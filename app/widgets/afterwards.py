"""Puts off what nobody sees until the frame is painted: tool tips, and what a screen reader is told."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QCoreApplication, QEvent, QObject
from PySide6.QtWidgets import QWidget
from shiboken6 import isValid

AFTER_THE_FRAME = -2
"""Qt posts what paints a frame at -1; what is posted lower comes right after it."""

_WORK = QEvent.Type(QEvent.registerEventType())


class _Afterwards(QObject):
    def __init__(self) -> None:
        super().__init__()
        self._waiting: dict[QWidget, Callable[[], None]] = {}

    def do(self, owner: QWidget, work: Callable[[], None]) -> None:
        if not self._waiting:
            QCoreApplication.postEvent(self, QEvent(_WORK), AFTER_THE_FRAME)
        self._waiting[owner] = work

    def customEvent(self, _event: QEvent) -> None:
        waiting, self._waiting = self._waiting, {}
        for owner, work in waiting.items():
            if isValid(owner):
                work()


_afterwards = _Afterwards()


def afterwards(owner: QWidget, work: Callable[[], None]) -> None:
    """Do this once the next frame is painted, in the order asked for; newer work of the same owner replaces older.

    A widget that is not in view yet has no frame to wait for: its work is done at once.
    """
    if owner.isVisible():
        _afterwards.do(owner, work)
    else:
        work()
