"""What a bound, a target or a tolerance costs, by solving one step to either side of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from msgspec.structs import replace as edited

from core.blend.causes import binding
from core.blend.demands import LimitRow, target_row
from core.blend.judge import cost_change, misfit, reached, target_rows
from core.blend.solve import Blend, solve_aim, solve_goal
from core.blend.why_records import Price, Side
from core.recipe.records import MACROS, Target

STEP = 0.01
"""One step, as a share of the bound or target."""

LEAST_STEP_MG_PER_L = 0.01
ALKALINITY_STEP_MEQ_PER_L = 0.05
SHARE_STEP_PERCENT = 1.0

NARROWER, WIDER = 0.5, 2.0
"""Factors a tolerance is tried at (own choice: from 5 % to 2.5 % and 10 %)."""

SAME_TOLERANCE_PERCENT = 1e-6
"""Ends of a range this close in width are one tolerance: round-off of per cents."""

SAME_MISFIT = 1e-6
"""Change of the misfit too small to tell: one target moved by a tenth of a per cent. Dust swept out makes as much."""

SAME_COST = 1e-6


def prices(blend: Blend) -> tuple[Price, ...]:
    """Prices of every bound that is reached, then of every target, then of tolerances; those that matter only.

    A tolerance decides nothing where the closest blend is sought, so there it has no price.
    """
    found = [_limit_price(blend, place, row) for place, row in binding(blend)]
    if blend.demands.problem.e.shape[0]:
        found.append(_alkalinity_price(blend))
    found += [_target_price(blend, target) for target in blend.aim.targets if target.mg_per_l > 0.0]
    if blend.outcome is not None and not blend.outcome.missed:
        found += [price for target in blend.aim.targets if (price := _tolerance_price(blend, target)) is not None]
    return tuple(price for price in found if _matters(price))


def step_of(at: float) -> float:
    """One step of a bound or target given in mg/L."""
    return max(STEP * abs(at), LEAST_STEP_MG_PER_L)


def _limit_price(blend: Blend, place: int, row: LimitRow) -> Price:
    if row.code == "ammonium-share":
        step, unit = SHARE_STEP_PERCENT, "%"
    else:
        step, unit = (ALKALINITY_STEP_MEQ_PER_L, "meq/L") if row.code == "alkalinity" else (step_of(row.bound), "mg/L")

    def at(bound: float) -> Blend:
        if row.code == "ammonium-share":
            aim = edited(blend.aim, ammonium_share_at_most_percent=bound)
            return solve_aim(blend.recipe, aim, blend.shelf, blend.water)
        problem = blend.demands.problem
        rhs = problem.g_rhs.copy()
        rhs[place] += (bound - row.bound) * (-1.0 if row.side == "at least" else 1.0)
        return solve_goal(
            blend.recipe,
            blend.aim,
            blend.shelf,
            blend.water,
            replace(blend.demands, problem=replace(problem, g_rhs=rhs)),
            blend.acids,
        )

    return _price(blend, row.code, row.about, row.bound, unit, step, at)


def _alkalinity_price(blend: Blend) -> Price:
    goal = blend.demands.alkalinity_goal or 0.0

    def at(bound: float) -> Blend:
        problem = blend.demands.problem
        changed = replace(blend.demands, problem=replace(problem, e_rhs=problem.e_rhs + (bound - goal)))
        return solve_goal(blend.recipe, blend.aim, blend.shelf, blend.water, changed, blend.acids)

    return _price(blend, "alkalinity", "alkalinity", goal, "meq/L", ALKALINITY_STEP_MEQ_PER_L, at)


def _target_price(blend: Blend, target: Target) -> Price:
    """A target moved with its range: ranges given in mg/L keep their share of it."""
    row = target_row(target)

    def at(mg_per_l: float) -> Blend:
        share = mg_per_l / target.mg_per_l
        low = None if target.low_mg_per_l is None else target.low_mg_per_l * share
        high = None if target.high_mg_per_l is None else target.high_mg_per_l * share
        moved = edited(target, mg_per_l=mg_per_l, low_mg_per_l=low, high_mg_per_l=high)
        aim = edited(blend.aim, targets=tuple(moved if one is target else one for one in blend.aim.targets))
        return solve_aim(blend.recipe, aim, blend.shelf, blend.water)

    return _price(blend, "target", row.nutrient, row.target, "mg/L", step_of(row.target), at)


def _tolerance_price(blend: Blend, target: Target) -> Price | None:
    """A macro's tolerance made half and twice as wide; None for a range that is not as wide below as above."""
    row = target_row(target)
    below, above = (100.0 * abs(end / row.target - 1.0) if row.target > 0.0 else 0.0 for end in (row.low, row.high))
    if target.nutrient not in MACROS or not below > 0.0 or abs(below - above) > SAME_TOLERANCE_PERCENT:
        return None

    def at(percent: float) -> Blend:
        moved = edited(target, tolerance_percent=percent, low_mg_per_l=None, high_mg_per_l=None)
        aim = edited(blend.aim, targets=tuple(moved if one is target else one for one in blend.aim.targets))
        return solve_aim(blend.recipe, aim, blend.shelf, blend.water)

    wide, narrow = min(below * WIDER, 100.0), below * NARROWER
    return Price("tolerance", row.nutrient, below, "%", _side(blend, narrow, at), _side(blend, wide, at))


def _price(
    blend: Blend, kind: str, about: str, here: float, unit: str, step: float, at: Callable[[float], Blend]
) -> Price:
    down = _side(blend, here - step, at) if here - step > 0.0 or kind == "alkalinity" else None
    return Price(kind, about, here, unit, down, _side(blend, here + step, at))


def _side(blend: Blend, bound: float, at: Callable[[float], Blend]) -> Side | None:
    other = at(bound)
    if not other.possible and blend.possible:
        return None
    if blend.outcome is not None and (other.outcome is None or other.outcome.missed != blend.outcome.missed):
        return None
    return Side(bound, misfit(other) - misfit(blend), cost_change(blend, other), _gains(blend, other))


def _gains(before: Blend, after: Blend) -> str | None:
    """The target that comes nearest to where it should be."""
    gained = {}
    for row in target_rows(before):
        was, now = (abs(reached(one, row.nutrient) - row.target) / row.target for one in (before, after))
        gained[row.nutrient] = row.weight * (was - now)
    best = max(gained, key=lambda name: gained[name], default=None)
    return best if best is not None and gained[best] > STEP * 0.01 else None


def _matters(price: Price) -> bool:
    sides = [side for side in (price.down, price.up) if side is not None]
    return any(abs(s.misfit_change) > SAME_MISFIT or abs(s.cost_change_per_1000_l or 0.0) > SAME_COST for s in sides)
