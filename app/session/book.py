"""The open logbook: batches mixed and reservoirs' diaries; every change is on the disk before anything else happens."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from msgspec import structs
from PySide6.QtCore import QObject, QStandardPaths, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack

from app.session.saving import write_whole
from core.logbook.file import ENDING, dumps, loads
from core.logbook.records import Entry, Logbook, MadeBatch, Reservoir
from core.recipe import RecipeError


def own_logbook() -> Path:
    """Return where the logbook lies that is kept as long as no other is chosen."""
    folder = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.AppLocalDataLocation)
    return Path(folder) / f"logbook{ENDING}"


class _Change(QUndoCommand):
    """Exchanges one logbook for another."""

    def __init__(self, take: Callable[[Logbook], None], label: str, old: Logbook, new: Logbook) -> None:
        super().__init__(label)
        self._take, self._old, self._new = take, old, new

    def redo(self) -> None:
        """Put the later logbook in place."""
        self._take(self._new)

    def undo(self) -> None:
        """Put the earlier logbook back."""
        self._take(self._old)


class Book(QObject):
    """Holds the logbook and its file; the only one who changes either.

    Signals
    -------
    changed : the logbook is another one now.
    failed : why it could not be written, as a SaveError; the change stands in the window all the same.
    """

    changed = Signal()
    failed = Signal(object)

    def __init__(self, path: Path | None = None) -> None:
        super().__init__()
        self.path = path or own_logbook()
        self.logbook = Logbook()
        self.edits = QUndoStack(self)

    def open(self, path: Path) -> None:
        """Open another logbook in place of this one.

        Raises
        ------
        RecipeError : the file is refused; everything stays as it was.
        OSError : it cannot be read.
        """
        logbook = loads(path.read_bytes(), str(path))
        self.path, self.logbook = path, logbook
        self.edits.clear()
        self.changed.emit()

    def open_own(self) -> None:
        """Open the logbook kept so far, if there is one; one that cannot be read is left alone and told of."""
        try:
            self.open(self.path)
        except FileNotFoundError:
            return
        except (RecipeError, OSError) as error:
            self.failed.emit(error)

    def push(self, label: str, logbook: Logbook) -> None:
        """Make a change that can be undone; it is written at once."""
        if logbook != self.logbook:
            self.edits.push(_Change(self._take, label, self.logbook, logbook))

    def add_batch(self, label: str, batch: MadeBatch) -> None:
        """Put a batch that was mixed into the logbook."""
        self.push(label, structs.replace(self.logbook, batches=(*self.logbook.batches, batch)))

    def add_entry(self, label: str, reservoir: str, entry: Entry) -> None:
        """Put an entry into a reservoir's diary, in its place by time."""
        self.push(
            label,
            structs.replace(self.logbook, reservoirs=tuple(map(self._with(reservoir, entry), self.logbook.reservoirs))),
        )

    def _with(self, name: str, entry: Entry) -> Callable[[Reservoir], Reservoir]:
        def added(reservoir: Reservoir) -> Reservoir:
            if reservoir.name != name:
                return reservoir
            return structs.replace(
                reservoir, entries=tuple(sorted((*reservoir.entries, entry), key=lambda one: one.at))
            )

        return added

    def _take(self, logbook: Logbook) -> None:
        self.logbook = logbook
        self._write()
        self.changed.emit()

    def _write(self) -> None:
        from app.session.saving import SaveError

        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            write_whole(self.path, dumps(self.logbook))
        except (SaveError, OSError) as error:
            self.failed.emit(error)
