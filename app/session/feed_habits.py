"""How she reads and pours at a reservoir: kept from one start to the next, beside the window's state."""

from __future__ import annotations

from pathlib import Path

import msgspec

from app.session import state


class FeedHabits(msgspec.Struct, frozen=True, omit_defaults=True):
    """Unit of volumes, scale of the meter, what it does with the temperature [degC]."""

    volume_unit: str = "L"
    ec_unit: str = "mS/cm"
    compensates: bool = True
    temperature_c: float = 20.0


def habits_file() -> Path:
    """Return where they are kept."""
    return state.state_file().with_name("feed.json")


def read_habits() -> FeedHabits:
    """Return what was kept; what is lost or damaged are the usual ones."""
    from core.units.factors import EC_MS_PER_CM, VOLUME_L

    try:
        found = msgspec.json.decode(habits_file().read_bytes(), type=FeedHabits)
    except (OSError, msgspec.MsgspecError):
        return FeedHabits()
    known = found.volume_unit in {unit.label for unit in VOLUME_L} and found.ec_unit in {u.label for u in EC_MS_PER_CM}
    return found if known and 0.0 <= found.temperature_c <= 50.0 else FeedHabits()


def keep_habits(habits: FeedHabits) -> None:
    """Keep these; a folder that cannot be written to is no reason to trouble anyone."""
    from PySide6.QtCore import QSaveFile

    path = habits_file()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError:
        return
    file, data = QSaveFile(str(path)), msgspec.json.encode(habits)
    if file.open(QSaveFile.OpenModeFlag.WriteOnly) and file.write(data) == len(data):
        file.commit()
