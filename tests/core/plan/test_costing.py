"""What a recipe costs, and which bags to buy."""

import pytest

from core.plan import plan
from core.plan.costing import Use, costing
from tests.helpers.recipes import recipe

SHELF = [
    {
        "salt": "potassium-nitrate",
        "exactly_mg_per_l": 500.0,
        "price_per_kg": 1.4,
        "pack_kg": 25,
        "priced_on": "2026-05-01",
    },
    {"salt": "calcium-nitrate-tetrahydrate", "exactly_mg_per_l": 1000.0, "price_per_kg": 0.7, "pack_kg": 25},
]
BATCH = {"batch": {"tank_volume_l": 50}, "tanks": {"ratio": 100}, "currency": "EUR"}


def cost(shelf, use=None):
    made = recipe({}, shelf, **BATCH)
    return costing(made, plan(made), use)


def test_by_hand():
    found = cost(SHELF, Use(100_000.0, litres_per_m2_season=800.0))
    assert found.per_1000_l == pytest.approx(0.5 * 1.4 + 1.0 * 0.7)
    assert found.per_100_us_gal == pytest.approx(1.4 * 0.378541, rel=1e-5)
    assert found.per_m2_season == pytest.approx(1.12)
    bags = {bag.entry_id: bag for bag in found.bags}
    nitrate = bags["potassium-nitrate"]
    assert (nitrate.needed_kg, nitrate.packs, nitrate.left_over_kg) == pytest.approx((50.0, 2, 0.0))
    assert nitrate.pays == pytest.approx(70.0)
    assert nitrate.priced_on == "2026-05-01"
    assert bags["calcium-nitrate-tetrahydrate"].packs == 4
    assert found.bags_pay == pytest.approx(70.0 + 70.0)


def test_tanks_cost_what_stands_in_them_and_one_filling_is_the_default():
    found = cost(SHELF)
    assert found.feed_l == 5000.0
    assert sum(found.per_tank.values()) == pytest.approx(found.per_1000_l * 5.0)
    assert found.bags[0].packs == 1
    assert found.bags[0].left_over_kg == pytest.approx(20.0)


def test_a_missing_price_is_named_and_nothing_is_assumed():
    found = cost([SHELF[0], {"salt": "calcium-nitrate-tetrahydrate", "exactly_mg_per_l": 1000.0}])
    assert found.missing == ("calcium-nitrate-tetrahydrate",)
    assert found.per_1000_l is found.per_100_us_gal is found.bags_pay is None
    assert None in found.per_tank.values()
    assert next(bag for bag in found.bags if bag.entry_id == "calcium-nitrate-tetrahydrate").packs is None


def test_a_season_on_an_area():
    found = cost(SHELF, Use.on_area(800.0, 125.0))
    assert found.feed_l == 100_000.0
    assert found.per_m2_season == pytest.approx(1.12)
