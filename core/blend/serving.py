"""Acid and base in the solve: how much of them, and how acids count in the very feed they make.

Acid brings down what alkalinity stands above the goal, of the water and of the salts together, never more. A base is
added only where the salts leave too little. For the closest fit the salts may bring no more alkalinity than they would
without acid, so that no acid is used as a fertilizer with a salt to undo it; for the other goals the cost or the count
says which salts and how much acid. What an acid gives off depends on the feed's pH and on the metals that hold its
anion, so the solve goes round until both agree.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

import msgspec
import numpy as np

from core.blend.alkalinity import (
    CLOSE_MEQ_PER_L,
    AcidUse,
    alkalinity_left,
    aside_expected,
    aside_meq_per_l,
    counting_ph,
    free_acids,
    free_bases,
    held_at,
    residual_goal,
    salts_meq_per_mg,
)
from core.blend.nutrients import COLUMN, MG_PER_MMOL
from core.blend.prices import cost_per_1000_l
from core.blend.shelf import Shelf
from core.blend.solve import Blend, demands_of, solve_once
from core.blend.strength import feed_forms
from core.blend.waters import WaterTotals
from core.chemistry import protons_held_per_mol
from core.recipe.records import Aim, Recipe

ROUNDS = 12
TRACE_ROUNDS = 4

SAME_MEQ_PER_L = 1e-7
"""Alkalinities this close end the rounds: one more would move no amount by as much as a millionth of the feed's."""

STEEPEST = 0.97
"""Slope of what a feed holds at its pH over what was asked beyond which the secant would leap (own choice)."""

SEARCHED_PH = (3.5, 9.0)
"""Where a feed that keeps its alkalinity is looked for (own choice; feeds are given at pH 5 to 7)."""

NEAR_MEQ_PER_L = 0.25
"""How far above its goal the alkalinity must stand for acid to be needed whatever sour salts there are: acid chelates
and molybdates take away a few hundredths (own choice)."""

SAVES = 1e-6
"""Share of the cost that acid must save to be used where the ranges can be kept without: more than round-off."""

ASKED = "asked"
"""Among what a round counts with, beside the totals of `HOLDERS`: the alkalinity that stands for a pH [meq/L]."""

Counted = dict[str, float]
"""What a round counts with: protons held per total [mol/mol], and `ASKED` where a pH is steered for."""


def steers_ph(aim: Aim, shelf: Shelf) -> bool:
    """True where the pH an aim names is what acid or base is dosed for: no residual rules and there is one of them."""
    asks = aim.ph is not None and aim.residual_alkalinity_meq_per_l is None
    return asks and bool(free_acids(aim, shelf) or free_bases(shelf))


def serve(recipe: Recipe, aim: Aim, shelf: Shelf, water: WaterTotals) -> Blend:
    """Solve for an aim with its alkalinity or pH served by the shelf's acids and bases.

    An aim that names only a pH is one alkalinity row whose value is what this very feed holds at that pH. Other goals
    than the closest fit start from it, and it is the answer where they cannot be had.

    Parameters
    ----------
    recipe, shelf, water : what is solved
    aim : may differ from the recipe's own in strength

    Returns
    -------
    Blend; `settled` is False where the rounds ran out
    """
    acids, ph = free_acids(aim, shelf), aim.ph if steers_ph(aim, shelf) else None
    goal = residual_goal(aim, water.alkalinity, acid_on_shelf=bool(acids))
    counted: Counted = held_at(shelf, counting_ph(aim, goal, float(water.totals[COLUMN["C"]])))
    case = _Case(recipe, aim, shelf, water)
    if case.closest or not (counted or acids or ph is not None):
        return _rounds(case, counted, ph)
    # other goals take their time: most of the rounds are gone by the closest fit
    closest = serve(msgspec.structs.replace(recipe, goal="closest"), aim, shelf, water)
    counted = dict(closest.acids.held)
    if ph is not None and closest.demands.alkalinity_goal is not None:
        counted[ASKED] = closest.demands.alkalinity_goal
    blend = _rounds(case, counted, ph)
    return replace(closest, recipe=recipe, outcome=blend.outcome) if _missed(blend) else blend


