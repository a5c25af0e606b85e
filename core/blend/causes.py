"""What holds a nutrient out of its range: the water, the shelf, a bound, or the company it comes in."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from core.blend.choose import USED_MG_PER_L
from core.blend.demands import Demands, LimitRow
from core.blend.fit import Problem, fit
from core.blend.judge import Miss, in_range, misses, reached, target_rows
from core.blend.nutrients import MG_PER_MMOL, ROW
from core.blend.solve import Blend, solve_goal
from core.blend.why_records import Cause, Reason
from core.recipe.records import MACROS

BINDS = 1e-6
"""Relative slack under which a bound counts as reached."""

HELPS = 0.2
"""Share of a miss that lifting a bound must take away for the bound to be a cause."""

CARRIES = 0.1
"""Share of a nutrient's target that a salt must bring to be named for it."""

INSISTS = 100.0
"""Factor on the weight of a nutrient when asking what it would cost the others to bring it nearer."""

NAMED = 3


def reasons(blend: Blend) -> tuple[Reason, ...]:
    """Every target out of its range with what holds it there, worst first."""
    return tuple(
        Reason(
            miss.row.nutrient, "over" if miss.over else "short", miss.feed_mg_per_l, miss.row.target, miss.row.low,
            miss.row.high, _causes(blend, miss),
        )
        for miss in misses(blend)
    )  # fmt: skip


def _causes(blend: Blend, miss: Miss) -> tuple[Cause, ...]:
    return _before_any_salt(blend, miss) or (_bounds(blend, miss) + _company(blend, miss))[:NAMED]


def _before_any_salt(blend: Blend, miss: Miss) -> tuple[Cause, ...]:
    """Causes that leave no amount to choose."""
    row = ROW[miss.row.nutrient]
    water = float(blend.water_mg_per_l[row])
    base = float((MG_PER_MMOL @ blend.demands.base_totals)[row])
    if miss.over and water > miss.row.high:
        return (Cause("water", {"water_mg_per_l": water}),)
    if miss.over and base > miss.row.high:
        fixed = [s.key for s in blend.shelf.sources if s.entry.exactly_mg_per_l and s.brings[row] > 0.0]
        return (Cause("fixed", {"entry_ids": fixed, "fixed_mg_per_l": base}),)
    if miss.over or np.any(blend.shelf.brings[row, blend.demands.free] > 0.0):
        return ()
    barred = [s.key for i, s in enumerate(blend.shelf.sources) if s.brings[row] > 0.0 and i not in blend.demands.free]
    barred = [key for key in barred if key not in _fixed_keys(blend)]
    return (Cause("not-allowed", {"entry_ids": barred}),) if barred else (Cause("no-source"),)


def _fixed_keys(blend: Blend) -> set[str]:
    return {source.key for source in blend.shelf.sources if source.entry.exactly_mg_per_l is not None}


def binding(blend: Blend) -> list[tuple[int, LimitRow]]:
    """The limits the blend stands at, with their place among the rows."""
    problem, x = blend.demands.problem, blend.amounts_mg_per_l[blend.demands.free]
    slack = problem.g_rhs - problem.g @ x
    size = 1.0 + np.abs(problem.g_rhs)
    return [(i, row) for i, row in enumerate(blend.demands.limits) if slack[i] <= BINDS * size[i]]


def held_by_ammonium_share(blend: Blend) -> tuple[str, ...]:
    """Macros that are short and would be nearer without the limit on ammonium's share of the nitrogen."""
    short = [miss for miss in misses(blend) if not miss.over and miss.row.nutrient in MACROS]
    if not short or all(row.code != "ammonium-share" for _, row in binding(blend)):
        return ()
    problem, demands = blend.demands.problem, blend.demands
    others = np.array([row.code != "ammonium-share" for row in demands.limits], dtype=bool)
    x = fit(replace(problem, g=problem.g[others], g_rhs=problem.g_rhs[others])).x
    feed = MG_PER_MMOL @ demands.base_totals + blend.shelf.brings[:, demands.free] @ x
    return tuple(
        miss.row.nutrient
        for miss in short
        if float(feed[ROW[miss.row.nutrient]]) - miss.feed_mg_per_l >= HELPS * (miss.row.low - miss.feed_mg_per_l)
    )


