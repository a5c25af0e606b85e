"""Solve a recipe: from aim, water and shelf to amounts."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from core.blend.alkalinity import BY_FORMULA, AcidUse, alkalinity_left, with_salts_at_most
from core.blend.chloride import columns_without_chloride
from core.blend.choose import USED_MG_PER_L, Preference, choose
from core.blend.demands import Demands, build
from core.blend.dust import DUST_LOSS, dust
from core.blend.fit import Fit, Problem, fit
from core.blend.nutrients import MG_PER_MMOL, Array, read_only
from core.blend.proven import Salts, proven, salts_of
from core.blend.shelf import Shelf, Source, compile_shelf
from core.blend.waters import WaterTotals, recipe_water
from core.recipe.records import Aim, Recipe

if TYPE_CHECKING:
    from core.blend.goals import Outcome


@dataclass(frozen=True, eq=False)
class Blend:
    """The solved amounts and what they make together with the water.

    Attributes
    ----------
    aim : what was solved for: the recipe's aim, scaled where a target EC asks for it
    amounts_mg_per_l : (n_sources,) ndarray, in shelf order
    totals : (n_components,) ndarray [mmol/L] of the feed
    alkalinity : float [meq/L] of the feed, by formula
    nutrients_mg_per_l : (n_nutrients,) ndarray of the feed
    water_mg_per_l : (n_nutrients,) ndarray of the water alone
    possible : bool, False when the limits could not all be kept
    outcome : how a goal other than the closest fit came out; None for the closest fit
    acids : how acids were counted and what served the alkalinity
    settled : bool, False when acid and feed did not come to agree in the rounds allowed
    """

    recipe: Recipe
    aim: Aim
    shelf: Shelf
    water: WaterTotals
    demands: Demands
    amounts_mg_per_l: Array
    totals: Array
    alkalinity: float
    nutrients_mg_per_l: Array
    water_mg_per_l: Array
    possible: bool
    dropped: tuple[str, ...] = ()
    outcome: Outcome | None = None
    acids: AcidUse = BY_FORMULA
    settled: bool = True

    @cached_property
    def used(self) -> tuple[tuple[Source, float], ...]:
        """The sources in use with their amounts [mg/L], in shelf order."""
        pairs = zip(self.shelf.sources, self.amounts_mg_per_l.tolist(), strict=True)
        return tuple([(source, amount) for source, amount in pairs if amount > 0.0])

    @cached_property
    def alkalinity_left(self) -> float:
        """Alkalinity of the feed with its acids counted by what they give off in it [meq/L]."""
        return alkalinity_left(self.shelf, self.amounts_mg_per_l, self.water.alkalinity, self.acids.held)


def crop_ammonium_share_percent(recipe: Recipe) -> float | None:
    """The share of nitrogen this recipe's crop usually gets as ammonium, where its catalog profile states one."""
    if recipe.aim.crop is None:
        return None
    from core.catalog import crops

    return next((c.ammonium_share_percent for c in crops() if c.id == recipe.aim.crop), None)


def preferences(demands: Demands, shelf: Shelf) -> tuple[Preference, ...]:
    """The order in which equal fits are chosen between."""
    return Preference("unasked", demands.unasked), *_of_products(shelf, demands.free.tobytes())


@lru_cache(maxsize=64)
def _of_products(shelf: Shelf, columns: bytes) -> tuple[Preference, ...]:
    """What of the order follows from the products alone, over some columns (places, as bytes) of the shelf."""
    free = np.frombuffer(columns, dtype=np.intp)
    dissolved = shelf.dissolved[free]
    prices = [shelf.sources[column].entry.price_per_kg for column in free.tolist()]
    cost = [Preference("cost", np.array(prices, dtype=float))] if prices and None not in prices else []
    order = (*cost, Preference("mass", dissolved), Preference("catalog", dissolved * (1.0 + shelf.rank[free])))
    read_only(*(preference.per_mg for preference in order))
    return order


def solve_demands(demands: Demands, shelf: Shelf) -> tuple[Fit, tuple[str, ...]]:
    """Fit, choose and sweep the dust out; returns the fit over the free columns and the keys swept out."""
    result, _ = chosen_fit(demands, shelf)
    dropped: list[str] = []
    while (swept := _swept(demands, shelf, result)) is not None:
        column, result = swept
        dropped.append(shelf.sources[demands.free[column]].key)
    return result, tuple(dropped)


def chosen_fit(demands: Demands, shelf: Shelf) -> tuple[Fit, NDArray[np.bool_]]:
    """The fit over the free columns that a grower would choose, and which of the columns it was chosen from."""
    order, every = preferences(demands, shelf), np.ones(len(demands.free), dtype=bool)
    result = _chosen(demands.problem, order, shelf, demands.free)
    columns = columns_without_chloride(demands, shelf, result.x)
    if columns is None:
        return result, every
    problem = demands.problem.only(columns)
    spared = _chosen(problem, tuple(one.only(columns) for one in order), shelf, demands.free[columns])
    return replace(spared, x=_spread(spared.x, columns, len(every))), np.isin(np.arange(len(every)), columns)


def _chosen(problem: Problem, order: tuple[Preference, ...], shelf: Shelf, columns: NDArray[np.intp]) -> Fit:
    """The preferred of the best fits, exact on its own salts; those of the last fit like it are tried first."""
    last = _last_salts(shelf, columns.tobytes(), len(problem.e_rhs), len(problem.g_rhs))
    exact = _exact(problem, order, list(last))
    if exact is not None:
        return exact
    found = choose(problem, fit(problem), order)
    salts = salts_of(problem, found)
    last[:] = salts
    return _exact(problem, order, salts) or found


