"""The trace bottle: weigh many times the amount once, dissolve it to a known volume, measure out millilitres."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from core.bench.weighing import GOOD_DIVISIONS

TOLERANCE_SHARE = 0.25
"""A bottle is wanted when one scale step is more than this share of the nutrient's tolerance."""

LEAST_ALIQUOT_ML = 5.0
"""Smaller volumes are not measured well with a syringe or a small cylinder (this program's own choice)."""

TIMES = (2, 5, 10, 20, 50, 100, 200, 500, 1000)
"""How many batches one bottle may serve: numbers a person can divide by."""


@dataclass(frozen=True)
class TraceBottle:
    """How to make and use one bottle.

    Attributes
    ----------
    times : batches the bottle holds, aliquot by aliquot
    grams_to_dissolve : (n_items,) weights for the whole bottle, not yet fitted to a scale [g]
    bottle_ml : volume to fill up to [mL]
    aliquot_ml : volume for one batch [mL]
    good_enough : False where even the largest bottle leaves a weight too small for the scale
    """

    times: int
    grams_to_dissolve: tuple[float, ...]
    bottle_ml: float
    aliquot_ml: float
    good_enough: bool


def wants_trace_bottle(
    grams: float, readability_g: float, tolerance_percent: float, share_of_nutrient: float = 1.0
) -> bool:
    """Tell whether one scale step [g] is more than a quarter of the tolerance [%] of the nutrient this weight serves.

    `share_of_nutrient` is the part (0 to 1) of the feed's nutrient that comes from this product.
    """
    if grams <= 0:
        return False
    step_percent = 100.0 * readability_g / grams * share_of_nutrient
    return step_percent > TOLERANCE_SHARE * tolerance_percent


def plan_trace_bottle(
    grams: Sequence[float],
    readability_g: float,
    tolerance_percent: Sequence[float],
    bottle_ml: float = 1000.0,
    solubility_g_per_l: Sequence[float | None] | None = None,
) -> TraceBottle:
    """Plan one bottle for products that may stand together, the same aliquot serving them all.

    The least number of batches is taken that gives every weight 50 scale steps and holds one step within a quarter of
    its tolerance, as far as the aliquot stays at 5 mL or more and everything dissolves.

    Parameters
    ----------
    grams : (n_items,) weights for one batch, each over 0 [g]
    readability_g : step of the scale that will be used [g]
    tolerance_percent : (n_items,) tolerance of the nutrient each serves [%]
    bottle_ml : volume the bottle is filled up to [mL]
    solubility_g_per_l : (n_items,) what dissolves of each at room temperature [g/L], None where unknown
    """
    wanted = max(
        max(GOOD_DIVISIONS, 100.0 / (TOLERANCE_SHARE * tolerance)) * readability_g / weight
        for weight, tolerance in zip(grams, tolerance_percent, strict=True)
    )
    most = min(bottle_ml / LEAST_ALIQUOT_ML, _most_that_dissolves(grams, bottle_ml, solubility_g_per_l))
    allowed = [times for times in TIMES if times <= most] or [1]
    times = next((times for times in allowed if times >= wanted), allowed[-1])
    weights = tuple(times * weight for weight in grams)
    return TraceBottle(times, weights, bottle_ml, bottle_ml / times, times >= wanted)


def _most_that_dissolves(grams: Sequence[float], bottle_ml: float, limits: Sequence[float | None] | None) -> float:
    """Batches until the first product no longer dissolves in the bottle."""
    known = [(weight, limit) for weight, limit in zip(grams, limits or (), strict=False) if limit is not None]
    return min((limit * bottle_ml / 1000.0 / weight for weight, limit in known), default=math.inf)
