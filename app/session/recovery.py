"""Keeps a copy of unsaved work, written behind the window soon after the first unsaved edit."""

from __future__ import annotations

import threading
from pathlib import Path
from time import monotonic
from typing import NamedTuple

from PySide6.QtCore import QObject, Signal

from app.session.slot import Slot, recovery_folder
from app.wording.refusals import refusal
from core.recipe import RecipeError, dumps
from core.recipe.records import Recipe

DELAY_S = 1.0
"""From the first edit that no copy holds to the writing of one; two seconds may be lost, half is for slow disks."""

RETRY_S = 10.0
"""After a copy could not be written, unless an edit asks for one sooner."""


class _Work(NamedTuple):
    recipe: Recipe
    origin: Path | None


class Recovery(QObject):
    """Writes the newest unsaved recipe from a thread of its own, at most once per delay.

    Later edits do not put the writing off. The thread waits by itself, so that a window that hangs loses nothing more.

    Signals
    -------
    failed : why no copy could be written, once until one could.
    """

    failed = Signal(str)

    def __init__(self, folder: Path | None = None, delay_s: float = DELAY_S) -> None:
        super().__init__()
        self._folder = folder or recovery_folder()
        self._delay_s = delay_s
        self._slot: Slot | None = None
        self._state = threading.Condition()
        self._writing = threading.Lock()
        self._work: _Work | None = None
        self._due_s: float | None = None
        self._number = 0
        self._closed = False
        self._has_failed = False
        self._thread: threading.Thread | None = None

    def keep(self, recipe: Recipe, origin: Path | None) -> None:
        """Have this recipe, of the file `origin`, in the copy before long."""
        with self._state:
            if self._closed:
                return
            self._work = _Work(recipe, origin)
            if self._due_s is None:
                self._due_s = monotonic() + self._delay_s
                self._state.notify()
            if self._thread is None or not self._thread.is_alive():  # it ends by a fault of the program itself
                self._thread = threading.Thread(target=self._run, name="recovery", daemon=True)
                self._thread.start()

    def drop(self) -> None:
        """Remove the copy: its recipe is saved, or no longer wanted. Writing under way comes to nothing."""
        with self._state:
            self._work = self._due_s = None
            self._number += 1
            if self._slot is not None:
                self._slot.empty()

    def flush(self) -> None:
        """Write what is wanted now, before returning."""
        self._write()

    def adopt(self, slot: Slot) -> None:
        """Go on with a copy left by another window, which stays until it is written anew or dropped."""
        with self._writing, self._state:
            if self._slot is not None:
                self._slot.empty()
                self._slot.release()
            self._slot = slot

    def close(self) -> None:
        """Remove the copy and end the thread."""
        self.drop()
        with self._state:
            self._closed = True
            self._state.notify()
        if self._thread is not None:
            self._thread.join()
            self._thread = None
        if self._slot is not None:
            self._slot.empty()
            self._slot.release()
            self._slot = None

    def _run(self) -> None:
        while self._wait():
            self._write()

    def _wait(self) -> bool:
        """Wait until a copy is due; return False when there will be none any more."""
        with self._state:
            while not self._closed:
                left_s = None if self._due_s is None else self._due_s - monotonic()
                if left_s is not None and left_s <= 0:
                    return True
                self._state.wait(left_s)
        return False

    def _write(self) -> None:
        with self._writing:
            with self._state:
                work, number = self._work, self._number
                self._due_s = None
            if work is None:
                return
            try:
                self._put(work, number)
            except (OSError, RecipeError) as error:
                self._complain(refusal(error), number)
            except Exception as error:
                self._complain(refusal(error) or type(error).__name__, number)
                raise

    def _put(self, work: _Work, number: int) -> None:
        data = dumps(work.recipe)
        slot = self._slot or Slot(self._folder)
        if not slot.take():
            raise OSError(f"{slot.copy.parent} takes no files")
        with self._state:
            self._slot = slot
        prepared = slot.prepare(data, work.origin)
        with self._state:
            if number == self._number:
                slot.put(prepared)
                self._has_failed = False
            else:  # dropped meanwhile
                slot.empty()

    def _complain(self, reason: str, number: int) -> None:
        with self._state:
            if number != self._number:
                return  # dropped meanwhile: nothing is missing
            self._due_s = self._due_s or monotonic() + RETRY_S
            first, self._has_failed = not self._has_failed, True
        if first:
            self.failed.emit(reason)
