"""One thread behind the window for work that would hold it up."""

from __future__ import annotations

import threading
from collections.abc import Callable
from queue import SimpleQueue

Work = Callable[[], None]


class Worker:
    """Does one piece of work after the other in a thread of its own, which begins with the first.

    The thread is Python's, not Qt's pool: solvers bound with pybind11 remember the interpreter state of a thread, and
    a pool's thread gets another one for every job, at which they end the process.
    """

    def __init__(self, name: str) -> None:
        self._name = name
        self._work: SimpleQueue[Work | None] = SimpleQueue()
        self._thread: threading.Thread | None = None
        self._closed = False

    def do(self, work: Work) -> None:
        """Do this after what was asked for before; work answers by a Qt signal and raises nothing.

        Once closed nothing is begun any more: an answer on its way while a window closes may ask the next question.
        """
        if self._closed:
            return
        if self._thread is None:
            self._thread = threading.Thread(target=self._run, name=self._name, daemon=True)
            self._thread.start()
        self._work.put(work)

    def close(self) -> None:
        """Wait for the work asked for and end the thread; no other is begun."""
        self._closed = True
        if self._thread is not None:
            self._work.put(None)
            self._thread.join()
            self._thread = None

    def _run(self) -> None:
        for work in iter(self._work.get, None):
            work()
