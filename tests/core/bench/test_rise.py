"""EC against dose."""

import pytest

from core.bench.rise import ec_by_dose
from core.plan import derive, solve
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe


@pytest.fixture(scope="module")
def hard():
    made = recipe(SIX, [*PLAIN, {"salt": "nitric-acid", "strength_percent": 60}], water=HARD)
    blend = solve(made)
    return blend, derive(made, blend)


def curve(hard, doses, full=10.0):
    blend, plan = hard
    in_tanks = {content.entry_id for tank in plan.tanks for content in tank.contents}
    return ec_by_dose(blend, doses, full, in_tanks, {"nitric-acid"})


def test_the_full_dose_makes_the_planned_feed(hard):
    assert curve(hard, [10.0]) == (pytest.approx(hard[1].feed.ec_ms_per_cm, rel=1e-9),)


def test_no_dose_is_the_water_with_its_acid(hard):
    """Acid trades bicarbonate (44.5) for nitrate (71.4 S cm2/mol): the water conducts a little more, not less."""
    (none,) = curve(hard, [0.0])
    assert hard[1].feed.water_ec_ms_per_cm < none < 1.25 * hard[1].feed.water_ec_ms_per_cm


def test_it_rises_ever_more_slowly(hard):
    readings = curve(hard, [0.0, 5.0, 10.0, 15.0])
    rises = [after - before for before, after in zip(readings, readings[1:], strict=False)]
    assert rises == sorted(rises, reverse=True)
    assert min(rises) > 0.3


def test_beyond_the_chemistry_there_is_no_figure(hard):
    assert curve(hard, [10000.0]) == (None,)
