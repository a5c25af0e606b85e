"""Remarks on a dosing that its own story seldom meets."""

import pytest

from core.plan.feed_tanks import feed_tanks
from core.plan.feeding import walk
from core.plan.feeding_records import Asked, Done, Feeding
from tests.helpers.recipes import two_jugs


@pytest.fixture(scope="module")
def jugs():
    return feed_tanks(two_jugs())


def once_ec_stands(tanks, asked: Asked, ph: float) -> Feeding:
    """Everything goes as told up to the pH, which is read."""
    here = walk(tanks, asked)
    while here.now.kind != "read-ph":
        here = here.after(Done())
    return here.after(Done(ph=ph)).told()


@pytest.mark.parametrize(
    ("product", "wanted_ph", "read_ph"), [("potassium-bicarbonate", 9.5, 5.0), ("citric-acid", 1.5, 6.5)]
)
def test_a_ph_its_product_does_not_reach_is_told_and_nothing_is_poured_for_it(jugs, product, wanted_ph, read_ph):
    asked = Asked(151.4, 1.6, 0.35, wanted_ph=wanted_ph, product=product)
    told = once_ec_stands(jugs, asked, read_ph)
    assert [(one.level, one.code, one.data) for one in told.remarks] == [("check", "ph-out-of-reach", {"ph": read_ph})]
    assert told.step.kind == "finish"
    assert told.drops == ()


def test_a_ph_its_product_reaches_is_not_remarked_on(jugs):
    asked = Asked(151.4, 1.6, 0.35, wanted_ph=6.5, product="potassium-bicarbonate")
    told = once_ec_stands(jugs, asked, 5.0)
    assert told.remarks == ()
    assert told.step.kind == "base"
