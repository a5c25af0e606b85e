"""Amounts for a tank and the two ways of saying a dilution."""

import pytest

from core.bench.quantities import (
    feed_from_tank_l,
    fl_oz_per_us_gallon_of_feed,
    grams_for_tank,
    millilitres,
    ml_per_l_of_feed,
)

US_GALLON_L = 3.785411784


def test_grams_for_a_tank_follow_ratio_and_volume():
    assert grams_for_tank(885.5, 100, 50) == pytest.approx(4427.5)
    assert grams_for_tank(0.13, 128, 5 * US_GALLON_L) == pytest.approx(0.315, abs=5e-4)


def test_a_litre_of_nitric_acid_weighs_its_density():
    assert millilitres(1367.3, 1.3673) == pytest.approx(1000.0)


def test_a_ratio_of_one_hundred_is_ten_millilitres_in_a_litre():
    assert ml_per_l_of_feed(100) == 10.0
    assert fl_oz_per_us_gallon_of_feed(100) == 1.28
    assert fl_oz_per_us_gallon_of_feed(128) == 1.0


def test_five_gallon_pails_at_one_in_128_feed_640_gallons():
    assert feed_from_tank_l(5 * US_GALLON_L, 128) / US_GALLON_L == pytest.approx(640.0)


@pytest.mark.parametrize("ratio", [50, 64, 100, 128, 200])
def test_both_ways_of_saying_a_dilution_mean_the_same(ratio):
    fl_oz_ml = US_GALLON_L * 1000 / 128
    assert fl_oz_per_us_gallon_of_feed(ratio) * fl_oz_ml / US_GALLON_L == pytest.approx(ml_per_l_of_feed(ratio))
