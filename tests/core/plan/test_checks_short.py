"""A target that is not reached says why, and of several the furthest is told first."""

import pytest

from core.plan import plan
from tests.helpers.recipes import PLAIN, SIX, recipe

HELD = [{"salt": salt, "at_most_mg_per_l": 100.0} for salt in PLAIN]


def short(made):
    return [one.data for one in plan(made).cautions if one.code == "target-short"]


@pytest.mark.parametrize(
    ("made", "nutrient", "because"),
    [
        (recipe(SIX | {"Zn": 0.3}, PLAIN), "Zn", "no-source"),
        (recipe(SIX, HELD), "Ca", "held"),
        (recipe({"N": 300.0, "Ca": 100.0}, ["calcium-nitrate-tetrahydrate"]), "N", "rest"),
    ],
)
def test_why_it_is_short(made, nutrient, because):
    assert next(data["because"] for data in short(made) if data["nutrient"] == nutrient) == because


def test_the_furthest_first():
    percents = [data["percent"] for data in short(recipe(SIX, HELD))]
    assert len(percents) > 2
    assert percents == sorted(percents, reverse=True)
