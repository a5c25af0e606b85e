"""Lowest and highest number every field of a recipe may hold; the checks and the published schema both read this."""

from __future__ import annotations

from typing import NamedTuple

from msgspec import structs

from core.recipe.records import (
    Aim,
    Batch,
    LabelPercent,
    Limit,
    Recipe,
    Scale,
    ShelfEntry,
    TankContents,
    TankSetup,
    Target,
    Water,
    WaterContents,
)


class Range(NamedTuple):
    """Both ends belong to it; `unit` is shown with a refused number."""

    low: float
    high: float
    unit: str = ""


_CONTENT = Range(0, 20_000, "mg/L")  # above any feed and any water a plant survives; catches grams typed as milligrams
_AMOUNT = Range(0, 1_000_000, "mg/L")  # a product cannot be more than the whole litre
_PERCENT = Range(0, 100, "%")
_PH = Range(0, 14)
_EC = Range(0, 100, "mS/cm")  # sea water is about 50; catches a reading in µS/cm
_TEMPERATURE = Range(-5, 60, "°C")


def _every(record: type, span: Range) -> dict[str, Range]:
    return {info.name: span for info in structs.fields(record)}


RANGES: dict[type, dict[str, Range]] = {
    LabelPercent: _every(LabelPercent, _PERCENT),
    WaterContents: _every(WaterContents, _CONTENT),
    TankContents: _every(TankContents, Range(0, 100, "mmol/g")),
    Target: {
        "mg_per_l": _CONTENT,
        "tolerance_percent": _PERCENT,
        "low_mg_per_l": _CONTENT,
        "high_mg_per_l": _CONTENT,
        "weight": Range(0, 1000),
    },
    Limit: {"at_most_mg_per_l": _CONTENT, "at_least_mg_per_l": _CONTENT},
    Aim: {
        "ammonium_share_at_most_percent": _PERCENT,
        "residual_alkalinity_meq_per_l": Range(0, 50, "meq/L"),
        "ph": _PH,
        "ec_ms_per_cm": _EC,
    },
    Water: {"ph": _PH, "ec_ms_per_cm": _EC, "temperature_c": _TEMPERATURE},
    ShelfEntry: {
        "strength_percent": Range(0.01, 100, "%"),
        "price_per_kg": Range(0, 1_000_000),
        "pack_kg": Range(1e-6, 100_000, "kg"),
        "at_least_mg_per_l": _AMOUNT,
        "at_most_mg_per_l": _AMOUNT,
        "exactly_mg_per_l": _AMOUNT,
        "mixed_g_per_l": Range(1e-6, 3000, "g/L"),
    },
    TankSetup: {
        "count": Range(1, 4),
        "ratio": Range(1, 5000),
        "temperature_c": _TEMPERATURE,
        "coldest_c": _TEMPERATURE,
    },
    Scale: {"capacity_g": Range(1e-6, 10_000_000, "g"), "readability_g": Range(1e-6, 10_000_000, "g")},
    Batch: {"tank_volume_l": Range(0.001, 1_000_000, "L")},
    Recipe: {"second_water_share_percent": _PERCENT},
}
