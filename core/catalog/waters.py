"""Typical source waters to start from where no analysis is at hand: invented, and marked so."""

from __future__ import annotations

from functools import cache

import msgspec

from core.catalog.resource import Known, read


class WaterProfile(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A typical water: its ions [mg/L, nitrogen as N, carbonate as HCO3], which close in charge, its pH and EC."""

    id: str
    name: str
    mg_per_l: dict[str, float]
    ph: float
    ec_ms_per_cm: float
    temperature_c: float
    known: Known


@cache
def waters() -> tuple[WaterProfile, ...]:
    """Return the typical waters, softest first."""
    return read("waters.json", tuple[WaterProfile, ...])
