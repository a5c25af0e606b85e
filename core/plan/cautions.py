"""The registry of cautions: every code, how loud it is, and the data its sentence needs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from core.plan.records import Caution, Level

LOUDNESS: dict[Level, int] = {"stop": 0, "check": 1, "note": 2}


@dataclass(frozen=True)
class Kind:
    """One registered caution: `data` names the keys its sentence may use."""

    level: Level
    data: tuple[str, ...] = ()


REGISTRY: dict[str, Kind] = {
    # stop: do not mix this
    "settles": Kind("stop", ("content", "solids")),
    "toxic": Kind("stop", ("nutrient", "feed_mg_per_l", "limit_mg_per_l")),
    "limit-missed": Kind("stop", ("nutrient", "feed_mg_per_l", "limit_mg_per_l")),
    "limit-impossible": Kind("stop", ("nutrient", "feed_mg_per_l", "limit_mg_per_l")),
    "bound-missed": Kind("stop", ("entry_id", "amount_mg_per_l", "bound_mg_per_l")),
    "ph-extreme": Kind("stop", ("ph",)),
    "alkalinity-left": Kind("stop", ("alkalinity_meq_per_l", "target_meq_per_l")),
    "chelate-acid": Kind("stop", ("salts",)),
    "silicate-alone": Kind("stop", ("content", "salts")),
    "base-hardness": Kind("stop", ("content", "salts")),
    "base-metals": Kind("stop", ("content", "salts")),
    "base-chelate": Kind("stop", ("content", "salts")),
    "out-of-range": Kind("stop"),
    # check: look at this before mixing
    "target-short": Kind("check", ("nutrient", "feed_mg_per_l", "target_mg_per_l", "percent", "because")),
    "target-over": Kind("check", ("nutrient", "feed_mg_per_l", "target_mg_per_l", "percent")),
    "water-over-target": Kind("check", ("nutrient", "water_mg_per_l", "target_mg_per_l")),
    "doubtful-tank": Kind("check", ("content", "solids")),
    "tank-beyond-model": Kind("check", ("content", "ratio", "clear_ratio")),
    "cold-store": Kind("check", ("content", "solids", "coldest_c")),
    "strength-too-high": Kind("check", ("content", "ratio", "ratio_limit")),
    "calcium-phosphate": Kind("check", ("content", "salts")),
    "calcium-sulfate": Kind("check", ("content", "salts")),
    "magnesium-phosphate": Kind("check", ("content", "salts")),
    "base-phosphate": Kind("check", ("content", "salts")),
    "base-acid": Kind("check", ("content", "salts")),
    "base-ammonium": Kind("check", ("content", "salts")),
    "tank-temperature": Kind("check", ("temperature_c", "low_c", "high_c")),
    "coldest-warmer": Kind("check", ("coldest_c", "temperature_c")),
    "phosphate-clouds": Kind("check", ("ph",)),
    "no-acid": Kind("check", ("alkalinity_meq_per_l",)),
    "alkalinity-short": Kind("check", ("alkalinity_meq_per_l", "target_meq_per_l")),
    "ph-aim-missed": Kind("check", ("ph", "target_ph", "why")),
    "water-assumed-pure": Kind("check", ("which_water",)),
    "water-ec-only": Kind("check", ("which_water", "stated_ms_per_cm")),
    "water-charge-gap": Kind("check", ("which_water", "cations_meq_per_l", "anions_meq_per_l", "gap_percent")),
    "water-ph-contradiction": Kind("check", ("which_water", "ph", "alkalinity_meq_per_l")),
    "water-ec-contradiction": Kind("check", ("which_water", "stated_ms_per_cm", "analysis_ms_per_cm")),
    "alkalinity-unknown": Kind("check", ("which_water",)),
    "label-of-other-salt": Kind("check", ("entry_id", "nutrient", "label_percent", "formula_percent", "salt")),
    "label-unlike-salt": Kind("check", ("entry_id", "nutrient", "label_percent", "formula_percent")),
    "label-strength": Kind("check", ("entry_id", "strength_percent", "label_percent")),
    "above-published": Kind("check", ("nutrient", "feed_mg_per_l", "limit_mg_per_l")),
    "acid-strength-assumed": Kind("check", ("salt", "strength_percent")),
    "aim-nitrogen-contradiction": Kind("check", ("target_mg_per_l", "sum_mg_per_l")),
    "aim-charge-gap": Kind("check", ("gap_percent",)),
    "ammonium-share": Kind("check", ("share_percent", "limit_percent")),
    "ammonium-holds": Kind("check", ("nutrients", "limit_percent")),
    "acid-pin": Kind("check", ("entry_ids",)),
    "pin-beyond": Kind("check", ("entry_ids", "count")),
    "scale-trace": Kind("check", ("salts",)),
    "scale-coarse": Kind("check", ("salt", "weight_g", "readability_g", "percent")),
    "chloride-high": Kind("check", ("feed_mg_per_l", "limit_mg_per_l")),
    "sodium-high": Kind("check", ("feed_mg_per_l", "limit_mg_per_l")),
    "chelate-ph": Kind("check", ("ph", "salts", "share_percent")),
    "bare-iron": Kind("check", ("ph", "salts", "share_percent")),
    "ph-out-of-range": Kind("check", ("ph", "low_ph", "high_ph")),
    "ec-aim-missed": Kind("check", ("feed_ms_per_cm", "target_ms_per_cm")),
    "urea-used": Kind("check", ("feed_mg_per_l",)),
    "nothing-to-do": Kind("check"),
    "cheapest-out-of-range": Kind("check"),
    "fewest-out-of-range": Kind("check"),
    "cheapest-no-prices": Kind("check"),
    "ready-mixed": Kind("check", ("entry_ids", "doses_ml_per_l")),
    "acid-first": Kind("check", ("salts",)),
    "acid-late": Kind("check", ("salts",)),
    "acid-handling": Kind("check", ("salts",)),
    "keep-apart": Kind("check", ("salts", "other_salts", "result")),
    # note: good to know
    "water-iron-not-counted": Kind("note", ("which_water", "nutrients")),
    "acid-needed": Kind("note", ("alkalinity_meq_per_l", "target_meq_per_l")),
    "base-not-asked": Kind("note", ("short_meq_per_l",)),
    "crop-ph": Kind("note", ("crop", "ph", "low_ph", "high_ph")),
    "ligand-unknown": Kind("note", ("ph", "entry_ids")),
    "ammonium-forced": Kind("note", ("entry_ids",)),
    "urea-left-out": Kind("note", ("entry_ids",)),
    "silicate-first": Kind("note"),
    "pin-unknown": Kind("note", ("entry_ids",)),
    "solubility-unknown": Kind("note", ("salts",)),
    "oxidiser-handling": Kind("note", ("salts",)),
    "scale-capacity": Kind("note", ("salt", "weight_g", "capacity_g")),
    "scale-assumed": Kind("note"),
    "coldest-assumed": Kind("note", ("coldest_c",)),
    "unpriced-aside": Kind("note", ("entry_ids",)),
    "fewest-unproven": Kind("note", ("count", "at_least")),
    "fewest-cost-unproven": Kind("note", ("count", "percent")),
    "price-missing": Kind("note", ("entry_ids",)),
    "label-only": Kind("note", ("entry_ids",)),
    "soft-water": Kind("note"),
    "memory-value": Kind("note", ("salts",)),
    "memory-crop": Kind("note", ("crop",)),
    "exact-only": Kind("note"),
}
"""Code -> kind, worst first within each level."""

_BY_PERCENT = frozenset({"target-short", "target-over"})
_ORDER = {code: place for place, code in enumerate(REGISTRY)}


def caution(code: str, **data: Any) -> Caution:
    """Make a caution; its level is the registry's.

    Raises
    ------
    KeyError : for a code that is not registered, or data the code does not name.
    """
    kind = REGISTRY[code]
    unknown = data.keys() - set(kind.data)
    if unknown:
        raise KeyError(f"{code} takes no {sorted(unknown)}")
    return Caution(kind.level, code, data)


def worst_first(cautions: list[Caution]) -> tuple[Caution, ...]:
    """Order by level, then by the registry, missed targets by how far they are missed; equal ones stay as they came."""
    return tuple(sorted(cautions, key=lambda c: (LOUDNESS[c.level], _ORDER[c.code], -_percent(c))))


def _percent(one: Caution) -> float:
    """How far off a target is, so that of several the furthest is told first [%]."""
    return float(one.data["percent"]) if one.code in _BY_PERCENT else 0.0
