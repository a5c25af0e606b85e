"""Bring a reservoir back to its aim from a lab report: what to drain, what to add, and what EC will not show.

What the recipe fixes or bounds from below says what a litre of new feed holds. The reservoir holds it already, so a
correction adds none of it for that reason, only what the report finds missing.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass

import numpy as np
from msgspec.structs import replace

from core.blend.choose import choose
from core.blend.drain import drain_share
from core.blend.fit import fit
from core.blend.judge import misses, target_rows
from core.blend.nutrients import MG_PER_MMOL, ROW, Array
from core.blend.ranges import ranges_of
from core.blend.shelf import Shelf, compile_shelf
from core.blend.solve import Blend, assemble, preferences, solve, solve_aim
from core.blend.strength import ec_ms_per_cm
from core.blend.waters import (
    CACO3_MG_PER_MEQ,
    WaterTotals,
    alkalinity_meq_per_l,
    mixed_water,
    recipe_water,
    water_totals,
)
from core.recipe.records import NUTRIENTS, Recipe, ShelfEntry, Water, WaterContents

MOST_AT_ONCE = 0.5
"""Most that one correction changes a nutrient by, as a share of the larger of what is there and what is wanted. Own
choice, after the greenhouse rule of changing a feed by a quarter on a report and by half where it is far off (MEMORY):
the solution has gone on changing since the sample was taken, and roots are spared a jump."""

UNSEEN_EC_SHARE = 0.02
"""A change of EC, relative to it, too small for a meter in a greenhouse to show for sure (own choice: a good hand meter
repeats within 1 to 2 %)."""

MOVED = 0.05
"""Change of a nutrient, relative to its target, that matters and is worth a word where the meter does not show it (own
choice: the usual tolerance of a macro)."""

SEEN_MG_PER_L = 0.01
"""Change of a nutrient without a target that is listed (own choice: the last digit of most reports)."""


@dataclass(frozen=True)
class Moved:
    """One nutrient of the reservoir before and after [mg/L], with its target and wanted range where it has one."""

    nutrient: str
    before_mg_per_l: float
    after_mg_per_l: float
    target_mg_per_l: float | None
    low_mg_per_l: float | None = None
    high_mg_per_l: float | None = None


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
    in_range : bool, of the solution after this correction
    part : float 0..1, how much of the whole way this correction goes
    held_by : the nutrient that is so far off that only part is done at once; None where all is done
    assumed : nutrients aimed at or limited that the report does not name; taken as fresh feed has them
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
    part: float = 1.0
    held_by: str | None = None
    assumed: tuple[str, ...] = ()


def correct(recipe: Recipe, report: Water, reservoir_l: float, *, most_at_once: float = MOST_AT_ONCE) -> Correction:
    """Correct a reservoir from a lab report of it.

    The least share is drained that lets every target and limit be kept; where nothing does, the share with which the
    nearest solution is reached. Where a nutrient is far off only part of the way is gone, drained share and amounts
    alike, so that every nutrient moves towards its aim and none past it.

    Parameters
    ----------
    recipe : Recipe, whose aim the reservoir should meet and whose shelf and water there are
    report : Water, the laboratory's analysis of the reservoir
    reservoir_l : float [L], what it holds
    most_at_once : float 0..1, most that a nutrient is changed by at once; 1 goes the whole way

    Returns
    -------
    Correction
    """
    plain = _for_a_reservoir(recipe)
    shelf, water = compile_shelf(plain.shelf), recipe_water(recipe)
    whole_report, assumed = _filled_in(recipe, report)
    old = water_totals(whole_report)
    share = drain_share(plain, shelf, old, water)
    whole = _in_range_if_can_be(plain, shelf, mixed_water(old, water, share))
    before = MG_PER_MMOL @ old.totals
    part, held_by = _part(whole, before, most_at_once)
    blend = whole if held_by is None else _in_part(whole, mixed_water(old, water, part * share), part)
    return _told(blend, old, part * share, reservoir_l, part, held_by, assumed)


def _told(
    blend: Blend,
    old: WaterTotals,
    share: float,
    reservoir_l: float,
    part: float,
    held_by: str | None,
    assumed: tuple[str, ...],
) -> Correction:
    before, after = ec_ms_per_cm(old.totals, old.alkalinity), ec_ms_per_cm(blend.totals, blend.alkalinity)
    moved = _moved(blend, MG_PER_MMOL @ old.totals)
    used = zip(blend.shelf.sources, blend.amounts_mg_per_l.tolist(), strict=True)
    grams = {source.key: x * reservoir_l / 1000.0 for source, x in used if x > 0.0}
    return Correction(
        share, share * reservoir_l, grams, blend, before, after, moved, _unseen(moved, before, after),
        not misses(blend), part, held_by, assumed,
    )  # fmt: skip


def _for_a_reservoir(recipe: Recipe) -> Recipe:
    """The recipe with its amounts left to the correction; what it fixes at nothing stays out."""
    shelf = tuple(_freed(entry) for entry in recipe.shelf)
    return replace(recipe, goal="closest", aim=replace(recipe.aim, ec_ms_per_cm=None), shelf=shelf)


def _freed(entry: ShelfEntry) -> ShelfEntry:
    if entry.exactly_mg_per_l == 0.0:
        return entry
    return replace(entry, exactly_mg_per_l=None, at_least_mg_per_l=None)


def _filled_in(recipe: Recipe, report: Water) -> tuple[Water, tuple[str, ...]]:
    """The report with what it does not name taken as fresh feed has it, and which of that is aimed at or limited."""
    named = {name for name, _ in report.mg_per_l.items()}
    if named & {"N", "NO3-N"}:  # a total stands for its forms, and nitrate alone is what most reports mean by nitrogen
        named |= {"N", "NO3-N", "urea-N"}
    unknown = [name for name in NUTRIENTS if name not in named and name != "N"]
    fresh = solve(replace(recipe, goal="closest"))
    fields = dict(zip(WaterContents.__struct_encode_fields__, WaterContents.__struct_fields__, strict=True))
    taken = {fields[name]: float(fresh.nutrients_mg_per_l[ROW[name]]) for name in unknown}
    if alkalinity_meq_per_l(report) is None and fresh.alkalinity > 0.0:
        taken["caco3"] = fresh.alkalinity * CACO3_MG_PER_MEQ
    asked: set[str] = {target.nutrient for target in recipe.aim.targets if target.mg_per_l > 0.0}
    asked |= {limit.nutrient for limit in recipe.aim.limits}
    asked |= {"NH4-N"} if "N" in asked and taken.get(fields["NH4-N"]) else set()
    # a feed's iron is in its chelate and stays, unlike a well's
    filled = replace(report, mg_per_l=replace(report.mg_per_l, **taken), credits_iron_and_manganese=True)
    return filled, tuple(name for name in NUTRIENTS if name in asked and name not in named)


def _in_range_if_can_be(recipe: Recipe, shelf: Shelf, here: WaterTotals) -> Blend:
    """The closest blend; where that trades one range for another though all can be kept, the closest that keeps all."""
    closest = solve_aim(recipe, recipe.aim, shelf, here)
    if not misses(closest):
        return closest
    demands, ranges = closest.demands, ranges_of(closest.aim, closest.demands, shelf)
    high, low = ranges.high - ranges.base, ranges.base - ranges.low
    problem = dataclasses.replace(
        demands.problem,
        g=np.vstack([demands.problem.g, ranges.brings, -ranges.brings]),
        g_rhs=np.concatenate([demands.problem.g_rhs, high, low]),
    )
    found = fit(problem)
    if not found.possible:
        return closest
    kept = choose(problem, found, preferences(demands, shelf))
    inside = assemble(recipe, closest.aim, shelf, here, demands, kept, (), closest.acids)
    return inside if len(misses(inside)) < len(misses(closest)) else closest


def _part(whole: Blend, before: Array, most_at_once: float) -> tuple[float, str | None]:
    """How much of the whole way to go at once, and the nutrient that decides it."""
    furthest, nutrient = most_at_once, None
    for row in target_rows(whole):
        was, will = float(before[ROW[row.nutrient]]), float(whole.nutrients_mg_per_l[ROW[row.nutrient]])
        change = abs(will - was) / max(was, row.target)
        if change > furthest:
            furthest, nutrient = change, row.nutrient
    return (1.0, None) if nutrient is None else (most_at_once / furthest, nutrient)


def _in_part(whole: Blend, here: WaterTotals, part: float) -> Blend:
    """The blend on its way: old solution and amounts mix in proportion, so part of both is part of the way."""
    amounts = part * whole.amounts_mg_per_l
    totals = here.totals + whole.shelf.totals @ amounts
    return dataclasses.replace(
        whole,
        water=here,
        amounts_mg_per_l=amounts,
        totals=totals,
        alkalinity=here.alkalinity + float(whole.shelf.alkalinity @ amounts),
        nutrients_mg_per_l=MG_PER_MMOL @ totals,
        water_mg_per_l=MG_PER_MMOL @ here.totals,
    )


def _moved(blend: Blend, before: Array) -> tuple[Moved, ...]:
    rows = {row.nutrient: row for row in target_rows(blend)}
    zero: dict[str, float] = {target.nutrient: target.mg_per_l for target in blend.aim.targets}
    found = []
    for name, place in ROW.items():
        was, now, row = float(before[place]), float(blend.nutrients_mg_per_l[place]), rows.get(name)
        if row is not None:
            found.append(Moved(name, was, now, row.target, row.low, row.high))
        elif name in zero or abs(now - was) > SEEN_MG_PER_L:
            found.append(Moved(name, was, now, zero.get(name)))
    return tuple(found)


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
