"""Bring a reservoir back to its aim from a lab report: what to drain, what to add, and what EC will not show."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from msgspec.structs import replace

from core.blend.demands import target_row
from core.blend.fit import Problem, fit
from core.blend.judge import misses
from core.blend.nutrients import MG_PER_MMOL, ROW, Array
from core.blend.programme import INFINITE, Preference, Rows, settle
from core.blend.ranges import Ranges, ranges_of
from core.blend.shelf import Shelf, compile_shelf
from core.blend.solve import Blend, solve_aim
from core.blend.strength import ec_ms_per_cm
from core.blend.waters import WaterTotals, recipe_water, water_totals
from core.recipe.records import Recipe, Water

UNSEEN_EC_SHARE = 0.02
"""A change of EC, relative to it, too small for a meter in a greenhouse to show for sure."""

ROOM = 1e-5
"""How much more than the least is drained, so that round-off leaves every range within reach."""

MOVED = 0.05
"""Change of a nutrient, relative to its target, that matters and is worth a word where the meter does not show it."""


@dataclass(frozen=True)
class Moved:
    """One nutrient of the reservoir before and after [mg/L], with its target where it has one."""

    nutrient: str
    before_mg_per_l: float
    after_mg_per_l: float
    target_mg_per_l: float | None


@dataclass(frozen=True, eq=False)
class Correction:
    """What to do to a reservoir.

    Attributes
    ----------
    drain_share : float 0..1, share of the old solution to replace by water
    drain_l : float [L]
    grams : shelf key -> what to add to the whole reservoir [g]
    blend : Blend of the corrected solution; its "water" is what is left of the old one, topped up with water
    ec_before_ms_per_cm, ec_after_ms_per_cm : float or None outside the chemistry's range
    moved : every target with its change
    unseen : nutrients that change by more than the EC does: what the meter will not show
    in_range : bool
    """

    drain_share: float
    drain_l: float
    grams: dict[str, float]
    blend: Blend
    ec_before_ms_per_cm: float | None
    ec_after_ms_per_cm: float | None
    moved: tuple[Moved, ...]
    unseen: tuple[str, ...]
    in_range: bool


def correct(recipe: Recipe, report: Water, reservoir_l: float) -> Correction:
    """Correct a reservoir from a lab report of it.

    The least share is drained that lets every target and limit be kept; where nothing does, the share with which the
    nearest solution is reached.

    Parameters
    ----------
    recipe : Recipe, whose aim the reservoir should meet and whose shelf and water there are
    report : Water, the laboratory's analysis of the reservoir
    reservoir_l : float [L], what it holds

    Returns
    -------
    Correction
    """
    shelf, water, old = compile_shelf(recipe.shelf), recipe_water(recipe), water_totals(report)
    plain = replace(recipe, goal="closest", aim=replace(recipe.aim, ec_ms_per_cm=None))
    share = drain_share(plain, shelf, old, water)
    blend = _in_range_if_can_be(plain, shelf, mixed(old, water, share))
    before, after = ec_ms_per_cm(old.totals, old.alkalinity), ec_ms_per_cm(blend.totals, blend.alkalinity)
    moved = _moved(blend, MG_PER_MMOL @ old.totals)
    used = zip(shelf.sources, blend.amounts_mg_per_l.tolist(), strict=True)
    return Correction(
        share, share * reservoir_l, {s.key: x * reservoir_l / 1000.0 for s, x in used if x > 0.0}, blend, before, after,
        moved, _unseen(moved, before, after), not misses(blend),
    )  # fmt: skip


def _in_range_if_can_be(recipe: Recipe, shelf: Shelf, here: WaterTotals) -> Blend:
    """The closest blend; where that trades one range for another though all can be kept, a blend that keeps all."""
    closest = solve_aim(recipe, recipe.aim, shelf, here)
    if not misses(closest):
        return closest
    few = solve_aim(replace(recipe, goal="fewest"), recipe.aim, shelf, here)
    return closest if few.outcome is None or few.outcome.missed else few


def mixed(old: WaterTotals, water: WaterTotals, share: float) -> WaterTotals:
    """Old solution with a share of it replaced by water."""
    keep = 1.0 - share
    return WaterTotals(
        keep * old.totals + share * water.totals,
        keep * old.alkalinity + share * water.alkalinity,
        keep * old.gap + share * water.gap,
        keep * old.charge + share * water.charge,
        old.ph_agrees and water.ph_agrees,
    )


def drain_share(recipe: Recipe, shelf: Shelf, old: WaterTotals, water: WaterTotals) -> float:
    """The least share to drain with which everything can be kept, else the share that comes nearest [0..1]."""
    blend = solve_aim(recipe, recipe.aim, shelf, old)
    if not misses(blend) and not _limits_missed(blend):
        return 0.0
    swap = MG_PER_MMOL @ (water.totals - old.totals)
    ranges = _unclamped(blend, ranges_of(blend.aim, blend.demands, shelf))
    rows = _with_swap(blend, ranges, swap, water.alkalinity - old.alkalinity)
    least = np.zeros(rows.matrix.shape[1])
    least[-1] = 1.0
    mass = np.append(np.array([shelf.sources[i].dissolved for i in blend.demands.free]), 0.0)
    found = settle(rows, (Preference("drain", least), Preference("mass", mass)))
    return min(float(found[-1]) * (1.0 + ROOM), 1.0) if found is not None else _nearest_share(blend, swap)


def _limits_missed(blend: Blend) -> bool:
    return any(
        limit.at_most_mg_per_l is not None
        and blend.nutrients_mg_per_l[ROW[limit.nutrient]] > limit.at_most_mg_per_l * (1 + 1e-6)
        for limit in blend.aim.limits
    )


def _unclamped(blend: Blend, ranges: Ranges) -> tuple[Array, Array, Array]:
    """Target rows with their own ranges, though the old solution may stand beyond them: draining can undo that."""
    rows = [target_row(target) for target in blend.aim.targets if target.mg_per_l > 0.0]
    movable = [row for row in rows if row.nutrient not in ranges.beyond or _is_over(blend, row.nutrient, row.high)]
    low = np.array([row.low / row.target for row in movable])
    high = np.array([row.high / row.target for row in movable])
    return np.array([[float(ROW[row.nutrient]), row.target] for row in movable]).reshape(-1, 2), low, high


def _is_over(blend: Blend, nutrient: str, high: float) -> bool:
    return float((MG_PER_MMOL @ blend.demands.base_totals)[ROW[nutrient]]) > high


def _with_swap(blend: Blend, wanted: tuple[Array, Array, Array], swap: Array, swap_alkalinity: float) -> Rows:
    """Rows over the amounts and, last, the share drained: ranges, the aim's limits, ammonium, alkalinity."""
    about, low, high = wanted
    index, target = about[:, 0].astype(np.intp), about[:, 1]
    demands, base = blend.demands, MG_PER_MMOL @ blend.demands.base_totals
    brings = blend.shelf.brings[:, demands.free]
    matrix = [np.column_stack([brings[index] / target[:, None], swap[index] / target])]
    lower, upper = [low - base[index] / target], [high - base[index] / target]
    for limit in blend.aim.limits:
        if limit.at_most_mg_per_l is not None:
            row = ROW[limit.nutrient]
            matrix.append(np.append(brings[row], swap[row])[None])
            lower.append(np.array([-INFINITE]))
            upper.append(np.array([limit.at_most_mg_per_l - base[row]]))
    problem = demands.problem
    exact = np.column_stack([problem.e, np.full(len(problem.e_rhs), swap_alkalinity)])
    kept = [i for i, row in enumerate(demands.limits) if row.code in ("entry", "ammonium-share", "chloride")]
    others = np.column_stack([problem.g[kept], np.zeros(len(kept))])
    most = np.append(np.full(len(demands.free), INFINITE), 1.0)
    return Rows(
        np.vstack([*matrix, exact, others]),
        np.concatenate([*lower, problem.e_rhs, np.full(len(kept), -INFINITE)]),
        np.concatenate([*upper, problem.e_rhs, problem.g_rhs[kept]]),
        most,
    )


