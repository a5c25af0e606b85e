"""Feeds of the invented stories through the whole plan: strength and pH at another dilution, and chemistry in full.

Answers by separate arithmetic with the same label contents; EC 2 %, amounts 0.5 %, pH 0.1.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from msgspec import structs

from core.plan import plan, solve
from core.plan.chemistry_details import feed_chemistry
from core.plan.titration import titration
from core.recipe import load
from core.recipe.records import Recipe

STORIES = Path(__file__).parent / "stories"
FL_OZ_L, US_GAL_L = 0.0295735, 3.785412


def diluted(recipe: Recipe, share: float) -> Recipe:
    shelf = tuple(
        entry
        if entry.exactly_mg_per_l is None
        else structs.replace(entry, exactly_mg_per_l=share * entry.exactly_mg_per_l)
        for entry in recipe.shelf
    )
    return structs.replace(recipe, shelf=shelf)


def test_two_ounces_of_each_in_five_gallons() -> None:
    """2 fl oz of each jug in 5 US gal of the same water: N 48.7 mg/L, EC 0.80."""
    recipe = load(STORIES / "us_two_jugs.saltwright")
    made = plan(diluted(recipe, 2.0 * FL_OZ_L / (5.0 * US_GAL_L) / 0.010))
    assert made.feed.mg_per_l["N"] == pytest.approx(48.7, rel=5e-3)
    assert made.feed.ec_ms_per_cm == pytest.approx(0.80, rel=0.02)


def test_hard_water_story_titrated() -> None:
    """375.7 mL of the acid per 1000 L are where the curve meets the plan; EC 1.77 by the sum over all forms too."""
    recipe = load(STORIES / "hard_water_nitric.saltwright")
    blend = solve(recipe)
    curve = titration(recipe, blend, "nitric-acid")
    assert curve.planned_dose == pytest.approx(375.7, rel=0.02)
    assert curve.dose_for(curve.ph_planned[0]) == pytest.approx(375.7, rel=0.02)
    told = feed_chemistry(blend)
    assert told.ec_ms_per_cm == pytest.approx(1.77, rel=0.02)
    assert curve.ph_planned == pytest.approx((told.ph, told.ph_aired))
