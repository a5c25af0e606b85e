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
    "alkalinity-left": Kind("stop", ("alkalinity_meq_per_l", "target_meq_per_l")),
    "chelate-acid": Kind("stop", ("salts",)),
    "out-of-range": Kind("stop"),
    # check: look at this before mixing
    "target-short": Kind("check", ("nutrient", "feed_mg_per_l", "target_mg_per_l", "percent")),
    "target-over": Kind("check", ("nutrient", "feed_mg_per_l", "target_mg_per_l", "percent")),
    "water-over-target": Kind("check", ("nutrient", "water_mg_per_l", "target_mg_per_l")),
    "doubtful-tank": Kind("check", ("content", "solids")),
    "cold-store": Kind("check", ("content", "solids", "coldest_c")),
    "strength-too-high": Kind("check", ("content", "ratio", "ratio_limit")),
    "phosphate-clouds": Kind("check", ("ph",)),
    "no-acid": Kind("check", ("alkalinity_meq_per_l",)),
    "water-assumed-pure": Kind("check"),
    "water-charge-gap": Kind("check", ("gap_percent",)),
    "water-ph-contradiction": Kind("check", ("ph", "alkalinity_meq_per_l")),
    "alkalinity-unknown": Kind("check"),
    "acid-strength-assumed": Kind("check", ("salt", "strength_percent")),
    "aim-nitrogen-contradiction": Kind("check", ("target_mg_per_l", "sum_mg_per_l")),
    "aim-charge-gap": Kind("check", ("gap_percent",)),
    "ammonium-share": Kind("check", ("share_percent", "limit_percent")),
    "scale-trace": Kind("check", ("salts",)),
    "scale-coarse": Kind("check", ("salt", "weight_g", "readability_g", "percent")),
    "chloride-high": Kind("check", ("feed_mg_per_l", "limit_mg_per_l")),
    "sodium-high": Kind("check", ("feed_mg_per_l", "limit_mg_per_l")),
    "chelate-ph": Kind("check", ("ph", "salts", "share_percent")),
    "ph-out-of-range": Kind("check", ("ph", "low_ph", "high_ph")),
    "ec-aim-missed": Kind("check", ("feed_ms_per_cm", "target_ms_per_cm")),
    "urea-used": Kind("check", ("feed_mg_per_l",)),
    "nothing-to-do": Kind("check"),
    "cheapest-out-of-range": Kind("check"),
    "fewest-out-of-range": Kind("check"),
    "cheapest-no-prices": Kind("check"),
    "acid-first": Kind("check", ("salts",)),
    "acid-late": Kind("check", ("salts",)),
    "acid-handling": Kind("check", ("salts",)),
    # note: good to know
    "acid-needed": Kind("note", ("alkalinity_meq_per_l", "target_meq_per_l")),
    "base-not-asked": Kind("note", ("short_meq_per_l",)),
    "silicate-first": Kind("note"),
    "oxidiser-handling": Kind("note", ("salts",)),
    "scale-capacity": Kind("note", ("salt", "weight_g", "capacity_g")),
    "scale-assumed": Kind("note"),
    "coldest-assumed": Kind("note", ("coldest_c",)),
    "unpriced-aside": Kind("note", ("entry_ids",)),
    "fewest-unproven": Kind("note", ("count", "at_least")),
    "price-missing": Kind("note", ("entry_ids",)),
    "label-only": Kind("note", ("entry_ids",)),
    "soft-water": Kind("note"),
    "memory-value": Kind("note", ("salts",)),
    "memory-crop": Kind("note", ("crop",)),
    "exact-only": Kind("note"),
}
"""Code -> kind, worst first within each level."""

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
    """Order by level, then by the registry; equal ones stay as they came."""
    return tuple(sorted(cautions, key=lambda c: (LOUDNESS[c.level], _ORDER[c.code])))
