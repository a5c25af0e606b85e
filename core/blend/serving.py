"""Acid and base in the solve: how much of them, and how acids count in the very feed they make.

Acid brings down what alkalinity stands above the goal, of the water and of the salts together, and undoes no more than
that: whether there is any, a solve without acid says. A base is added only where the salts leave too little. What an
acid gives off depends on the feed's pH and on the metals that hold its anion, so the solve goes round until both agree.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import msgspec
import numpy as np

from core.blend.alkalinity import (
    AcidUse,
    acid_meq_per_l,
    alkalinity_left,
    aside_expected,
    aside_meq_per_l,
    counting_ph,
    free_acids,
    free_bases,
    held_at,
    residual_goal,
)
from core.blend.nutrients import COLUMN, MG_PER_MMOL
from core.blend.shelf import Shelf
from core.blend.solve import Blend, demands_of, solve_once
from core.blend.strength import feed_forms
from core.blend.waters import WaterTotals
from core.chemistry import protons_held_per_mol
from core.recipe.records import Aim, Recipe

ROUNDS = 12
TRACE_ROUNDS = 4
CLOSE_MEQ_PER_L = 1e-4
"""Alkalinities this close are the same: a tenth of a millilitre of strong acid in 10 L."""

STEEPEST = 0.97
"""Slope of what a feed holds at its pH over what was asked beyond which the secant would leap (own choice)."""

SEARCHED_PH = (3.5, 9.0)
"""Where a feed that keeps its alkalinity is looked for."""

NEAR_MEQ_PER_L = 0.25
"""How far above its goal the alkalinity must stand for acid to be needed whatever sour salts there are: acid chelates
and molybdates take away a few hundredths."""


def steers_ph(aim: Aim, shelf: Shelf) -> bool:
    """True where the pH an aim names is what acid or base is dosed for: no residual rules and there is one of them."""
    asks = aim.ph is not None and aim.residual_alkalinity_meq_per_l is None
    return asks and bool(free_acids(aim, shelf) or free_bases(shelf))


def serve(recipe: Recipe, aim: Aim, shelf: Shelf, water: WaterTotals) -> Blend:
    """Solve for an aim with its alkalinity or pH served by the shelf's acids and bases.

    An aim that names only a pH is one alkalinity row whose value is what this very feed holds at that pH.

    Parameters
    ----------
    recipe, shelf, water : what is solved
    aim : may differ from the recipe's own in strength

    Returns
    -------
    Blend; `settled` is False where the rounds ran out
    """
    ph = aim.ph if steers_ph(aim, shelf) else None
    goal = residual_goal(aim, water.alkalinity, acid_on_shelf=bool(free_acids(aim, shelf)))
    held: Mapping[str, float] = held_at(shelf, counting_ph(aim, goal, float(water.totals[COLUMN["C"]])))
    asked = aim
    if (held or ph is not None) and recipe.goal != "closest" and aim.targets:
        # other goals take their time: most of the rounds are gone by the closest fit
        closest = serve(msgspec.structs.replace(recipe, goal="closest"), aim, shelf, water)
        held = closest.acids.held
        if ph is not None:
            asked = msgspec.structs.replace(aim, residual_alkalinity_meq_per_l=closest.demands.alkalinity_goal)
    blend = _served(recipe, asked, shelf, water, held)
    if ph is None and not _brought_by_acids(blend):
        return blend
    settled, before = False, None
    for _ in range(ROUNDS):
        found = _told(blend, ph)
        if found is None:
            break
        held, alkalinity = found
        left = alkalinity_left(shelf, blend.amounts_mg_per_l, water.alkalinity, held)
        settled = abs(left - blend.alkalinity_left) < CLOSE_MEQ_PER_L
        if ph is not None:
            was, wanted = asked.residual_alkalinity_meq_per_l, left + alkalinity - blend.alkalinity
            settled = settled and was is not None and abs(wanted - was) < CLOSE_MEQ_PER_L
            asked = msgspec.structs.replace(aim, residual_alkalinity_meq_per_l=_next(was, wanted, before))
            before = (was, wanted) if was is not None else None
        if settled:
            break
        blend = _served(recipe, asked, shelf, water, held)
    return replace(blend, aim=aim, settled=settled)


def _next(was: float | None, wanted: float, before: tuple[float, float] | None) -> float:
    """The alkalinity to ask for next [meq/L]: where what was asked and what the feed then held at its pH should meet.

    A carbonate brings carbonic acid with it, so that each round asks for a little more; the secant sums them up.
    """
    if was is None or before is None or abs(was - before[0]) < CLOSE_MEQ_PER_L:
        return wanted
    slope = (wanted - before[1]) / (was - before[0])
    return was + (wanted - was) / (1.0 - slope) if abs(slope) < STEEPEST else wanted


def _told(blend: Blend, ph: float | None) -> tuple[dict[str, float], float] | None:
    """What the feed of a blend tells: protons held per total, and its alkalinity by formula [meq/L].

    At a pH that is steered for, or at the pH the feed takes: with the goal's alkalinity left where the solve kept to
    it, so that a first count far off is not gone on from, else with its own.
    """
    goal, held = blend.demands.alkalinity_goal, blend.acids.held
    if ph is None and goal is not None and abs(blend.alkalinity_left - goal) < CLOSE_MEQ_PER_L:
        ph = _ph_leaving(blend, goal)
    found = feed_forms(blend.totals, ph=ph, alkalinity=blend.alkalinity)
    if found is None:
        return None
    forms, kg_per_l = found
    told = {total: float(protons_held_per_mol(total, forms)[0]) for total in held}
    told = {total: held[total] if np.isnan(protons) else protons for total, protons in told.items()}
    return told, 1e3 * float(forms.alkalinity_eq_per_kg[0]) * kg_per_l


def _ph_leaving(blend: Blend, goal: float) -> float | None:
    """The pH at which a feed of these totals has the goal's alkalinity left, its acids counted at that pH."""
    brought = _brought_by_acids(blend)
    low, high = SEARCHED_PH
    for points in (23, 9, 9):
        grid = np.linspace(low, high, points)
        found = feed_forms(np.repeat(blend.totals[:, None], points, axis=1), ph=grid)
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