@dataclass(frozen=True, eq=False)
class _Case:
    """What is solved, round after round."""

    recipe: Recipe
    aim: Aim
    shelf: Shelf
    water: WaterTotals

    @property
    def closest(self) -> bool:
        return self.recipe.goal == "closest" or not self.aim.targets

    @cached_property
    def free(self) -> Blend:
        """The closest fit without acid or base and without an alkalinity to keep: the same in every round."""
        return solve_once(self.recipe, self.aim, self.shelf, self.water, AcidUse(serve="free"))

    def asking(self, counted: Counted) -> _Case:
        """The same with the alkalinity to ask for in place of the pH."""
        aim = msgspec.structs.replace(self.aim, residual_alkalinity_meq_per_l=counted[ASKED])
        return replace(self, aim=aim)

    def solved(self, use: AcidUse) -> Blend:
        """Solve until what is set aside brings what alkalinity it was expected to; never from in range to out of it."""
        base = MG_PER_MMOL @ (self.water.totals + self.shelf.totals @ self.shelf.fixed_mg_per_l)
        expected, blend = aside_expected(self.aim, self.shelf, base, use), None
        for _ in range(TRACE_ROUNDS):
            use = replace(use, aside_meq_per_l=expected)
            found = solve_once(self.recipe, self.aim, self.shelf, self.water, use)
            if blend is not None and _missed(found) and not _missed(blend):
                break
            blend = found
            expected = aside_meq_per_l(self.aim, self.shelf, blend.amounts_mg_per_l, use)
            if blend.demands.alkalinity_goal is None or abs(expected - use.aside_meq_per_l) < CLOSE_MEQ_PER_L:
                break
        assert blend is not None
        return blend


def _rounds(case: _Case, counted: Counted, ph: float | None) -> Blend:
    """Solve and count anew until both agree; the last blend in range where a goal is lost on the way."""
    blend = _served(case, counted)
    if ph is None and not _brought_by_acids(blend):
        return blend
    settled, before = False, (counted, counted)
    for _ in range(ROUNDS):
        told = _told(blend, ph)
        off = math.inf if told is None else _apart(blend, counted, told)
        settled = off < CLOSE_MEQ_PER_L
        if told is None or off < SAME_MEQ_PER_L or _missed(blend):
            break
        counted, before = _next(counted, told, before), (counted, told)
        found = _served(case, counted)
        if _missed(found):
            break
        blend = found
    return replace(blend, aim=case.aim, settled=settled)


def _missed(blend: Blend) -> bool:
    """True where another goal than the closest fit could not be had."""
    return blend.outcome is not None and bool(blend.outcome.missed)


def _apart(blend: Blend, counted: Counted, told: Counted) -> float:
    """How far what a blend was counted with is from what its feed tells [meq/L]."""
    left = alkalinity_left(blend.shelf, blend.amounts_mg_per_l, blend.water.alkalinity, _held(told))
    asked = abs(told[ASKED] - counted.get(ASKED, math.inf)) if ASKED in told else 0.0
    return max(abs(left - blend.alkalinity_left), asked)


def _held(counted: Counted) -> Counted:
    return {total: protons for total, protons in counted.items() if total != ASKED}


def _next(counted: Counted, told: Counted, before: tuple[Counted, Counted]) -> Counted:
    """What to count with next: where what was counted with and what the feed then told should meet, by the secant.

    A carbonate brings carbonic acid with it, so that each round asks for a little more; the secant sums them up.
    """
    following = dict(told)
    for name, wanted in told.items():
        if name not in counted or name not in before[0]:
            continue
        was, step = counted[name], counted[name] - before[0][name]
        slope = (wanted - before[1][name]) / step if abs(step) > SAME_MEQ_PER_L else 0.0
        following[name] = was + (wanted - was) / (1.0 - slope) if abs(slope) < STEEPEST else wanted
    return following


def _told(blend: Blend, ph: float | None) -> Counted | None:
    """What the feed of a blend tells: protons held per total, and at a pH that is steered for what to ask for.

    At that pH, or at the pH the feed takes: with the goal's alkalinity left where the solve kept to it, so that a first
    count far off is not gone on from, else with its own.
    """
    goal, held = blend.demands.alkalinity_goal, blend.acids.held
    at = ph
    if ph is None and goal is not None and abs(blend.alkalinity_left - goal) < CLOSE_MEQ_PER_L:
        at = _ph_leaving(blend, goal)
    found = feed_forms(blend.totals, ph=at, alkalinity=blend.alkalinity, temperature_c=blend.water.temperature_c)
    if found is None:
        return None
    forms, kg_per_l = found
    told = {total: float(protons_held_per_mol(total, forms)[0]) for total in held}
    told = {total: held[total] if np.isnan(protons) else protons for total, protons in told.items()}
    if ph is not None:
        left = alkalinity_left(blend.shelf, blend.amounts_mg_per_l, blend.water.alkalinity, told)
        told[ASKED] = left + 1e3 * float(forms.alkalinity_eq_per_kg[0]) * kg_per_l - blend.alkalinity
    return told


