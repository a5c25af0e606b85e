"""Dosing: most of it first, then the rest from what the meter shows."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.bench.dosing import (
    DoseOutOfReach,
    NoRiseMeasured,
    dose_for_rise,
    finished_volume_l,
    linear_rise,
    plan_dose,
    plan_remainder,
    tabulated_rise,
    water_to_add_l,
)

K = linear_rise(0.15)


def curved(dose_ml_per_l):
    """A rise that flattens as feeds do: about 0.17 mS/cm per mL/L at first, 0.14 at 12 mL/L."""
    return 0.17 * dose_ml_per_l / (1 + 0.018 * dose_ml_per_l)


def test_the_whole_dose_and_its_first_part():
    dose = plan_dose(400.0, 0.9875, 1.8, K)
    assert dose.each_ml_per_l == pytest.approx(5.41667, rel=1e-5)
    assert dose.each_l == pytest.approx(2.166667, rel=1e-6)
    assert dose.first_each_l == pytest.approx(0.8 * dose.each_l)
    assert dose.expected_ec_ms_per_cm == pytest.approx(0.9875 + 0.8 * 0.8125)


def test_feed_that_is_strong_enough_takes_nothing():
    assert plan_dose(400.0, 2.0, 1.8, K).each_l == 0.0
    assert plan_dose(400.0, 2.0, 1.8, K).expected_ec_ms_per_cm == 2.0


def test_a_table_is_read_between_its_points_and_goes_on_past_the_last():
    rise = tabulated_rise([0, 5, 10], [0.3, 1.1, 1.8])
    assert rise(2.5) == pytest.approx(0.4)
    assert rise(10) == pytest.approx(1.5)
    assert rise(12) == pytest.approx(1.5 + 2 * 0.14)


def test_an_unreachable_ec_is_refused_with_the_nearest():
    with pytest.raises(DoseOutOfReach) as refused:
        dose_for_rise(9.0, lambda dose: 2.0 * dose / (dose + 5.0))
    assert refused.value.nearest_ms_per_cm == pytest.approx(2.0, rel=0.01)


def test_a_reading_that_did_not_rise_gives_no_remainder():
    with pytest.raises(NoRiseMeasured):
        plan_remainder(100, 0.5, 1.0, 0.5, 1.6, K)
    with pytest.raises(NoRiseMeasured):
        plan_remainder(100, 0.5, 0.0, 0.9, 1.6, K)


def test_too_strong_a_feed_is_thinned_with_the_water_at_hand():
    assert water_to_add_l(100, 2.0, 1.5, 0.5) == pytest.approx(50.0)
    assert water_to_add_l(100, 1.2, 1.5, 0.5) == 0.0
    with pytest.raises(DoseOutOfReach):
        water_to_add_l(100, 2.0, 1.5, 1.6)


def test_the_water_at_hand_may_differ_from_what_the_reservoir_started_with():
    from_start = plan_remainder(100, 0.9, 0.5, 1.9, 1.6, K)
    from_water = plan_remainder(100, 0.9, 0.5, 1.9, 1.6, K, water_ms_per_cm=0.3)
    assert from_start.water_to_add_l == pytest.approx(100 * 0.3 / 0.7)
    assert from_water.water_to_add_l == pytest.approx(100 * 0.3 / 1.3)
    assert from_start.more_each_l == from_water.more_each_l == 0.0


def test_concentrate_on_top_of_water_makes_more_feed():
    volume = finished_volume_l(100.0, 10.0, 2)
    assert volume == pytest.approx(100 / 0.98)
    assert volume - 2 * 10.0 * volume / 1000 == pytest.approx(100.0)


@given(st.floats(0.02, 5.0))
def test_the_dose_found_gives_the_rise_wanted(rise_ms_per_cm):
    assert curved(dose_for_rise(rise_ms_per_cm, curved)) == pytest.approx(rise_ms_per_cm, rel=1e-9)


@given(st.floats(0.6, 1.6), st.floats(0.0, 0.8), st.floats(0.9, 2.5), st.sampled_from([K, curved]))
def test_a_wrong_forecast_still_ends_at_the_target(true_factor, start, target, rise):
    """The tanks rise `true_factor` times as fast as foretold: after the second pour, or the water, EC is right."""
    if target - start < 0.05:
        target = start + 0.05
    dose = plan_dose(500.0, start, target, rise)
    measured = start + true_factor * rise(1000 * dose.first_each_l / 500)
    rest = plan_remainder(500.0, start, dose.first_each_l, measured, target, rise)
    assert rest.factor == pytest.approx(true_factor)
    if measured > target:
        mixed = (500 * measured + rest.water_to_add_l * start) / (500 + rest.water_to_add_l)
    else:
        mixed = start + true_factor * rise(1000 * (dose.first_each_l + rest.more_each_l) / 500)
    assert mixed == pytest.approx(target, rel=1e-6)
    assert math.isfinite(mixed)
