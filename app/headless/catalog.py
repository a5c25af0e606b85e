"""The command `catalog`: the salts, crops and waters the program knows."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from app.headless.output import write
from app.headless.table import aligned
from app.wording import format_decimals, format_number

if TYPE_CHECKING:
    from core.catalog import CropProfile, Salt, WaterProfile


def catalog_command(kind: str, *, as_json: bool = False) -> int:
    """Write one part of the catalog, "salts", "crops" or "waters", and return the exit status."""
    from core.catalog import crops, salts, waters

    if kind == "salts":
        records = tuple(salts().values())
        return _write(records, [_salt(salt) for salt in records], as_json=as_json)
    if kind == "crops":
        return _write(crops(), [_crop(crop) for crop in crops()], as_json=as_json)
    return _write(waters(), [_water(water) for water in waters()], as_json=as_json)


def _write(
    records: tuple[Salt, ...] | tuple[CropProfile, ...] | tuple[WaterProfile, ...],
    rows: list[tuple[str, ...]],
    *,
    as_json: bool,
) -> int:
    if not as_json:
        write("\n".join(aligned(rows)) + "\n")
        return 0
    from msgspec import to_builtins

    write(json.dumps(to_builtins(records), indent=1, allow_nan=False) + "\n")
    return 0


def _salt(salt: Salt) -> tuple[str, ...]:
    return salt.id, salt.name, salt.formula


def _crop(crop: CropProfile) -> tuple[str, ...]:
    ec = _range(crop.ec_low_ms_per_cm, crop.ec_high_ms_per_cm)
    ph = _range(crop.ph_low, crop.ph_high)
    return (
        crop.id,
        crop.crop,
        crop.stage,
        crop.kind,
        f"EC {ec}" if ec else "",
        f"pH {ph}" if ph else "",
        crop.known.source,
    )


def _range(low: float | None, high: float | None) -> str:
    ends = [format_decimals(end, 1) for end in (low, high) if end is not None]
    return "\N{EN DASH}".join(dict.fromkeys(ends))


def _water(water: WaterProfile) -> tuple[str, ...]:
    ions = ", ".join(f"{name} {format_number(amount, 2)}" for name, amount in water.mg_per_l.items())
    return (
        water.id,
        water.name,
        f"EC {format_decimals(water.ec_ms_per_cm, 2)}",
        f"pH {format_decimals(water.ph, 1)}",
        f"{ions} mg/L",
    )
