"""The lines of the aim: wanted, brought by the water, reached, and the word for it."""

from __future__ import annotations

from typing import Literal

from core.blend.demands import target_row
from core.blend.nutrients import ROW
from core.blend.solve import Blend
from core.plan.records import NutrientRow
from core.recipe.records import NUTRIENTS

ALWAYS_SHOWN = ("N", "NH4-N", "P", "K", "Ca", "Mg", "S", "Fe", "Mn", "Zn", "B", "Cu", "Mo", "Na", "Cl")

Verdict = Literal["met", "fine", "short", "over"]

ROUNDING = 1e-4
"""Relative distance from a bound that still counts as on it: solver round-off, far below any scale."""


def _verdict(feed: float, low: float | None, high: float | None, *, target: bool) -> Verdict:
    if low is not None and feed < low * (1.0 - ROUNDING):
        return "short"
    if high is not None and feed > high * (1.0 + ROUNDING) + 1e-9:
        return "over"
    return "met" if target else "fine"


def _on_the_line(feed: float, low: float | None, high: float | None) -> float:
    """A feed within round-off of a bound stands on it, so that what is shown never contradicts the word beside it."""
    for bound in (low, high):
        if bound is not None and abs(feed - bound) <= ROUNDING * bound:
            return bound
    return feed


def _targeted(blend: Blend, nutrient: str) -> bool:
    return any(target.nutrient == nutrient for target in blend.aim.targets)


def _limits(blend: Blend) -> dict[str, tuple[float | None, float | None]]:
    """At least and at most, per nutrient, from the aim and from the defaults the solve used [mg/L]."""
    limits: dict[str, tuple[float | None, float | None]] = {}
    for limit in blend.aim.limits:
        low, high = limits.get(limit.nutrient, (None, None))
        limits[limit.nutrient] = (limit.at_least_mg_per_l or low, _first(limit.at_most_mg_per_l, high))
    for row in blend.demands.limits:
        if row.code == "chloride":
            limits["Cl"] = (None, row.bound)
        if row.code == "ammonium-share" and "NH4-N" not in limits and not _targeted(blend, "NH4-N"):
            limits["NH4-N"] = (None, row.asked / 100.0 * float(blend.nutrients_mg_per_l[ROW["N"]]))
    return limits


def _first(value: float | None, other: float | None) -> float | None:
    return other if value is None else value


def nutrient_rows(blend: Blend) -> tuple[NutrientRow, ...]:
    """One row per nutrient that is asked for, limited or usually looked at."""
    targets = {target.nutrient: target for target in blend.aim.targets}
    limits = _limits(blend)
    rows = []
    held = zip(NUTRIENTS, blend.water_mg_per_l.tolist(), blend.nutrients_mg_per_l.tolist(), strict=True)
    for nutrient, water, feed in held:
        if nutrient not in ALWAYS_SHOWN and nutrient not in targets and nutrient not in limits:
            continue
        low, high = limits.get(nutrient, (None, None))
        wanted = None
        if nutrient in targets:
            row = target_row(targets[nutrient])
            wanted = row.target
            low = row.low if low is None else max(low, row.low)
            high = row.high if high is None else min(high, row.high)
        feed = _on_the_line(feed, low, high)
        verdict = _verdict(feed, low, high, target=wanted is not None)
        rows.append(NutrientRow(nutrient, wanted, low, high, water, feed, verdict))
    return tuple(rows)
