"""A day at the bench, checked against answers worked out by separate arithmetic with the same inputs.

The recipes are invented; the answers are rounded to what a scale, a jug or a pen shows.
"""

import pytest

from core.bench.quantities import feed_from_tank_l, fl_oz_per_us_gallon_of_feed, grams_for_tank
from core.bench.weighing import weigh
from core.recipe.records import Scale

OUNCE_G = 2.834952 / 0.1
PAIL_L = 18.92706
BENCH, FINE = Scale(5000, 2.834952), Scale(200, 0.01)
PAILS = {
    "calcium nitrate": (590, 50.4), "potassium nitrate": (260, 22.2), "potassium phosphate": (155, 13.2),
    "magnesium sulfate": (310, 26.5),
}  # fmt: skip
TRACES = {"iron": (18, 43.61), "manganese": (1.6, 3.88), "zinc": (0.6, 1.45), "copper": (0.2, 0.48),
          "boric acid": (1.7, 4.12), "molybdate": (0.13, 0.32)}  # fmt: skip


def pail(mg_per_l):
    (weighing,) = weigh([grams_for_tank(mg_per_l, 128, PAIL_L)], (BENCH, FINE))
    return weighing


@pytest.mark.parametrize(("mg_per_l", "ounces"), PAILS.values(), ids=PAILS)
def test_heavy_salts_are_weighed_in_tenths_of_an_ounce(mg_per_l, ounces):
    weighing = pail(mg_per_l)
    assert weighing.scale == BENCH
    assert weighing.grams_to_weigh / OUNCE_G == pytest.approx(ounces, abs=1e-6)


@pytest.mark.parametrize(("mg_per_l", "grams"), TRACES.values(), ids=TRACES)
def test_light_salts_are_weighed_in_hundredths_of_a_gram(mg_per_l, grams):
    weighing = pail(mg_per_l)
    assert weighing.scale == FINE
    assert weighing.grams_to_weigh == grams


def test_copper_and_molybdate_are_under_fifty_steps():
    assert {name: pail(amount).advice for name, (amount, _) in TRACES.items()} == {
        "iron": "good", "manganese": "good", "zinc": "good", "copper": "check", "boric acid": "good",
        "molybdate": "check",
    }  # fmt: skip


def test_pails_say_one_ounce_a_gallon_and_feed_640_gallons():
    assert fl_oz_per_us_gallon_of_feed(128) == 1.0
    assert feed_from_tank_l(5, 128) == 640
