"""Questions that take their time: answered behind the window, only ever the newest, and given up when asked to."""

from __future__ import annotations

from collections.abc import Callable
from threading import Event

from PySide6.QtCore import QObject, Signal, Slot

Behind = Callable[[Callable[[], None]], None]
"""Does a piece of work behind the window."""

Stop = Callable[[], bool]
"""Asked now and then by work that takes its time; True ends it."""

Work = Callable[[Stop], object]


class GivenUp(Exception):
    """Raised by work that was told to stop."""


class Asker(QObject):
    """Asks one question at a time.

    Signals
    -------
    answered : what the newest question came to; answers overtaken or given up are dropped.
    failed : why the newest question has no answer.
    busy_changed : whether an answer is being waited for.
    """

    answered = Signal(object)
    failed = Signal(str)
    busy_changed = Signal(bool)
    _returned = Signal(int, object, str)

    def __init__(self, parent: QObject, behind: Behind) -> None:
        super().__init__(parent)
        self._behind = behind
        self._number = 0
        self._working = False
        self._waiting: Work | None = None
        self._stop = Event()
        self._wanted = False
        self._returned.connect(self._take)

    def ask(self, work: Work) -> None:
        """Have this worked out; it overtakes every earlier question."""
        self._number += 1
        self._stop.set()
        self._waiting = work
        self._want(True)
        if not self._working:
            self._begin()

    def cancel(self) -> None:
        """Want no answer any more."""
        self._number += 1
        self._stop.set()
        self._waiting = None
        self._want(False)

    def busy(self) -> bool:
        """Return whether an answer is being waited for."""
        return self._wanted

    def idle(self) -> bool:
        """Return whether nothing is being worked out, wanted or not."""
        return not self._working

    def _want(self, wanted: bool) -> None:
        if wanted != self._wanted:
            self._wanted = wanted
            self.busy_changed.emit(wanted)

    def _begin(self) -> None:
        work, number, stop = self._waiting, self._number, Event()
        if work is None:
            return
        self._waiting, self._working, self._stop = None, True, stop

        def do() -> None:
            self._returned.emit(number, *_answer(work, stop.is_set))

        self._behind(do)

    @Slot(int, object, str)
    def _take(self, number: int, answer: object, fault: str) -> None:
        self._working = False
        if number == self._number:
            self._want(False)
            if fault:
                self.failed.emit(fault)
            else:
                self.answered.emit(answer)
        if not self._working:
            self._begin()


def _answer(work: Work, stop: Stop) -> tuple[object, str]:
    try:
        return work(stop), ""
    except GivenUp:
        return None, "-"
    except Exception as error:  # noqa: BLE001  # the window outlives any fault and says it
        from app.session.journal import journal  # needed for faults only
        from app.wording.refusals import refusal

        journal().info("no answer", exc_info=error)
        return None, refusal(error) or type(error).__name__