def _ph_leaving(blend: Blend, goal: float) -> float | None:
    """The pH at which a feed of these totals has the goal's alkalinity left, its acids counted at that pH."""
    brought = _brought_by_acids(blend)
    low, high = SEARCHED_PH
    for points in (23, 9, 9):
        grid = np.linspace(low, high, points)
        columns = np.repeat(blend.totals[:, None], points, axis=1)
        found = feed_forms(columns, ph=grid, temperature_c=blend.water.temperature_c)
        if found is None:
            return None
        forms, kg_per_l = found
        left = 1e3 * forms.alkalinity_eq_per_kg * kg_per_l
        left += sum(protons_held_per_mol(total, forms) * amount for total, amount in brought.items())
        if not left[0] <= goal <= left[-1]:
            return None
        at = int(np.searchsorted(left, goal))
        low, high = float(grid[max(at - 1, 0)]), float(grid[at])
    return float(np.interp(goal, left, grid))


def _brought_by_acids(blend: Blend) -> dict[str, float]:
    """Totals of acids whose anions hold protons [mmol/L]."""
    acids = list(blend.shelf.of_kind("acid"))
    brought = blend.shelf.totals[:, acids] @ blend.amounts_mg_per_l[acids]
    return {t: float(brought[COLUMN[t]]) for t in blend.acids.held if brought[COLUMN[t]] > 0.0}


def _served(case: _Case, counted: Counted) -> Blend:
    """One solve with acids counted as given: with acid, with a base, or with neither."""
    asking = case.asking(counted) if ASKED in counted else case
    acids, stated = free_acids(case.aim, case.shelf), asking.aim.residual_alkalinity_meq_per_l
    goal, held = residual_goal(asking.aim, case.water.alkalinity, acid_on_shelf=bool(acids)), _held(counted)
    if not acids or goal is None or not (case.aim.targets or stated is not None):
        return asking.solved(AcidUse(held))
    if case.closest:
        return _closest(case, asking, held, goal)
    without = asking.solved(AcidUse(held, "base" if stated is not None and free_bases(case.shelf) else "none"))
    sour = asking.solved(AcidUse(held, "acid"))
    *first, cost = _rank(without)
    return sour if _rank(sour) < (*first, cost * (1.0 - SAVES)) else without


def _closest(case: _Case, asking: _Case, held: Mapping[str, float], goal: float) -> Blend:
    """The closest fit: with acid where a solve without it leaves too much, and then for no more of the salts.

    case, asking : what is solved, and the same with the alkalinity asked for in this round
    """
    shelf, alkalinity = case.shelf, case.water.alkalinity
    above = alkalinity_left(shelf, shelf.fixed_mg_per_l, alkalinity, held) - goal
    sour = asking.solved(AcidUse(held, "acid")) if above > NEAR_MEQ_PER_L else None
    if sour is not None and _by_salts(sour) <= CLOSE_MEQ_PER_L:
        return sour
    amounts = case.free.amounts_mg_per_l
    above = alkalinity_left(shelf, amounts, alkalinity, held) - goal
    if above <= CLOSE_MEQ_PER_L:
        stated = asking.aim.residual_alkalinity_meq_per_l is not None
        if stated and above < -CLOSE_MEQ_PER_L and free_bases(shelf):
            return asking.solved(AcidUse(held, "base"))
        use = AcidUse(held, "none")
        use = replace(use, aside_meq_per_l=aside_meq_per_l(case.aim, shelf, amounts, use))
        demands = demands_of(case.recipe, asking.aim, shelf, case.water, use)
        return replace(case.free, aim=asking.aim, demands=demands, acids=use)
    sour, brought = sour or asking.solved(AcidUse(held, "acid")), _by_salts(case.free)
    if _by_salts(sour) <= brought + SAME_MEQ_PER_L:
        return sour
    return asking.solved(AcidUse(held, "acid", brought))


def _rank(blend: Blend) -> tuple[bool, int, float, float]:
    """What makes one way of serving the alkalinity better than another, for the cheapest and the fewest; least first.

    In range at all; fewest salts where that is the goal; least without a price; least cost.
    """
    outcome = blend.outcome
    cost, unpriced = cost_per_1000_l(blend.shelf, blend.amounts_mg_per_l)
    amounts = {source.key: amount for source, amount in blend.used}
    fewest = outcome is not None and outcome.goal == "fewest"
    count = (outcome.count or 0) if outcome is not None and fewest else 0
    without_price = float(len(unpriced)) if fewest else sum(amounts[key] for key in unpriced)
    return _missed(blend), count, without_price, cost or 0.0


def _by_salts(blend: Blend) -> float:
    """Alkalinity the salts bring that were solved for, silicates with them, traces not [meq/L]."""
    free = blend.demands.free
    return float(salts_meq_per_mg(blend.aim, blend.shelf)[free] @ blend.amounts_mg_per_l[free])
