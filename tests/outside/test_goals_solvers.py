"""The same optimum by another road: cheapest, fewest and the frontier modelled anew in cvxpy.

Source: the programmes are written down anew from their meaning (every target within its range, the usual limits, least
cost, least number of switches, least worst weighted deviation) and given to cvxpy (Diamond & Boyd 2016, JMLR 17:83).
"""

import cvxpy as cp
import numpy as np
import pytest

from core.blend.cheapest import least_cost
from core.blend.demands import target_row
from core.blend.fewest import fewest, most_of_each
from core.blend.frontier import frontier
from core.blend.nutrients import MG_PER_MMOL, ROW
from core.blend.prices import prices_of
from core.blend.ranges import ranges_of
from core.blend.solve import Blend, preferences, solve
from core.catalog import salts
from tests.helpers.recipes import HARD, recipe

AIM = {
    "N": 150.0,
    "P": 40.0,
    "K": 210.0,
    "Ca": 150.0,
    "Mg": 35.0,
    "S": 55.0,
    "Fe": 2.0,
    "Mn": 0.6,
    "B": 0.3,
    "Mo": 0.05,
}
SIZES = (12, 25, 40)


def random_blend(seed: int, size: int) -> Blend:
    rng = np.random.default_rng(seed)
    plain = [salt.id for salt in salts().values() if salt.kind not in ("acid", "base")][:39]
    chosen = [*rng.choice(plain, size - 1, replace=False).tolist(), "nitric-acid"]
    shelf = [{"salt": name, "price_per_kg": float(rng.uniform(0.4, 6.0))} for name in chosen]
    aim = {name: float(value * rng.uniform(0.8, 1.2)) for name, value in AIM.items()}
    return solve(recipe(aim, shelf, **({"water": HARD} if seed % 2 else {})))


def meaning(blend: Blend, x: cp.Variable) -> list[cp.Constraint]:
    """Limits, alkalinity and bounds, as the closest fit keeps them."""
    problem = blend.demands.problem
    found = [problem.g[i] @ x <= problem.g_rhs[i] for i in range(len(problem.g_rhs))]
    return [*found, *(problem.e[i] @ x == problem.e_rhs[i] for i in range(len(problem.e_rhs)))]


def within(blend: Blend, x: cp.Variable) -> list[cp.Constraint]:
    base, found = MG_PER_MMOL @ blend.demands.base_totals, []
    for target in blend.aim.targets:
        row = target_row(target)
        content = blend.shelf.brings[ROW[row.nutrient], blend.demands.free]
        here = float(base[ROW[row.nutrient]])
        if not content.any():
            continue
        high = max(row.high, here)
        feed = here + content @ x
        found += [feed / row.target <= high / row.target, feed / row.target >= min(row.low, high) / row.target]
    return found


def cheapest_by_cvxpy(blend: Blend) -> float | None:
    x = cp.Variable(len(blend.demands.free), nonneg=True)
    cost = prices_of(blend.demands, blend.shelf).per_kg
    task = cp.Problem(cp.Minimize(cost @ x), [*within(blend, x), *meaning(blend, x)])
    task.solve(solver=cp.HIGHS)
    return float(task.value) if task.status == "optimal" else None


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("seed", range(8))
def test_cheapest(seed, size):
    blend = random_blend(seed, size)
    order = tuple(one for one in preferences(blend.demands, blend.shelf) if one.name != "cost")
    prices = prices_of(blend.demands, blend.shelf)
    ours = least_cost(ranges_of(blend.aim, blend.demands, blend.shelf).rows(), prices, order)
    theirs = cheapest_by_cvxpy(blend)
    assert (ours is None) == (theirs is None)
    if ours is not None:
        assert float(prices.per_kg @ ours) == pytest.approx(theirs, rel=1e-6)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("seed", range(3))
def test_fewest(seed, size):
    blend = random_blend(seed, size)
    ranges = ranges_of(blend.aim, blend.demands, blend.shelf)
    ours = fewest(ranges, blend.demands, blend.shelf, preferences(blend.demands, blend.shelf), seconds=10.0)
    n = len(blend.demands.free)
    if ours is None:
        assert cheapest_by_cvxpy(blend) is None
        return
    x, used = cp.Variable(n, nonneg=True), cp.Variable(n, boolean=True)
    kept = [*within(blend, x), *meaning(blend, x), x <= cp.multiply(most_of_each(ranges) * 1.5, used)]
    task = cp.Problem(cp.Minimize(cp.sum(used)), kept)
    task.solve(solver=cp.HIGHS)
    count = round(float(task.value))
    assert ours.count == ours.at_least == count
    cost = prices_of(blend.demands, blend.shelf).per_kg
    second = cp.Problem(cp.Minimize(cost @ x), [*kept, cp.sum(used) <= count])
    second.solve(solver=cp.HIGHS)
    assert float(cost @ ours.x) == pytest.approx(float(second.value), rel=1e-4)  # their default gap
    assert float(cost @ ours.x) <= float(second.value) * (1.0 + 1e-6)


@pytest.mark.parametrize("seed", range(4))
def test_frontier(seed):
    blend = random_blend(seed, 25)
    found = frontier(ranges_of(blend.aim, blend.demands, blend.shelf), blend.demands, blend.shelf)
    base, cost = MG_PER_MMOL @ blend.demands.base_totals, prices_of(blend.demands, blend.shelf).per_kg / 1000.0
    x, bound = cp.Variable(len(cost), nonneg=True), cp.Parameter(nonneg=True)
    kept = meaning(blend, x)
    for target in blend.aim.targets:
        row = target_row(target)
        content = blend.shelf.brings[ROW[row.nutrient], blend.demands.free]
        if content.any():
            off = (float(base[ROW[row.nutrient]]) + content @ x) / row.target - 1.0
            kept += [row.weight * off <= bound, -row.weight * off <= bound]
    task = cp.Problem(cp.Minimize(cost @ x), kept)
    for deviation in np.linspace(found.corners[0].deviation * (1 + 1e-6), found.corners[-1].deviation, 7):
        bound.value = float(deviation)
        task.solve(solver=cp.HIGHS)
        assert found.cost_at(float(deviation)) == pytest.approx(float(task.value), rel=1e-6, abs=1e-7)
