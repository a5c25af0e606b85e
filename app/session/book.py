"""The open logbook: batches mixed and reservoirs' diaries; every change is on the disk before anything else happens."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from msgspec import structs
from PySide6.QtCore import QLockFile, QObject, QStandardPaths, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack

from app.session import state
from app.session.files import Stamp, lock_name, stamp
from app.session.saving import SaveError, Why, write_whole
from core.logbook.checks import check
from core.logbook.file import ENDING, dumps, load
from core.logbook.merge import Conflict, merged, with_entry
from core.logbook.records import Entry, Logbook, MadeBatch
from core.recipe import RecipeError

PATIENCE_MS = 2000
"""How long another window may take to write the same file; it takes a few milliseconds."""


def own_logbook() -> Path:
    """Return where the logbook lies that is kept as long as no other is chosen."""
    folder = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.AppLocalDataLocation)
    return Path(folder) / f"logbook{ENDING}"


class LeftAlone(Exception):
    """The logbook kept so far cannot be read or found: it stays as it is, and another file takes its place.

    Parameters
    ----------
    path : the logbook that was to be opened.
    instead : the file used from now on.
    error : why it was refused.
    """

    def __init__(self, path: Path, instead: Path, error: RecipeError) -> None:
        super().__init__(path, instead, error)
        self.path = path
        self.instead = instead
        self.error = error


class _Change(QUndoCommand):
    """Exchanges one logbook for another."""

    def __init__(self, take: Callable[[Logbook, Logbook], None], label: str, old: Logbook, new: Logbook) -> None:
        super().__init__(label)
        self._take, self._old, self._new = take, old, new

    def redo(self) -> None:
        """Make the change; what others wrote meanwhile stays."""
        self._take(self._old, self._new)

    def undo(self) -> None:
        """Take the change back; what others wrote meanwhile stays."""
        self._take(self._new, self._old)


class Book(QObject):
    """Holds the logbook and its file; the only one who changes either.

    Two windows, or another program, may write into one file: each writing first takes in what the others wrote.
    `trouble` is what stands in the way now, None where all is well; `unwritten` whether the window holds changes that
    the file does not.

    Signals
    -------
    changed : the logbook is another one now, or lies in another file.
    failed : what went wrong, as a SaveError, RecipeError, Conflict or LeftAlone; the change stands in the window.
    mended : the trouble is over.
    """

    changed = Signal()
    failed = Signal(object)
    mended = Signal()

    def __init__(self, path: Path | None = None) -> None:
        super().__init__()
        self.path = path or own_logbook()
        self.logbook = Logbook()
        self.edits = QUndoStack(self)
        self.trouble: Exception | None = None
        self.unwritten = False
        self._stored = Logbook()
        self._stamp: Stamp | None = None

    def open(self, path: Path) -> None:
        """Open another logbook in place of this one; it is the one opened at the next start.

        Raises
        ------
        RecipeError : the file is refused; everything stays as it was.
        """
        path = path.absolute()
        read_at, logbook = stamp(path), load(path)
        self._begin(path, logbook, read_at)

    def new(self, path: Path) -> None:
        """Begin an empty logbook in a file that is not there yet.

        Raises
        ------
        RecipeError : the file exists.
        SaveError : it cannot be written.
        """
        if path.exists():
            raise RecipeError("is there already", "open it, or give another name", where=str(path))
        write_whole(path, dumps(Logbook()))
        self.open(path)

    def open_own(self) -> None:
        """Open the logbook used last, or else the program's own; one that cannot be read is left alone and told of."""
        remembered = state.read_state().logbook
        path = Path(remembered) if remembered else self.path
        if not remembered and not path.exists():
            return
        try:
            read_at, logbook = stamp(path), load(path)
        except RecipeError as error:
            self._leave_alone(path, error)
            return
        self.path, self.logbook, self._stored, self._stamp = path, logbook, logbook, read_at

    def push(self, label: str, logbook: Logbook) -> None:
        """Make a change that can be undone; it is written at once.

        Raises
        ------
        RecipeError : the logbook would not be one; nothing changes.
        """
        if logbook != self.logbook:
            check(logbook, self.logbook)
            self.edits.push(_Change(self._take, label, self.logbook, logbook))

    def add_batch(self, label: str, batch: MadeBatch) -> None:
        """Put a batch that was mixed into the logbook; raises RecipeError like `push`."""
        self.push(label, structs.replace(self.logbook, batches=(*self.logbook.batches, batch)))

    def add_entry(self, label: str, reservoir: str, entry: Entry) -> None:
        """Put an entry into a reservoir's diary, in its place by time; raises RecipeError like `push`."""
        changed = (with_entry(one, entry) if one.name == reservoir else one for one in self.logbook.reservoirs)
        self.push(label, structs.replace(self.logbook, reservoirs=tuple(changed)))

    def write(self) -> bool:
        """Write what the file does not hold yet, with what others put into it; return whether all of it is there."""
        try:
            with self._locked():
                before = self.logbook
                self.logbook = self._with_others()
                self._put()
        except (RecipeError, SaveError, Conflict) as error:
            self._fail(error)
            return False
        self.unwritten = False
        self._mend()
        if self.logbook is not before:
            self.changed.emit()
        return True

    def look(self) -> None:
        """Take in what another program wrote into the file while the window was out of view."""
        now = stamp(self.path)
        if self.unwritten:
            self.write()
        elif now is not None and now != self._stamp:
            try:
                theirs = load(self.path)
            except RecipeError as error:
                self._fail(error)
                return
            self._stamp, self._stored = now, theirs
            self._mend()
            if theirs != self.logbook:
                self.logbook = theirs
                self.changed.emit()

    def save_copy(self, path: Path) -> None:
        """Write the logbook to another file as well; it stays in its own.

        Raises
        ------
        SaveError : what is there stays, byte for byte.
        """
        write_whole(path, dumps(self.logbook))

    def _take(self, before: Logbook, after: Logbook) -> None:
        try:
            self.logbook = merged(before, after, self.logbook)
        except Conflict as error:  # undoing what another window has changed since
            self._fail(error)
            return
        self.unwritten = True
        self.write()
        self.changed.emit()

    def _with_others(self) -> Logbook:
        """The logbook with what is new in its file.

        Raises
        ------
        RecipeError : the file is no logbook any more.
        Conflict : both changed the same thing.
        """
        now = stamp(self.path)
        if now is None or now == self._stamp:
            return self.logbook
        theirs = load(self.path)
        whole = merged(self._stored, self.logbook, theirs)
        check(whole)
        self._stored, self._stamp = theirs, now
        return whole

    def _put(self) -> None:
        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
        except OSError:
            raise SaveError(self.path, Why.NO_FOLDER) from None
        write_whole(self.path, dumps(self.logbook))
        self._stored, self._stamp = self.logbook, stamp(self.path)

    @contextmanager
    def _locked(self) -> Iterator[None]:
        """Keep the program's other windows from writing meanwhile; where no lock can be kept, none is."""
        lock = QLockFile(str(lock_name(self.path, "write")))
        lock.setStaleLockTime(0)
        if not lock.tryLock(PATIENCE_MS) and lock.error() == QLockFile.LockError.LockFailedError:
            raise SaveError(self.path, Why.OPEN_ELSEWHERE)
        try:
            yield
        finally:
            lock.unlock()

    def _begin(self, path: Path, logbook: Logbook, read_at: Stamp | None) -> None:
        self.path, self.logbook, self._stored, self._stamp = path, logbook, logbook, read_at
        self.unwritten = False
        self.edits.clear()
        chosen = "" if path == own_logbook() else str(path)
        state.write_state(replace(state.read_state(), logbook=chosen))
        self._mend()
        self.changed.emit()

    def _leave_alone(self, path: Path, error: RecipeError) -> None:
        """Go on in a file beside the program's own logbook that no one has used."""
        own = own_logbook()
        names = (own.with_name(f"{own.stem}-{number}{ENDING}") for number in range(2, 10_000))
        free = own if path != own and not own.exists() else next(name for name in names if not name.exists())
        self.path = free
        self._fail(LeftAlone(path, free, error))

    def _fail(self, error: Exception) -> None:
        self.trouble = error
        self.failed.emit(error)

    def _mend(self) -> None:
        if self.trouble is not None:
            self.trouble = None
            self.mended.emit()
