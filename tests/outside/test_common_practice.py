"""What growers see at the bench, as check values. Marked "common practice": known from many benches, no one source."""

import pytest

from core.plan import plan
from tests.helpers.recipes import PLAIN, SIX, recipe

OUNCE_G, US_GALLON_L, FL_OZ_PER_US_GALLON = 28.349523, 3.785412, 128.0

ALL_BUT_CALCIUM = {
    "nitrate-rich": {"NO3-N": 7, "P2O5": 9, "K2O": 29, "Mg": 3.2, "S": 4.1, "Fe": 0.28},
    "low-nitrogen": {"NO3-N": 5, "P2O5": 12, "K2O": 26, "Mg": 4, "S": 5.5, "Fe": 0.3},
    "potash-rich": {"NO3-N": 4, "P2O5": 15, "K2O": 33, "Mg": 3, "S": 6, "Fe": 0.3},
}
SOFT = {"name": "town", "mg_per_l": {"Ca": 32, "Mg": 8, "Na": 15, "K": 2, "Cl": 18, "S": 13.6, "HCO3": 97.6}, "ph": 7.6}


@pytest.mark.parametrize(("pounds", "ounces", "per_gallon"), [(7, 14, 12.6), (6, 5, 10.1)])
def test_a_labels_ten_gallon_weights_in_ounces_per_gallon(pounds, ounces, per_gallon):
    """Common practice: 7 lb 14 oz and 6 lb 5 oz per 10 US gal are 12.6 and 10.1 oz per US gal."""
    from core.units import read_quantity

    grams = read_quantity(f"{pounds} lb {ounces} oz", "mass", "g").value
    assert grams / 10.0 / OUNCE_G == pytest.approx(per_gallon, abs=0.05)


def jug_mg_per_l(ounces_per_gallon: float, fl_oz: float, reservoir_gallons: float) -> float:
    grams_per_l = ounces_per_gallon * OUNCE_G / US_GALLON_L
    return 1000.0 * grams_per_l * fl_oz / (reservoir_gallons * FL_OZ_PER_US_GALLON)


@pytest.mark.parametrize("label", ALL_BUT_CALCIUM.values(), ids=ALL_BUT_CALCIUM)
def test_two_fluid_ounces_of_each_part_in_five_gallons_raise_ec_by_about_point_seven(label):
    """Common practice: about 0.7 mS/cm; 0.55 to 0.85 covers plausible blends."""
    shelf = [
        {"salt": "blend:all but calcium", "label_percent": label, "exactly_mg_per_l": jug_mg_per_l(12.6, 2, 5)},
        {"salt": "calcium-nitrate-greenhouse", "exactly_mg_per_l": jug_mg_per_l(10.1, 2, 5)},
    ]
    feed = plan(recipe({}, shelf, water=SOFT)).feed
    assert 0.55 <= feed.ec_ms_per_cm - feed.water_ec_ms_per_cm <= 0.85
    assert feed.ph < 7.6, "the feed itself lowers the pH of the water"


def test_acid_hardly_moves_ec():
    """Common practice: neutralising town water with phosphoric acid is not seen on an EC meter."""
    acid = {"salt": "phosphoric-acid", "strength_percent": 85, "exactly_mg_per_l": 80.0}
    salts = [{"salt": "potassium-nitrate", "exactly_mg_per_l": 500.0}]
    without, with_acid = (plan(recipe({}, shelf, water=SOFT)).feed for shelf in (salts, [*salts, acid]))
    assert with_acid.ph < without.ph - 0.5
    assert with_acid.ec_ms_per_cm == pytest.approx(without.ec_ms_per_cm, abs=0.05)


@pytest.mark.parametrize(("count", "verdict"), [(1, "settles"), (2, "clear")])
def test_calcium_beside_phosphate_settles_in_one_hundredfold_concentrate_and_not_apart(count, verdict):
    """Common practice: both drop out of one 100x jug, and neither does in the feed."""
    made = plan(recipe(SIX, PLAIN, tanks={"count": count, "ratio": 100, "temperature_c": 20, "coldest_c": 15}))
    assert {tank.verdict for tank in made.tanks} == {verdict}
    assert made.feed.saturation_index["gypsum"] < 0.0
    assert made.feed.saturation_index["brushite"] < 0.0
