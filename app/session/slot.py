"""One window's place for a recovery copy, and the places left by windows that ended without closing."""

from __future__ import annotations

import json
import os
from contextlib import suppress
from pathlib import Path

from PySide6.QtCore import QLockFile

from app.session import state

COPY, ORIGIN, LOCK, UNFINISHED = ".saltwright", ".json", ".lock", ".tmp"


def recovery_folder() -> Path:
    """Return where recovery copies lie."""
    return state.state_file().parent / "recovery"


class Slot:
    """The copy itself, a note of the file it belongs to, and a lock that ends with the process holding it."""

    def __init__(self, folder: Path, name: str = "") -> None:
        self._stem = str(folder / (name or f"{os.getpid()}-{os.urandom(6).hex()}"))
        self.copy = Path(self._stem + COPY)
        self._lock = QLockFile(self._stem + LOCK)
        self._lock.setStaleLockTime(0)  # only a process that is gone leaves a stale lock, however long it ran

    def take(self) -> bool:
        """Take the place, and return whether it is ours now."""
        self.copy.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        return self._lock.isLocked() or self._lock.tryLock(0)

    def prepare(self, data: bytes, origin: Path | None) -> Path:
        """Put the copy's bytes on the disk under another name, and note whose they are.

        Raises
        ------
        OSError : the disk did not take them.
        """
        note = json.dumps({"path": None if origin is None else str(origin)}).encode()
        if self._read_note() != note:
            os.replace(_on_disk(Path(self._stem + UNFINISHED), note), self._stem + ORIGIN)
        return _on_disk(Path(self._stem + UNFINISHED), data)

    def put(self, prepared: Path) -> None:
        """Exchange the copy for the one prepared."""
        os.replace(prepared, self.copy)

    def origin(self) -> Path | None:
        """Return the file the copy belongs to, or None where the recipe was never saved."""
        try:
            path = json.loads(self._read_note() or b"{}").get("path")
        except (ValueError, AttributeError):
            return None
        return Path(path) if isinstance(path, str) else None

    def empty(self) -> None:
        """Remove the copy and all that belongs to it; the place stays taken."""
        for ending in (COPY, ORIGIN, UNFINISHED):
            _unlink(Path(self._stem + ending))

    def release(self) -> None:
        """Leave the place."""
        self._lock.unlock()

    def _read_note(self) -> bytes | None:
        try:
            return Path(self._stem + ORIGIN).read_bytes()
        except OSError:
            return None


def leftovers(folder: Path) -> list[Slot]:
    """Take every copy whose window is gone, newest first; what such windows left without a copy is swept away."""
    try:
        names = {found.stem for found in folder.iterdir() if found.suffix in (COPY, ORIGIN, LOCK, UNFINISHED)}
    except OSError:
        return []
    found: list[Slot] = []
    for name in names:
        slot = Slot(folder, name)
        if not slot.take():
            continue
        if slot.copy.exists():
            found.append(slot)
        else:
            slot.empty()
            slot.release()
    return sorted(found, key=lambda slot: slot.copy.stat().st_mtime, reverse=True)


def _on_disk(path: Path, data: bytes) -> Path:
    with path.open("wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    return path


def _unlink(path: Path) -> None:
    with suppress(OSError):
        path.unlink(missing_ok=True)
