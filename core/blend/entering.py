"""The salts a blend does without, and the price below which each would come in."""

from __future__ import annotations

import numpy as np

from core.blend.choose import USED_MG_PER_L, equally_good
from core.blend.fewest import most_of_each
from core.blend.nutrients import Array
from core.blend.prices import Prices, prices_of
from core.blend.programme import INFINITE, Preference, Rows, freeze, load, minimise
from core.blend.ranges import ranges_of
from core.blend.solve import Blend, chosen_fit, preferences
from core.blend.why_records import Unused

A_LITTLE = 1e-4
"""Share of the most a blend could hold of a salt that is forced in to see what it would save."""


def unused(blend: Blend) -> tuple[Unused, ...]:
    """Every unused entry; for each the price per kg below which the blend would use it, where prices decide."""
    if blend.recipe.goal == "fewest":
        return tuple(
            Unused(source.key, source.entry.price_per_kg, None, "count")
            for source, x in zip(blend.shelf.sources, blend.amounts_mg_per_l, strict=True)
            if x <= 0.0
        )
    free = list(blend.demands.free)
    out = [i for i, x in enumerate(blend.amounts_mg_per_l) if x <= 0.0]
    worth = _worth(blend, [free.index(i) for i in out if i in free])
    found = []
    for index in out:
        entry = blend.shelf.sources[index].entry
        if index not in free:
            found.append(Unused(entry.key, entry.price_per_kg, None, "not-allowed"))
        elif worth is None:
            found.append(Unused(entry.key, entry.price_per_kg, None, "prices-missing"))
        else:
            price = worth[free.index(index)]
            found.append(Unused(entry.key, entry.price_per_kg, price, "no-price-helps" if price is None else "price"))
    return tuple(found)


def _worth(blend: Blend, columns: list[int]) -> dict[int, float | None] | None:
    """Column -> price per kg below which it enters, None for none; None where what is used has no price."""
    prices = prices_of(blend.demands, blend.shelf)
    used = blend.amounts_mg_per_l[blend.demands.free] > USED_MG_PER_L
    if not columns or not prices.known[used].all() or not used.any():
        return None if columns else {}
    ranges = ranges_of(blend.aim, blend.demands, blend.shelf)
    most = most_of_each(ranges)
    if blend.outcome is not None and not blend.outcome.missed:
        return entering_prices(ranges.rows().without(~prices.known), prices, (), columns, most)
    found, from_columns = chosen_fit(blend.demands, blend.shelf)
    rows = equally_good(blend.demands.problem, found.x, found.g_rhs)
    first = tuple(one for one in preferences(blend.demands, blend.shelf) if one.name == "unasked")
    asked = [column for column in columns if from_columns[column]]
    worth = entering_prices(rows.without(~(prices.known & from_columns)), prices, first, asked, most)
    return dict.fromkeys(columns) | worth


def entering_prices(
    rows: Rows, prices: Prices, before: tuple[Preference, ...], columns: list[int], most: Array
) -> dict[int, float | None]:
    """Price per kg below which each column would enter the cheapest answer: what a little of it, for nothing, saves.

    Parameters
    ----------
    rows : what the answer keeps
    prices : Prices of all columns
    before : preferences settled before the cost
    columns : which to ask about
    most : (n,) ndarray [mg/L], the most of each column there can be
    """
    solver = load(rows)
    n = rows.matrix.shape[1]
    opened = np.ones(n, dtype=bool)
    for preference in before:
        if minimise(solver, preference.per_mg / (np.max(np.abs(preference.per_mg), initial=0.0) or 1.0)) is not None:
            freeze(solver, opened, rows.lower < rows.upper)
    found: dict[int, float | None] = {}
    size = float(np.max(prices.per_kg, initial=0.0)) or 1.0
    least = minimise(solver, prices.per_kg / size)
    for column in columns:
        found[column] = None
        if least is None or not opened[column]:
            continue
        little = A_LITTLE * float(most[column])
        if little <= 0.0:  # no blend that is as good has any room for it
            continue
        costs = prices.per_kg.copy()
        costs[column] = 0.0
        solver.changeColBounds(column, little, little)
        forced = minimise(solver, costs / size)
        solver.changeColBounds(column, 0.0, INFINITE if prices.known[column] else 0.0)
        if forced is not None:
            worth = float(prices.per_kg @ least - costs @ forced) / little
            found[column] = worth if worth > 0.0 else None
    return found
