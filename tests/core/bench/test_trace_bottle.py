"""A trace bottle is wanted where a scale step is coarse against the tolerance, and then brings what the batch needs."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.bench.trace_bottle import plan_trace_bottle, wants_trace_bottle


def test_the_threshold_is_a_quarter_of_the_tolerance():
    assert not wants_trace_bottle(0.16, 0.01, 25.0)
    assert wants_trace_bottle(0.159, 0.01, 25.0)
    assert not wants_trace_bottle(0.159, 0.01, 25.0, share_of_nutrient=0.5)
    assert not wants_trace_bottle(0.0, 0.01, 25.0)


def test_molybdate_for_a_small_tank_is_weighed_a_hundred_times():
    bottle = plan_trace_bottle([0.0126], 0.01, [25.0])
    assert bottle.times == 50
    assert bottle.grams_to_dissolve == pytest.approx((0.63,))
    assert bottle.aliquot_ml == pytest.approx(20.0)
    assert bottle.good_enough


def test_one_bottle_serves_several_salts_and_the_lightest_decides():
    bottle = plan_trace_bottle([0.169, 0.0196, 0.0126], 0.01, [20.0, 25.0, 25.0])
    assert bottle.times == plan_trace_bottle([0.0126], 0.01, [25.0]).times
    assert bottle.grams_to_dissolve[0] == pytest.approx(0.169 * bottle.times)


def test_what_does_not_dissolve_is_not_asked_for():
    free = plan_trace_bottle([0.05], 0.1, [20.0])
    held = plan_trace_bottle([0.05], 0.1, [20.0], solubility_g_per_l=[2.0])
    assert free.times == 100
    assert held.times == 20
    assert held.grams_to_dissolve[0] <= 2.0
    assert free.good_enough
    assert not held.good_enough


@given(
    st.lists(st.floats(1e-4, 5.0), min_size=1, max_size=5),
    st.sampled_from([0.001, 0.01, 0.1, 1.0]),
    st.sampled_from([250.0, 500.0, 1000.0]),
)
def test_an_aliquot_brings_exactly_one_batch(grams, readability_g, bottle_ml):
    bottle = plan_trace_bottle(grams, readability_g, [20.0] * len(grams), bottle_ml)
    for weight, dissolved in zip(grams, bottle.grams_to_dissolve, strict=True):
        assert dissolved * bottle.aliquot_ml / bottle.bottle_ml == pytest.approx(weight)
        if bottle.good_enough:
            assert dissolved / readability_g >= 50 * (1 - 1e-9)
            assert not wants_trace_bottle(dissolved, readability_g, 20.0)
    assert bottle.times == 1 or bottle.aliquot_ml >= 5.0
