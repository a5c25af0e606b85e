"""Dosing: the dose for a rise, and water where it came out too strong."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.bench.dosing import DoseOutOfReach, dose_for_rise, tabulated_rise, water_to_add_l


def curved(dose_ml_per_l):
    """A rise that flattens as feeds do: about 0.17 mS/cm per mL/L at first, 0.14 at 12 mL/L."""
    return 0.17 * dose_ml_per_l / (1 + 0.018 * dose_ml_per_l)


def test_feed_that_is_strong_enough_takes_nothing():
    assert dose_for_rise(-0.2, curved) == dose_for_rise(0.0, curved) == 0.0


def test_a_table_is_read_between_its_points_and_goes_on_past_the_last():
    rise = tabulated_rise([0, 5, 10], [0.3, 1.1, 1.8])
    assert rise(2.5) == pytest.approx(0.4)
    assert rise(10) == pytest.approx(1.5)
    assert rise(12) == pytest.approx(1.5 + 2 * 0.14)


def test_an_unreachable_ec_is_refused_with_the_nearest():
    with pytest.raises(DoseOutOfReach) as refused:
        dose_for_rise(9.0, lambda dose: 2.0 * dose / (dose + 5.0))
    assert refused.value.nearest_ms_per_cm == pytest.approx(2.0, rel=0.01)


def test_too_strong_a_feed_is_thinned_with_the_water_at_hand():
    assert water_to_add_l(100, 2.0, 1.5, 0.5) == pytest.approx(50.0)
    assert water_to_add_l(100, 1.2, 1.5, 0.5) == 0.0
    with pytest.raises(DoseOutOfReach):
        water_to_add_l(100, 2.0, 1.5, 1.6)


@given(st.floats(0.02, 5.0))
def test_the_dose_found_gives_the_rise_wanted(rise_ms_per_cm):
    assert curved(dose_for_rise(rise_ms_per_cm, curved)) == pytest.approx(rise_ms_per_cm, rel=1e-9)
