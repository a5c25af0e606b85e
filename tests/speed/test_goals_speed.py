"""How long the other goals take on 40 salts, beside the same programmes through cvxpy."""

from __future__ import annotations

import statistics
import time

import cvxpy as cp
import numpy as np
import pytest
from msgspec.structs import replace

from core.blend.cheapest import cheapest
from core.blend.fewest import fewest
from core.blend.frontier import frontier
from core.blend.prices import prices_of
from core.blend.ranges import ranges_of
from core.blend.solve import Blend, preferences, solve
from core.blend.why import why_of
from core.recipe.records import Target
from tests.speed.test_plan_speed import recipe
from tests.speed.timing import report

pytestmark = pytest.mark.speed

AIMS = 60


def blends() -> list[Blend]:
    """Random aims around a usual one, on 40 salts with random prices."""
    rng, made = np.random.default_rng(4), []
    for _ in range(AIMS):
        base = recipe()
        targets = tuple(Target(t.nutrient, t.mg_per_l * rng.uniform(0.96, 1.04)) for t in base.aim.targets)
        shelf = tuple(replace(entry, price_per_kg=float(rng.uniform(0.4, 6.0))) for entry in base.shelf)
        made.append(solve(replace(base, shelf=shelf, aim=replace(base.aim, targets=targets))))
    return made


def times_ms(job, given: list[Blend]) -> list[float]:
    job(given[0])
    taken = []
    for blend in given:
        began = time.perf_counter_ns()
        job(blend)
        taken.append((time.perf_counter_ns() - began) / 1e6)
    return taken


def ranges(blend: Blend):
    return ranges_of(blend.aim, blend.demands, blend.shelf)


def cheapest_by_cvxpy(blend: Blend) -> float:
    """Return what the solver of cvxpy says it took [ms], without cvxpy's own modelling."""
    rows, cost = ranges(blend).rows(), prices_of(blend.demands, blend.shelf).per_kg
    x = cp.Variable(len(cost), nonneg=True)
    upper, lower = np.isfinite(rows.upper), np.isfinite(rows.lower)
    kept = [rows.matrix[upper] @ x <= rows.upper[upper], rows.matrix[lower] @ x >= rows.lower[lower]]
    task = cp.Problem(cp.Minimize(cost @ x), kept)
    began = time.perf_counter_ns()
    task.solve(solver=cp.HIGHS)
    return (time.perf_counter_ns() - began) / 1e6


def test_goals_of_forty_salts() -> None:
    given = blends()
    order = {id(b): preferences(b.demands, b.shelf) for b in given}
    cheap = times_ms(lambda b: cheapest(ranges(b), b.demands, b.shelf, order[id(b)]), given)
    curve = times_ms(lambda b: frontier(ranges(b), b.demands, b.shelf), given)
    few = times_ms(lambda b: fewest(ranges(b), b.demands, b.shelf, order[id(b)]), given)
    theirs = [cheapest_by_cvxpy(blend) for blend in given]
    asked = times_ms(why_of, given[:10])
    possible = sum(cheapest(ranges(b), b.demands, b.shelf, order[id(b)]) is not None for b in given)
    report(
        [
            ("aims whose ranges can all be kept", float(possible), f"of {AIMS}"),
            ("cheapest, median", statistics.median(cheap), "ms"),
            ("  through cvxpy, median", statistics.median(theirs), "ms"),
            ("frontier, median", statistics.median(curve), "ms"),
            ("fewest, median", statistics.median(few), "ms"),
            ("fewest, 95th percentile", float(np.percentile(few, 95)), "ms"),
            ("why, median", statistics.median(asked), "ms"),
        ]
    )
    assert possible > AIMS // 2, "else mostly refusals are timed"
    assert statistics.median(cheap) <= 5.0
    assert statistics.median(cheap) < statistics.median(theirs)
    assert statistics.median(curve) <= 30.0
    assert float(np.percentile(few, 95)) <= 500.0
