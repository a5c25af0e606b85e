"""An aim that names an EC."""

import pytest

from core.blend.solve import solve
from core.blend.strength import ec_ms_per_cm
from tests.helpers.recipes import PLAIN, SIX, recipe


def reached(wanted_ms_per_cm):
    blend = solve(recipe(SIX, PLAIN, aim={"ec_ms_per_cm": wanted_ms_per_cm}))
    return ec_ms_per_cm(blend.totals, blend.alkalinity)


@pytest.mark.parametrize("wanted_ms_per_cm", [0.8, 1.6, 3.0])
def test_the_macros_are_scaled_to_it(wanted_ms_per_cm):
    assert reached(wanted_ms_per_cm) == pytest.approx(wanted_ms_per_cm, abs=0.01)


@pytest.mark.parametrize("wanted_ms_per_cm", [15.0, 20.0, 40.0])
def test_beyond_what_the_chemistry_holds_for_the_nearest_feed_with_an_ec_is_the_answer(wanted_ms_per_cm):
    ec = reached(wanted_ms_per_cm)
    assert ec is not None
    assert ec < wanted_ms_per_cm
