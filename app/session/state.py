"""What the window remembers from one start to the next: files used, the last surface, its place on the screen.

Plain JSON and nothing else, as the window reads it before it is painted for the first time.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, replace
from pathlib import Path

from PySide6.QtCore import QStandardPaths

RECENT_AT_MOST = 8


@dataclass(frozen=True)
class State:
    """Nothing in here is needed: a lost or damaged state is an empty one."""

    recent: tuple[str, ...] = ()
    surface: str = ""
    geometry: str = ""
    logbook: str = ""


def state_file() -> Path:
    """Return where the state lies: the system's folder for it."""
    folder = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.StateLocation)
    return Path(folder) / "window.json"


def read_state() -> State:
    """Return what was remembered, or an empty state."""
    try:
        found = json.loads(state_file().read_bytes())
    except (OSError, ValueError):
        return State()
    if not isinstance(found, dict):
        return State()
    recent = found.get("recent")
    texts = {name: found.get(name) for name in ("surface", "geometry", "logbook")}
    return State(
        tuple(name for name in recent if isinstance(name, str)) if isinstance(recent, list) else (),
        **{name: text for name, text in texts.items() if isinstance(text, str)},
    )


def write_state(state: State) -> None:
    """Remember this; a folder that cannot be written to is no reason to trouble anyone."""
    from PySide6.QtCore import QSaveFile

    path = state_file()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError:
        return
    file = QSaveFile(str(path))
    data = json.dumps(asdict(state)).encode()
    if file.open(QSaveFile.OpenModeFlag.WriteOnly) and file.write(data) == len(data):
        file.commit()


def with_recent(state: State, path: Path) -> State:
    """Return the state with this file named first among the recent ones."""
    name = str(path.absolute())
    others = [other for other in state.recent if other != name]
    return replace(state, recent=(name, *others)[:RECENT_AT_MOST])


def recent_files(state: State) -> tuple[Path, ...]:
    """Return the recent files that are still there, newest first."""
    return tuple(path for path in map(Path, state.recent) if path.is_file())


def without_recent(state: State) -> State:
    """Return the state with no recent files."""
    return replace(state, recent=())