def _nearest_share(blend: Blend, swap: Array) -> float:
    """The share of the nearest fit, with draining as one more column."""
    demands, problem = blend.demands, blend.demands.problem
    scale = np.array([row.weight / row.target for row in demands.targets])
    column = swap[[ROW[row.nutrient] for row in demands.targets]] * scale if demands.targets else np.zeros(0)
    n = len(demands.free)
    share_limit = np.append(np.zeros(n), 1.0)[None]
    kept = [i for i, row in enumerate(demands.limits) if row.code == "entry"]
    g = np.vstack([np.column_stack([problem.g[kept], np.zeros(len(kept))]), share_limit])
    found = fit(
        Problem(
            np.column_stack([problem.a, column]), problem.b, np.zeros((0, n + 1)), np.zeros(0), g,
            np.append(problem.g_rhs[kept], 1.0),
        )
    )  # fmt: skip
    return float(np.clip(found.x[-1], 0.0, 1.0))


def _moved(blend: Blend, before: Array) -> tuple[Moved, ...]:
    targets: dict[str, float] = {target.nutrient: target.mg_per_l for target in blend.aim.targets}
    return tuple(
        Moved(name, float(before[row]), float(blend.nutrients_mg_per_l[row]), targets.get(name))
        for name, row in ROW.items()
        if name in targets or abs(blend.nutrients_mg_per_l[row] - before[row]) > 0.01
    )


def _unseen(moved: tuple[Moved, ...], before: float | None, after: float | None) -> tuple[str, ...]:
    """Nutrients that move noticeably while EC moves less, or the other way."""
    if before is None or after is None or before <= 0.0:
        return ()
    rise = after / before - 1.0
    found = []
    for one in moved:
        if not one.target_mg_per_l:
            continue
        change = (one.after_mg_per_l - one.before_mg_per_l) / one.target_mg_per_l
        shown = change * rise > 0.0 and abs(rise) > UNSEEN_EC_SHARE and abs(change) < 2.0 * abs(rise)
        if abs(change) >= MOVED and not shown:
            found.append((abs(change), one.nutrient))
    return tuple(name for _, name in sorted(found, reverse=True))
