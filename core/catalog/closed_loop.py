"""Sodium and chloride in closed loops: what crops take of them, and the most their roots stand, as published."""

from __future__ import annotations

from functools import cache
from typing import Literal

import msgspec

from core.catalog.resource import Known, read

Ballast = Literal["Na", "Cl"]


class ClosedLoop(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One crop: sodium and chloride taken up per litre of water it drinks, and the most at the roots [meq/L]."""

    crop: str
    uptake_meq_per_l: dict[Ballast, float]
    most_meq_per_l: dict[Ballast, float]
    known: Known


@cache
def closed_loops() -> tuple[ClosedLoop, ...]:
    """Return every crop there are figures for."""
    return read("closed_loop.json", tuple[ClosedLoop, ...])
