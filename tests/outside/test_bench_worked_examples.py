"""Worked examples of the trade, each with its source beside it."""

import pytest

from core.bench.dosing import dose_for_rise
from core.bench.injector import bleed_share, injector_share
from core.bench.quantities import grams_for_tank
from core.bench.topup import mixed_ec_ms_per_cm, refill_mg_per_l

OUNCE_G, US_GAL_L = 28.349523125, 3.785411784


@pytest.mark.parametrize(("percent_n", "ppm_n", "ounces"), [(20, 200, 13.5), (15, 200, 18.0)])
def test_ounces_for_100_gallons(percent_n, ppm_n, ounces):
    """UMass Extension, fertilizer calculations for greenhouse crops: 20 % N at 200 ppm is 13.5 oz, 15 % N 18 oz."""
    grams = grams_for_tank(ppm_n * 100 / percent_n, 1, 100 * US_GAL_L)
    assert grams / OUNCE_G == pytest.approx(ounces, rel=0.015)


@pytest.mark.parametrize(("percent_n", "ounces"), [(20, 10.1), (10, 20.3)])
def test_ounces_for_100_gallons_at_150_ppm(percent_n, ounces):
    """Mattson 2010, GrowerTalks: 150 ppm N takes 10.1 oz at 20 % N and 20.3 oz at 10 % N."""
    grams = grams_for_tank(150 * 100 / percent_n, 1, 100 * US_GAL_L)
    assert grams / OUNCE_G == pytest.approx(ounces, rel=0.015)


def test_top_up_with_water_and_both_parts():
    """Mass balance by hand: 250 L at 1.4 and 150 L of water at 0.3 make 0.9875; to 1.8 at 0.15 it is 2.167 L each."""
    mixed = mixed_ec_ms_per_cm(((250, 1.4), (150, 0.3)))
    assert mixed == pytest.approx(0.9875)
    each_ml_per_l = dose_for_rise(1.8 - mixed, lambda dose: 0.15 * dose)
    assert each_ml_per_l == pytest.approx(5.417, abs=5e-4)
    assert each_ml_per_l * 400 / 1000 == pytest.approx(2.167, abs=5e-4)


@pytest.mark.parametrize(("strength", "ec_ms_per_cm"), [(0.0, 1.73), (0.5, 1.91), (1.0, 2.10)])
def test_three_customs_of_topping_up_end_apart(strength, ec_ms_per_cm):
    """Mass balance by hand: 300 L grown to 2.2, filled to 400 L with water of 0.3, half, or full feed of 1.8."""
    parts = ((300, 2.2), (100 * (1 - strength), 0.3), (100 * strength, 1.8))
    assert mixed_ec_ms_per_cm(parts) == pytest.approx(ec_ms_per_cm, abs=0.0051)


@pytest.mark.parametrize(("percent", "mg_per_l"), [(4.5, 150), (0.5, 16.7), (5.0, 167), (0.3, 10)])
def test_refill_from_the_leaf_and_the_water_used(percent, mg_per_l):
    """Nemali, Purdue, slides on lettuce: 300 L of water per kg dry weight; leaf 4.5 N, 0.5 P and Ca, 5 K, 0.3 Mg %."""
    assert refill_mg_per_l(percent, 1000 / 300) == pytest.approx(mg_per_l, rel=0.004)


def test_injector_check_by_the_hose():
    """Figures of an extension service: (1.74 - 0.25) / 1.52 is 98 % of the set ratio."""
    assert round(injector_share(1.74, 0.25, 1.52), 2) == 0.98


@pytest.mark.parametrize(
    ("crop", "inflow", "uptake", "most", "percent"),
    [
        ("tomato", 2, 1.0, 10, 11), ("pepper", 2, 0.8, 8, 17), ("rose", 2, 0.3, 6, 30),
        ("tomato", 1, 1.0, 10, 0), ("pepper", 1, 0.8, 8, 3), ("rose", 1, 0.3, 6, 12),
    ],
)  # fmt: skip
def test_bleed_for_sodium(crop, inflow, uptake, most, percent):
    """Sodium uptake and maxima [mmol/L] of Agri Kultuur, March 2016, table 1; the shares follow by steady state."""
    assert 100 * bleed_share(inflow, uptake, most) == pytest.approx(percent, abs=0.5), crop
