"""Injector and bleed by the tanks of a recipe."""

import pytest

from core.catalog.closed_loop import closed_loops
from core.plan import plan
from core.plan.feed_tanks import feed_tanks
from core.plan.running import bleeds, inflow_meq_per_l, injector_answer, loop_for, planned_rise_ms_per_cm
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe


@pytest.fixture(scope="module")
def tanks():
    return feed_tanks(recipe(SIX, [*PLAIN, "sodium-chloride"], water=HARD))


def test_the_rise_is_that_of_the_plan(tanks):
    feed = plan(tanks.recipe).feed
    assert planned_rise_ms_per_cm(tanks) == pytest.approx(feed.ec_ms_per_cm - feed.water_ec_ms_per_cm)


@pytest.mark.parametrize(
    ("hose", "verdict", "ratio"), [(1.74, "fine", 102.0), (1.65, "check", 108.6), (1.30, "off", 144.8)]
)
def test_an_injector_by_its_hose(tanks, hose, verdict, ratio):
    found = injector_answer(tanks, hose, 0.25, 1.52)
    assert (found.verdict, found.true_ratio) == (verdict, pytest.approx(ratio, abs=0.1))


def test_a_hose_of_plain_water_has_no_ratio(tanks):
    assert injector_answer(tanks, 0.25, 0.25).verdict == "nothing"


def test_what_comes_in_is_water_and_salts(tanks):
    feed = plan(tanks.recipe).feed.mg_per_l
    assert inflow_meq_per_l(tanks) == pytest.approx({"Na": feed["Na"] / 22.99, "Cl": feed["Cl"] / 35.45}, rel=1e-3)


def test_bleeds_of_every_crop_are_shares_or_none(tanks):
    for loop in closed_loops():
        for one in bleeds({"Na": 2.0, "Cl": 3.0}, loop):
            assert one.share is None or 0.0 <= one.share < 1.0
    hopeless = bleeds({"Na": 12.0, "Cl": 0.1}, loop_for("rose"))
    assert [one.share for one in hopeless] == [None, 0.0]
    assert loop_for("no crop") == closed_loops()[0]
