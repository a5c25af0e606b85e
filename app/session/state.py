"""What the window remembers from one start to the next: recent files, the last surface, its place on the screen."""

from __future__ import annotations

from pathlib import Path

import msgspec
from msgspec import structs
from PySide6.QtCore import QSaveFile, QStandardPaths

RECENT_AT_MOST = 8


class State(msgspec.Struct, frozen=True, omit_defaults=True):
    """Nothing in here is needed: a lost or damaged state is an empty one."""

    recent: tuple[str, ...] = ()
    surface: str = ""
    geometry: str = ""


def state_file() -> Path:
    """Return where the state lies: the system's folder for it."""
    folder = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.StateLocation)
    return Path(folder) / "window.json"


def read_state() -> State:
    """Return what was remembered, or an empty state."""
    try:
        return msgspec.json.decode(state_file().read_bytes(), type=State)
    except (OSError, msgspec.MsgspecError):
        return State()


def write_state(state: State) -> None:
    """Remember this; a folder that cannot be written to is no reason to trouble anyone."""
    path = state_file()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError:
        return
    file = QSaveFile(str(path))
    if file.open(QSaveFile.OpenModeFlag.WriteOnly):
        file.write(msgspec.json.encode(state))
        file.commit()


def with_recent(state: State, path: Path) -> State:
    """Return the state with this file named first among the recent ones."""
    name = str(path.absolute())
    others = [other for other in state.recent if other != name]
    return structs.replace(state, recent=(name, *others)[:RECENT_AT_MOST])


def recent_files(state: State) -> tuple[Path, ...]:
    """Return the recent files that are still there, newest first."""
    return tuple(path for path in map(Path, state.recent) if path.is_file())
