"""Topping up: what the mix shows and what a refill must hold."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.bench.topup import mixed_ec_ms_per_cm, refill_mg_per_l

LITRES, EC = st.floats(0.1, 500), st.floats(0.0, 20.0)


@given(LITRES, EC, LITRES, EC)
def test_a_mix_lies_between_its_parts_nearer_the_larger(one_l, one_ec, other_l, other_ec):
    mixed = mixed_ec_ms_per_cm(((one_l, one_ec), (other_l, other_ec)))
    assert mixed == pytest.approx(one_ec + (other_ec - one_ec) * other_l / (one_l + other_l))


def test_a_refill_holds_what_the_plant_builds_in():
    assert refill_mg_per_l(5.0, 3.0) == pytest.approx(150.0)
    assert refill_mg_per_l(5.0, 6.0) == pytest.approx(300.0)