def _served(recipe: Recipe, aim: Aim, shelf: Shelf, water: WaterTotals, held: Mapping[str, float]) -> Blend:
    """One solve with acids counted as given: with acid, with a base, or with neither."""
    acids, stated = free_acids(aim, shelf), aim.residual_alkalinity_meq_per_l
    goal = residual_goal(aim, water.alkalinity, acid_on_shelf=bool(acids))
    fixed = np.array([source.entry.exactly_mg_per_l or 0.0 for source in shelf.sources])

    def once(use: AcidUse) -> Blend:
        return _with_traces(recipe, aim, shelf, water, use)

    if not acids or goal is None or not (aim.targets or stated is not None):
        return once(AcidUse(held))
    above, sour = alkalinity_left(shelf, fixed, water.alkalinity, held) - goal, None
    if above > NEAR_MEQ_PER_L:
        sour = once(AcidUse(held, "acid"))
        if _freely_used(sour) <= above + CLOSE_MEQ_PER_L:
            return sour
    free = solve_once(recipe, aim, shelf, water, AcidUse(held, "free"))
    above = free.alkalinity_left - goal
    if above <= CLOSE_MEQ_PER_L:
        if stated is not None and above < -CLOSE_MEQ_PER_L and free_bases(shelf):
            return once(AcidUse(held, "base"))
        return _kept_to(free, held)
    sour = sour or once(AcidUse(held, "acid"))
    if _freely_used(sour) <= above + CLOSE_MEQ_PER_L:
        return sour
    return once(AcidUse(held, "acid", above))


def _with_traces(recipe: Recipe, aim: Aim, shelf: Shelf, water: WaterTotals, use: AcidUse) -> Blend:
    """Solve until what is set aside brings what alkalinity it was expected to."""
    fixed = np.array([source.entry.exactly_mg_per_l or 0.0 for source in shelf.sources])
    expected = aside_expected(aim, shelf, MG_PER_MMOL @ (water.totals + shelf.totals @ fixed), use)
    for _ in range(TRACE_ROUNDS):
        use = replace(use, aside_meq_per_l=expected)
        blend = solve_once(recipe, aim, shelf, water, use)
        expected = aside_meq_per_l(aim, shelf, blend.amounts_mg_per_l, use)
        if blend.demands.alkalinity_goal is None or abs(expected - use.aside_meq_per_l) < CLOSE_MEQ_PER_L:
            break
    return blend


def _kept_to(free: Blend, held: Mapping[str, float]) -> Blend:
    """The blend whose salts keep to the goal by themselves, with the row that says so: the closest fit is the same."""
    use = AcidUse(held, "none")
    use = replace(use, aside_meq_per_l=aside_meq_per_l(free.aim, free.shelf, free.amounts_mg_per_l, use))
    if free.recipe.goal != "closest":
        return solve_once(free.recipe, free.aim, free.shelf, free.water, use)
    return replace(free, demands=demands_of(free.recipe, free.aim, free.shelf, free.water, use), acids=use)


def _freely_used(blend: Blend) -> float:
    """Alkalinity taken away by the acids that were solved for [meq/L]."""
    free = np.zeros(len(blend.shelf))
    free[blend.demands.free] = blend.amounts_mg_per_l[blend.demands.free]
    return acid_meq_per_l(blend.shelf, free, blend.acids.held)
