"""How far the weighing of the open recipe has come, and how she likes to weigh; kept from one start to the next."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Literal

import msgspec
from msgspec import structs
from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack

from app.session import state
from app.wording import weighout_batch as say
from core.logbook.progress import Progress

if TYPE_CHECKING:
    from app.session.session import Session

KEPT_AT_MOST = 12
"""Recipes whose weighing is remembered: the last ones worked at."""

Law = Literal["us", "virginia", "eu-2003", "none"]


class Habits(msgspec.Struct, frozen=True, omit_defaults=True):
    """What she chose last: label law, units, paper, decimal mark, way of sizing a batch, feed used a day [L]."""

    law: Law = "us"
    units: Literal["auto", "metric", "us"] = "auto"
    paper: Literal["a4", "letter"] = "a4"
    decimal_mark: Literal[".", ","] = "."
    size_by: Literal["tank", "feed", "days", "bag"] = "tank"
    feed_l_per_day: float | None = None


class _Kept(msgspec.Struct, frozen=True, omit_defaults=True):
    """The file; a recipe goes by its path, or by its title where it lies in no file."""

    habits: Habits = Habits()
    weighings: dict[str, Progress] = {}


def weighing_file() -> Path:
    """Return where it is kept: beside the window's state."""
    return state.state_file().with_name("weighing.json")


class _Noted(QUndoCommand):
    """A weight noted, taken back or asked for."""

    def __init__(self, weighing: Weighing, before: Progress, after: Progress) -> None:
        super().__init__(say.weighing_edit())
        self._weighing, self._before, self._after = weighing, before, after

    def redo(self) -> None:
        self._weighing._take(self._after)

    def undo(self) -> None:
        self._weighing._take(self._before)


class Weighing(QObject):
    """Holds the progress of the open recipe; every change is on the disk at once, as far as the disk lets it.

    Signals
    -------
    changed : the progress or a habit is another one now.
    """

    changed = Signal()

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._session = session
        self._key = ""
        self.progress = Progress()
        self.habits = _read().habits
        self._cleared: Progress | None = None
        self.edits = QUndoStack(self)
        session.opened.connect(self._open)
        session.saved.connect(self._follow)
        self._open()

    def note(self, progress: Progress) -> None:
        """Take this progress, which can be undone."""
        if progress != self.progress:
            self.edits.push(_Noted(self, self.progress, progress))

    def _take(self, progress: Progress) -> None:
        self.progress, self._cleared = progress, None
        self._write()
        self.changed.emit()

    def start_over(self) -> None:
        """Forget every weight; until the next is noted they can be brought back."""
        cleared = self.progress
        self.note(Progress())
        self._cleared = cleared if cleared != Progress() else None
        self.changed.emit()

    def can_bring_back(self) -> bool:
        """Return whether weights were just forgotten."""
        return self._cleared is not None

    def bring_back(self) -> None:
        """Remember the weights that were just forgotten."""
        if self._cleared is not None:
            self.note(self._cleared)

    def choose(self, **changed: object) -> None:
        """Take other habits."""
        habits = structs.replace(self.habits, **changed)
        if habits != self.habits:
            self.habits = habits
            self._write()
            self.changed.emit()

    def _open(self) -> None:
        self._key = self._own_key()
        self._cleared = None
        self.edits.clear()
        self.progress = _read().weighings.get(self._key, Progress())
        self.changed.emit()

    def _follow(self) -> None:
        """The recipe lies in another file now, and its weighing with it."""
        self._key = self._own_key()
        self._write()

    def _own_key(self) -> str:
        path, recipe = self._session.path, self._session.recipe
        return str(path) if path is not None else "" if recipe is None else f"title: {recipe.title}"

    def _write(self) -> None:
        others = {key: kept for key, kept in _read().weighings.items() if key != self._key}
        if self.progress != Progress():
            others[self._key] = self.progress
        newest = dict(list(others.items())[-KEPT_AT_MOST:])
        data = msgspec.json.encode(_Kept(self.habits, newest))
        _write_quietly(weighing_file(), data)


def _read() -> _Kept:
    """Return what was kept; a lost or damaged file is an empty one."""
    try:
        return msgspec.json.decode(weighing_file().read_bytes(), type=_Kept)
    except (OSError, msgspec.MsgspecError):
        return _Kept()


def _write_quietly(path: Path, data: bytes) -> None:
    """Write it whole or not at all; a disk that refuses is no reason to keep her from weighing."""
    from app.session.saving import SaveError, write_whole

    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, data)
    except (SaveError, OSError) as error:
        from app.session.journal import journal

        journal().info("weighing not kept", exc_info=error)
