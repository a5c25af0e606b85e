"""Lowest and highest number every field of a logbook may hold; a group of numbers has one span for all of them."""

from __future__ import annotations

from core.logbook.records import Entry, MadeBatch, Reservoir, Weighed
from core.recipe.ranges import RANGES, Range

_VOLUME = Range(0, 10_000_000, "L")
_POURED = Range(0, 1_000_000_000, "mL")
_CONTENT = Range(0, 20_000, "mg/L")  # as of a water: catches grams typed as milligrams
_WEIGHT = Range(0, 10_000_000, "g")

LOG_RANGES: dict[type, dict[str, Range]] = RANGES | {
    Weighed: {"planned_g": _WEIGHT, "weighed_g": _WEIGHT},
    MadeBatch: {"tank_volume_l": Range(0.001, 1_000_000, "L")},
    Reservoir: {"volume_l": Range(0.001, 10_000_000, "L")},
    Entry: {
        "drained_l": _VOLUME,
        "water_l": _VOLUME,
        "level_l": _VOLUME,
        "parts_ml": _POURED,
        "acid_ml": _POURED,
        "ec_ms_per_cm": Range(0, 100, "mS/cm"),  # catches a reading in µS/cm
        "ph": Range(0, 14),
        "temperature_c": Range(-5, 60, "°C"),
        "analysis_mg_per_l": _CONTENT,
        "hco3_mg_per_l": _CONTENT,
    },
}
