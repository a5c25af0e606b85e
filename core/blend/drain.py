"""How much of an old solution to replace by water before it is corrected: one more variable beside the amounts."""

from __future__ import annotations

import numpy as np

from core.blend.demands import TargetRow
from core.blend.fit import Problem, fit
from core.blend.judge import CLOSE, misses, target_rows
from core.blend.nutrients import MG_PER_MMOL, ROW, Array
from core.blend.programme import INFINITE, Preference, Rows, settle
from core.blend.ranges import ranges_of
from core.blend.shelf import Shelf
from core.blend.solve import Blend, solve_aim
from core.blend.waters import WaterTotals
from core.recipe.records import Recipe

ROOM = 1e-5
"""How much more than the least is drained, so that round-off leaves every range within reach (own choice)."""

KEPT = ("chloride", "ammonium-share", "entry")
"""Limits of the solve that stand while draining; those the aim wrote are taken from the aim, unclamped."""


def drain_share(recipe: Recipe, shelf: Shelf, old: WaterTotals, water: WaterTotals) -> float:
    """The least share to drain with which everything can be kept, else the share that comes nearest [0..1].

    Parameters
    ----------
    recipe : Recipe, whose aim and bounds are to be kept
    shelf : Shelf
    old, water : WaterTotals, the solution there is and the water that takes the place of what is drained
    """
    blend = solve_aim(recipe, recipe.aim, shelf, old)
    if not misses(blend) and not limits_missed(blend):
        return 0.0
    swap = MG_PER_MMOL @ (water.totals - old.totals)
    rows = _with_swap(blend, swap, water.alkalinity - old.alkalinity)
    least = np.zeros(rows.matrix.shape[1])
    least[-1] = 1.0
    mass = np.append(np.array([shelf.sources[i].dissolved for i in blend.demands.free]), 0.0)
    found = settle(rows, (Preference("drain", least), Preference("mass", mass)))
    return min(float(found[-1]) * (1.0 + ROOM), 1.0) if found is not None else _nearest_share(blend, swap)


def limits_missed(blend: Blend) -> bool:
    """True where a limit the aim wrote is not kept."""
    feed = blend.nutrients_mg_per_l
    return any(
        (limit.at_most_mg_per_l is not None and feed[ROW[limit.nutrient]] > limit.at_most_mg_per_l * (1.0 + CLOSE))
        or (limit.at_least_mg_per_l is not None and feed[ROW[limit.nutrient]] < limit.at_least_mg_per_l * (1.0 - CLOSE))
        for limit in blend.aim.limits
    )


def _wanted(blend: Blend) -> tuple[TargetRow, ...]:
    """Targets whose range can be reached: those over it too, though nothing free brings them, as draining helps."""
    base = MG_PER_MMOL @ blend.demands.base_totals
    beyond = ranges_of(blend.aim, blend.demands, blend.shelf).beyond
    return tuple(
        row for row in target_rows(blend) if row.nutrient not in beyond or float(base[ROW[row.nutrient]]) > row.high
    )


def _with_swap(blend: Blend, swap: Array, swap_alkalinity: float) -> Rows:
    """Rows over the amounts and, last, the share drained: ranges, the aim's limits, ammonium, alkalinity, bounds."""
    demands, base = blend.demands, MG_PER_MMOL @ blend.demands.base_totals
    contents = np.column_stack([blend.shelf.brings[:, demands.free], swap])
    rows: list[Array] = []
    lower: list[float] = []
    upper: list[float] = []
    for wanted in _wanted(blend):
        here = base[ROW[wanted.nutrient]]
        rows.append(contents[ROW[wanted.nutrient]] / wanted.target)
        lower.append((wanted.low - here) / wanted.target)
        upper.append((wanted.high - here) / wanted.target)
    for limit in blend.aim.limits:
        here = base[ROW[limit.nutrient]]
        rows.append(contents[ROW[limit.nutrient]])
        lower.append(-INFINITE if limit.at_least_mg_per_l is None else limit.at_least_mg_per_l - here)
        upper.append(INFINITE if limit.at_most_mg_per_l is None else limit.at_most_mg_per_l - here)
    for kept, coefficients, bound in zip(demands.limits, demands.problem.g, demands.problem.g_rhs, strict=True):
        if kept.code in KEPT:
            rows.append(np.append(coefficients, sum(factor * swap[ROW[name]] for name, factor in kept.of)))
            lower.append(-INFINITE)
            upper.append(float(bound))
    for coefficients, goal in zip(demands.problem.e, demands.problem.e_rhs, strict=True):
        rows.append(np.append(coefficients, swap_alkalinity))  # acid down to the goal or a base up to it, or draining
        lower.append(-INFINITE if goal < 0.0 else float(goal))
        upper.append(float(goal) if goal < 0.0 else INFINITE)
    most = np.append(np.full(len(demands.free), INFINITE), 1.0)
    matrix = np.array(rows) if rows else np.zeros((0, len(most)))
    return Rows(matrix, np.array(lower), np.array(upper), most)


def _nearest_share(blend: Blend, swap: Array) -> float:
    """The share of the nearest fit, with draining as one more column; no limit is left further behind than it is."""
    demands, problem, base = blend.demands, blend.demands.problem, MG_PER_MMOL @ blend.demands.base_totals
    scale = np.array([row.weight / row.target for row in demands.targets])
    column = swap[[ROW[row.nutrient] for row in demands.targets]] * scale if demands.targets else np.zeros(0)
    n = len(demands.free)
    rows, bounds = [np.append(np.zeros(n), 1.0)], [1.0]
    for kept, coefficients, bound in zip(demands.limits, problem.g, problem.g_rhs, strict=True):
        if kept.code == "entry":
            rows.append(np.append(coefficients, 0.0))
            bounds.append(float(bound))
    for limit in blend.aim.limits:
        here, place = float(base[ROW[limit.nutrient]]), ROW[limit.nutrient]
        contents = np.append(blend.shelf.brings[place, demands.free], swap[place])
        if limit.at_most_mg_per_l is not None:
            rows.append(contents)
            bounds.append(max(limit.at_most_mg_per_l - here, 0.0))
        if limit.at_least_mg_per_l is not None:
            rows.append(-contents)
            bounds.append(max(here - limit.at_least_mg_per_l, 0.0))
    a = np.column_stack([problem.a, column])
    found = fit(Problem(a, problem.b, np.zeros((0, n + 1)), np.zeros(0), np.array(rows), np.array(bounds)))
    return float(np.clip(found.x[-1], 0.0, 1.0))
