"""The injector check and the bleed of a closed loop."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.bench.injector import bleed_share, injector_share, ratio_from_share


def test_an_injector_that_gives_less_works_at_a_weaker_ratio():
    share = injector_share(1.74, 0.25, 1.52)
    assert share == pytest.approx(0.980, abs=5e-4)
    assert ratio_from_share(100, share) == pytest.approx(102.0, abs=0.1)


def test_no_bleed_where_the_crop_takes_it_all():
    assert bleed_share(1.0, 1.0, 10.0) == 0.0
    assert bleed_share(0.5, 1.0, 10.0) == 0.0


def test_no_bleed_holds_a_limit_the_water_itself_exceeds():
    assert bleed_share(12.0, 1.0, 10.0) > 1.0
    assert bleed_share(3.0, 2.0, 1.0) == math.inf


@given(st.floats(0.1, 5.0), st.floats(0.0, 2.0), st.floats(6.0, 20.0))
def test_in_the_long_run_as_much_leaves_as_comes_in(inflow, uptake, most):
    bleed = bleed_share(inflow, uptake, most)
    if bleed:
        assert uptake * (1 - bleed) + most * bleed == pytest.approx(inflow)
