"""Aims that make little sense: always an answer, always its reason, whatever is gone for."""

import math

import pytest

from core.plan import plan
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe

BAGS = [{"salt": "potassium-nitrate", "entry_id": f"bag {i}"} for i in range(6)]
PRICED = [{"salt": name, "price_per_kg": 1.0 + place} for place, name in enumerate(PLAIN)]

EXACT = {"tolerance_percent": 0}

ODD = {
    "identical salts": (recipe({"K": 100.0, "Ca": 50.0}, BAGS), {"target-short"}),
    "no tolerance": (
        recipe({}, PLAIN, aim={"targets": [{"nutrient": n, "mg_per_l": v} | EXACT for n, v in SIX.items()]}),
        {"target-short", "target-over"},
    ),
    "a limit below the water's own": (
        recipe(SIX, PLAIN, water=HARD, aim={"limits": [{"nutrient": "Na", "at_most_mg_per_l": 5}]}),
        {"limit-impossible"},
    ),
    "a target below the water's own": (
        recipe({"Ca": 60.0, "K": 100.0}, ["potassium-nitrate"], water=HARD),
        {"water-over-target"},
    ),
    "no prices": (recipe(SIX, PLAIN, goal="cheapest"), {"cheapest-no-prices"}),
    "all bounded": (recipe(SIX, [entry | {"at_most_mg_per_l": 10.0} for entry in PRICED]), {"target-short"}),
    "all fixed": (recipe(SIX, [entry | {"exactly_mg_per_l": 10.0} for entry in PRICED]), {"target-short"}),
    "all out": (recipe(SIX, [entry | {"exactly_mg_per_l": 0.0} for entry in PRICED]), {"nothing-to-do"}),
    "nothing aimed at": (recipe({}, PLAIN), {"nothing-to-do"}),
    "only what nothing brings": (recipe({"Mo": 0.05}, PLAIN), {"target-short"}),
    "limits that contradict each other": (
        recipe(
            SIX,
            PLAIN,
            aim={"limits": [{"nutrient": "K", "at_most_mg_per_l": 50}, {"nutrient": "P", "at_least_mg_per_l": 60}]},
        ),
        {"target-short", "target-over"},
    ),
    "bounds that contradict a limit": (
        recipe(
            SIX,
            [{"salt": "potassium-nitrate", "at_least_mg_per_l": 400}, *PLAIN[2:]],
            aim={"limits": [{"nutrient": "K", "at_most_mg_per_l": 50}]},
        ),
        {"limit-missed", "bound-missed"},
    ),
}  # fmt: skip


@pytest.mark.parametrize("goal", ["closest", "cheapest", "fewest"])
@pytest.mark.parametrize("name", ODD)
def test_there_is_an_answer_and_its_reason(name, goal):
    from msgspec.structs import replace

    made, reasons = ODD[name]
    goal = made.goal if made.goal != "closest" else goal
    told = plan(replace(made, goal=goal))
    assert all(math.isfinite(amount.mg_per_l) and amount.mg_per_l > 0.0 for amount in told.amounts)
    found = {caution.code for caution in told.cautions}
    assert found & (reasons | {f"{goal}-out-of-range", f"{goal}-no-prices"})