def _exact(problem: Problem, order: tuple[Preference, ...], guess: list[Salts]) -> Fit | None:
    return proven(problem, order, guess[0]) if guess else None


@lru_cache(maxsize=64)
def _last_salts(shelf: Shelf, columns: bytes, n_exact: int, n_at_most: int) -> list[Salts]:
    """What the last fit over these columns of a shelf, with so many limits, stood on; none at first.

    Only a guess, which `proven` takes or leaves: what a plan says never depends on it.
    """
    return []


def _spread(x: Array, columns: NDArray[np.intp], size: int) -> Array:
    """Amounts of some columns among all."""
    spread = np.zeros(size)
    spread[columns] = x
    return spread


def _swept(demands: Demands, shelf: Shelf, result: Fit) -> tuple[int, Fit] | None:
    """The first salt that is dust and costs next to nothing to leave out, and the fit without it."""
    for column in dust(demands, shelf, result.x):
        without = _without(demands, result, column)
        if without is not None and _loss(demands, result.x, without.x) < DUST_LOSS:
            return column, without
    return None


def _without(demands: Demands, result: Fit, column: int) -> Fit | None:
    """The same salts less one, fitted anew under the limits that were kept."""
    keep = np.array([i for i in np.flatnonzero(result.x > USED_MG_PER_L) if i != column], dtype=int)
    kept = replace(demands.problem, e_rhs=result.e_rhs, g_rhs=result.g_rhs)
    found = fit(kept.only(keep))
    return replace(result, x=_spread(found.x, keep, len(demands.free))) if found.possible else None


def _loss(demands: Demands, before: Array, after: Array) -> float:
    a, b = demands.problem.a, demands.problem.b
    return float(np.max(np.abs(a @ after - b) - np.abs(a @ before - b), initial=0.0))


def solve(recipe: Recipe) -> Blend:
    """Find the amounts for a recipe's aim on its shelf and water.

    Never raises for an aim that cannot be met: the nearest blend is the answer, and `possible` and the demands'
    notes say what stood in the way.

    Parameters
    ----------
    recipe : Recipe

    Returns
    -------
    Blend
    """
    shelf, water = compile_shelf(recipe.shelf), recipe_water(recipe)
    if recipe.aim.ec_ms_per_cm is not None and recipe.aim.targets:
        from core.blend.strength import at_target_ec

        return at_target_ec(recipe, shelf, water)
    return solve_aim(recipe, recipe.aim, shelf, water)


def solve_aim(recipe: Recipe, aim: Aim, shelf: Shelf, water: WaterTotals) -> Blend:
    """Solve for an aim that may differ from the recipe's own in strength."""
    from core.blend.serving import serve

    return serve(recipe, aim, shelf, water)


def solve_once(recipe: Recipe, aim: Aim, shelf: Shelf, water: WaterTotals, acids: AcidUse) -> Blend:
    """Solve once, acids counting and serving as told."""
    return solve_goal(recipe, aim, shelf, water, demands_of(recipe, aim, shelf, water, acids), acids)


def demands_of(recipe: Recipe, aim: Aim, shelf: Shelf, water: WaterTotals, acids: AcidUse) -> Demands:
    """The rows of one solve, acids counting and serving as told."""
    share = crop_ammonium_share_percent(recipe)
    demands = build(aim, shelf, water.totals, water.alkalinity, share, acids)
    return with_salts_at_most(demands, aim, shelf, acids)


def solve_goal(
    recipe: Recipe, aim: Aim, shelf: Shelf, water: WaterTotals, demands: Demands, acids: AcidUse = BY_FORMULA
) -> Blend:
    """Solve for the recipe's goal; the closest blend where another goal cannot be had, and then it says so."""
    if recipe.goal == "closest" or not aim.targets:
        result, dropped = solve_demands(demands, shelf)
        return assemble(recipe, aim, shelf, water, demands, result, dropped, acids)
    from core.blend.goals import reach

    found = reach(recipe.goal, aim, demands, shelf, preferences(demands, shelf))
    if found.x is None:
        result, dropped = solve_demands(demands, shelf)
    else:
        problem = demands.problem
        no_prices = np.zeros(len(problem.e_rhs)), np.zeros(len(problem.g_rhs))
        result, dropped = Fit(found.x, *no_prices, problem.e_rhs, problem.g_rhs, possible=True), found.dropped
    return replace(assemble(recipe, aim, shelf, water, demands, result, dropped, acids), outcome=found.outcome)


def assemble(
    recipe: Recipe,
    aim: Aim,
    shelf: Shelf,
    water: WaterTotals,
    demands: Demands,
    result: Fit,
    dropped: tuple[str, ...],
    acids: AcidUse,
) -> Blend:
    """Put fixed and solved amounts together and count the feed."""
    amounts = demands.fixed_mg_per_l.copy()
    amounts[demands.free] = np.where(result.x > USED_MG_PER_L, result.x, 0.0)
    totals = water.totals + shelf.totals @ amounts
    alkalinity = water.alkalinity + float(shelf.alkalinity @ amounts)
    return Blend(
        recipe,
        aim,
        shelf,
        water,
        demands,
        amounts,
        totals,
        alkalinity,
        MG_PER_MMOL @ totals,
        MG_PER_MMOL @ water.totals,
        result.possible,
        dropped,
        acids=acids,
    )
