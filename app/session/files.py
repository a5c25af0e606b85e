"""The file the recipe lies in: whether another program changed it, and whether another window has it open."""

from __future__ import annotations

import os
from contextlib import suppress
from enum import Enum
from pathlib import Path

from PySide6.QtCore import QLockFile

from app.session import state
from core.recipe import RecipeError, load
from core.recipe.records import Recipe

Stamp = tuple[int, int, int]
"""Time of the last change [ns], size [bytes] and number of a file: as long as they stay, so does the file."""


class Elsewhere(Enum):
    """What became of a file behind our back."""

    NOTHING = "nothing"
    CHANGED = "changed"
    GONE = "gone"


def stamp(path: Path) -> Stamp | None:
    """Return the file's stamp, or None where there is no file to look at."""
    try:
        found = os.stat(path)
    except (OSError, ValueError):
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino


def same_file(one: Path | None, other: Path | None) -> bool:
    """Return whether two paths lead to one file, links resolved."""
    return one is not None and other is not None and _resolved(one) == _resolved(other)


def lock_name(path: Path, ending: str = "lock") -> Path:
    """Return the name of the lock that stands for a file, in a folder that is made where it can be."""
    from hashlib import sha256

    folder = state.state_file().parent / "open"
    name = sha256(_resolved(path).encode(errors="surrogatepass")).hexdigest()
    with suppress(OSError):
        folder.mkdir(parents=True, exist_ok=True)
    return folder / f"{name[:32]}.{ending}"


class Claim:
    """Says to the program's other windows that this file is open here; ends with the process at the latest."""

    def __init__(self, path: Path) -> None:
        self._lock = QLockFile(str(lock_name(path)))
        self._lock.setStaleLockTime(0)

    def taken_elsewhere(self) -> bool:
        """Take the claim, and return whether another window holds it; where none can be kept, nobody does."""
        if self._lock.isLocked() or self._lock.tryLock(0):
            return False
        return self._lock.error() == QLockFile.LockError.LockFailedError

    def release(self) -> None:
        """Let other windows have it."""
        self._lock.unlock()


def open_elsewhere(path: Path) -> bool:
    """Return whether another window has this file open."""
    claim = Claim(path)
    taken = claim.taken_elsewhere()
    claim.release()
    return taken


class OpenFile:
    """The file as it was when last read or written here.

    Parameters
    ----------
    path : where it lies.
    stored : the recipe in it, or None where it is not known.
    read_at : the stamp from before it was read; None takes today's.
    claim : the claim to it, where it is held already.
    """

    def __init__(
        self, path: Path, stored: Recipe | None, read_at: Stamp | None = None, claim: Claim | None = None
    ) -> None:
        self.path = path
        self.claim = claim or Claim(path)
        self._stored = stored
        self._stamp = read_at or stamp(path)
        self.claim.taken_elsewhere()

    def look(self) -> Elsewhere:
        """Return what became of the file since; a copy with the same recipe in it is no change."""
        now = stamp(self.path)
        if now == self._stamp:
            return Elsewhere.NOTHING
        if now is None:
            return Elsewhere.GONE
        if self._stored is None or _read(self.path) != self._stored:
            return Elsewhere.CHANGED
        self._stamp = now
        return Elsewhere.NOTHING

    def accept(self) -> None:
        """Take the file as it is now for known."""
        self._stamp = stamp(self.path)
        self._stored = _read(self.path)

    def release(self) -> None:
        """Let other windows have the file."""
        self.claim.release()


def _read(path: Path) -> Recipe | None:
    try:
        return load(path)
    except RecipeError:
        return None


def _resolved(path: Path) -> str:
    return os.path.normcase(os.path.realpath(path))