def _bounds(blend: Blend, miss: Miss) -> tuple[Cause, ...]:
    """The bounds that, lifted, would bring the nutrient nearer."""
    found: list[tuple[float, Cause]] = []
    for _place, row in binding(blend):
        problem = blend.demands.problem
        # A rule may stand in two rows, as the ammonium share does: lifted, all of it goes.
        same = np.array(
            [(one.code, one.about, one.side) == (row.code, row.about, row.side) for one in blend.demands.limits]
        )
        room = np.where(same, problem.g_rhs + 10.0 * (1.0 + np.abs(problem.g_rhs)), problem.g_rhs)
        helped = _helped(blend, miss, replace(blend.demands, problem=replace(problem, g_rhs=room)))
        if helped >= HELPS:
            found.append((helped, Cause(row.code, {"about": row.about, "asked": row.asked})))
    if blend.demands.problem.e.shape[0]:
        free = replace(blend.demands, problem=_without_exact(blend))
        if _helped(blend, miss, free) >= HELPS:
            found.append((0.0, Cause("alkalinity", {"goal_meq_per_l": blend.demands.alkalinity_goal})))
    return tuple(cause for _, cause in sorted(found, key=lambda pair: -pair[0]))


def _without_exact(blend: Blend) -> Problem:
    problem = blend.demands.problem
    return replace(problem, e=problem.e[:0], e_rhs=problem.e_rhs[:0])


def _helped(blend: Blend, miss: Miss, demands: Demands) -> float:
    """Share of a miss that goes away under other demands."""
    other = solve_goal(blend.recipe, blend.aim, blend.shelf, blend.water, demands, blend.acids)
    feed = reached(other, miss.row.nutrient)
    off = feed - miss.row.high if miss.over else miss.row.low - feed
    before = miss.feed_mg_per_l - miss.row.high if miss.over else miss.row.low - miss.feed_mg_per_l
    return 1.0 - max(off, 0.0) / before if before > 0.0 else 0.0


def _company(blend: Blend, miss: Miss) -> tuple[Cause, ...]:
    return _comes_with(blend, miss) if miss.over else _at_odds(blend, miss)


def _comes_with(blend: Blend, miss: Miss) -> tuple[Cause, ...]:
    """The salts that bring what is too much, each with what it is there for."""
    row, found = ROW[miss.row.nutrient], []
    for source, amount in zip(blend.shelf.sources, blend.amounts_mg_per_l, strict=True):
        brought = float(source.brings[row] * amount)
        if brought >= CARRIES * miss.row.target and amount > USED_MG_PER_L:
            shares = {
                r.nutrient: float(source.brings[ROW[r.nutrient]] * amount) / r.target
                for r in target_rows(blend)
                if r.nutrient != miss.row.nutrient
            }
            purpose = max(shares, key=lambda name: shares[name], default=None)
            purpose = purpose if purpose is not None and shares[purpose] > CARRIES else None
            data = {"entry_id": source.key, "brings_mg_per_l": brought, "nutrient": purpose}
            found.append((brought, Cause("comes-with", data)))
    return tuple(cause for _, cause in sorted(found, key=lambda pair: -pair[0]))


def _at_odds(blend: Blend, miss: Miss) -> tuple[Cause, ...]:
    """What would leave its range if the nutrient that is short were insisted on."""
    demands, problem = blend.demands, blend.demands.problem
    place = next((i for i, row in enumerate(demands.targets) if row.nutrient == miss.row.nutrient), None)
    if place is None:
        return ()
    weights = np.ones(len(demands.targets))
    weights[place] = INSISTS
    x = fit(replace(problem, a=problem.a * weights[:, None], b=problem.b * weights)).x
    feed = MG_PER_MMOL @ demands.base_totals + blend.shelf.brings[:, demands.free] @ x
    upset = []
    for row in target_rows(blend):
        before, after = reached(blend, row.nutrient), float(feed[ROW[row.nutrient]])
        if row.nutrient != miss.row.nutrient and not in_range(row, after) and abs(after - before) > 0.02 * row.target:
            data = {"nutrient": row.nutrient, "before_mg_per_l": before, "after_mg_per_l": after}
            upset.append((row.weight * abs(after - before) / row.target, Cause("at-odds", data)))
    return tuple(cause for _, cause in sorted(upset, key=lambda pair: -pair[0]))
