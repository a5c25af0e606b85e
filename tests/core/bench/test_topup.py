"""Topping up: what the mix shows and what is to be added."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.bench.dosing import linear_rise
from core.bench.topup import (
    mixed_ec_ms_per_cm,
    plan_top_up,
    refill_ec_ms_per_cm,
    refill_mg_per_l,
    stock_to_add_l,
)


def test_a_refill_lies_between_water_and_feed():
    assert refill_ec_ms_per_cm(0.3, 1.8, 0.0) == pytest.approx(0.3)
    assert refill_ec_ms_per_cm(0.3, 1.8, 0.5) == pytest.approx(1.05)
    assert refill_ec_ms_per_cm(0.3, 1.8, 1.0) == pytest.approx(1.8)


def test_filling_up_and_dosing_is_one_plan():
    plan = plan_top_up(250, 1.4, 150, 0.3, 1.8, linear_rise(0.15))
    assert plan.volume_l == 400
    assert plan.mixed_ms_per_cm == pytest.approx(0.9875)
    assert plan.dose.each_l == pytest.approx(2.166667, rel=1e-6)


@given(
    st.floats(10, 500), st.floats(0.5, 3.0), st.floats(0.0, 500), st.floats(0.0, 0.4), st.floats(0.5, 3.0)
)  # fmt: skip
def test_stock_and_water_bring_the_rest_to_the_target(left_l, left_ec, added_l, water_ec, target_ec):
    final_l = left_l + added_l
    stock_l = stock_to_add_l(final_l, target_ec, left_l, left_ec, water_ec, 20.0)
    mixed = mixed_ec_ms_per_cm(((left_l, left_ec), (stock_l, 20.0), (added_l - stock_l, water_ec)))
    assert mixed == pytest.approx(target_ec)


def test_a_refill_holds_what_the_plant_builds_in():
    assert refill_mg_per_l(5.0, 3.0) == pytest.approx(150.0)
    assert refill_mg_per_l(5.0, 6.0) == pytest.approx(300.0)
