"""The curve of cost against fit: corners, convexity, and every point of it against a programme of its own."""

import numpy as np
import pytest
from scipy.optimize import linprog

from core.blend.fit import Array
from core.blend.frontier import deviation_rows, frontier_of
from core.blend.prices import prices_of
from core.blend.programme import Rows
from core.blend.ranges import ranges_of
from core.blend.solve import Blend, solve
from tests.core.blend.test_goals import AIM, NITRIC, priced
from tests.helpers.recipes import HARD, PLAIN, recipe

AIMS = [AIM, AIM | {"NH4-N": 8.0, "N": 150.0}, {"N": 200.0, "K": 100.0, "Ca": 90.0, "P": 50.0}]


def blend_of(aim, hard: bool) -> Blend:
    return solve(recipe(aim, [*priced(), NITRIC] if hard else priced(), **({"water": HARD} if hard else {})))


def curve(blend: Blend, **rest):
    return frontier_of(blend, **rest)


def least_cost_at(rows: Rows, cost: Array, deviation: float) -> float:
    upper, lower = np.isfinite(rows.upper), np.isfinite(rows.lower)
    a = np.vstack([rows.matrix[upper], -rows.matrix[lower]])
    b = np.concatenate([rows.upper[upper], -rows.lower[lower]])
    bounds = [(0, None)] * (len(cost) - 1) + [(deviation, deviation)]
    return linprog(cost, a, b, bounds=bounds).fun


@pytest.mark.parametrize("hard", [False, True], ids=["pure", "hard"])
@pytest.mark.parametrize("aim", AIMS, ids=["plain", "ammonium", "lopsided"])
def test_the_curve_is_the_least_cost_at_every_deviation(aim, hard):
    blend = blend_of(aim, hard)
    found = curve(blend)
    prices = prices_of(blend.demands, blend.shelf)
    rows, _ = deviation_rows(ranges_of(blend.aim, blend.demands, blend.shelf), prices, 0.25)
    cost = np.append(prices.per_kg / 1000.0, 0.0)
    ends = found.corners[0].deviation, found.corners[-1].deviation
    for deviation in np.linspace(*ends, 23):
        assert found.cost_at(deviation) == pytest.approx(least_cost_at(rows, cost, deviation), rel=1e-6, abs=1e-9)
    assert ends[1] == pytest.approx(max(0.25, ends[0]))


@pytest.mark.parametrize("aim", AIMS, ids=["plain", "ammonium", "lopsided"])
def test_corners_fall_and_bend_one_way(aim):
    corners = curve(blend_of(aim, hard=False)).corners
    assert len(corners) >= 2
    slopes = [
        (b.per_1000_l - a.per_1000_l) / (b.deviation - a.deviation) for a, b in zip(corners, corners[1:], strict=False)
    ]
    assert all(slope < 0 for slope in slopes)
    assert slopes == sorted(slopes)


def test_without_prices_there_is_no_curve():
    found = curve(solve(recipe(AIM, PLAIN)))
    assert found.corners == ()
    assert set(found.unpriced) == set(PLAIN)


def test_what_nothing_with_a_price_brings_is_left_out():
    found = curve(solve(recipe(AIM | {"B": 0.3}, [*priced(), "boric-acid"])))
    assert found.left_out == ("B",)
    assert found.corners


def test_a_widest_deviation_nothing_reaches_leaves_the_best_fit():
    found = curve(solve(recipe({"K": 100.0, "N": 100.0}, priced(["potassium-nitrate"]))), widest=0.01)
    assert len(found.corners) == 1
    assert found.corners[0].deviation > 0.3
    assert found.cost_at(0.0) is None
