"""The cheapest blend: least cost with every target in its wanted range and every limit kept."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.blend.choose import USED_MG_PER_L
from core.blend.demands import Demands
from core.blend.dust import DUST_LOSS, dust
from core.blend.nutrients import Array
from core.blend.prices import Prices, prices_of
from core.blend.programme import Preference, Rows, settle
from core.blend.ranges import Ranges
from core.blend.shelf import Shelf


@dataclass(frozen=True, eq=False)
class Cheapest:
    """A cheapest blend.

    Attributes
    ----------
    x : (n,) ndarray [mg/L] over the free columns
    dropped : keys swept out as dust
    unpriced : keys left aside because they have no price
    """

    x: Array
    dropped: tuple[str, ...]
    unpriced: tuple[str, ...]


def least_cost(rows: Rows, prices: Prices, order: tuple[Preference, ...]) -> Array | None:
    """Settle cost and then the usual order; None where the rows cannot be kept.

    What has no price is used only where the rows cannot be kept without it, and then as little as can be.
    """
    cost = Preference("cost", prices.per_kg)
    found = settle(rows.without(~prices.known), (cost, *order))
    if found is not None or prices.complete:
        return found
    mass = next(preference.per_mg for preference in order if preference.name == "mass")
    return settle(rows, (Preference("unpriced", np.where(prices.known, 0.0, mass)), cost, *order))


def cheapest(ranges: Ranges, demands: Demands, shelf: Shelf, order: tuple[Preference, ...]) -> Cheapest | None:
    """Find the cheapest blend.

    Parameters
    ----------
    ranges : Ranges of the aim
    demands, shelf : what they were made from
    order : the usual order of preferences, for what the cost leaves open

    Returns
    -------
    Cheapest, or None where the ranges and limits cannot all be kept.
    """
    rows, prices = ranges.rows(), prices_of(demands, shelf)
    order = tuple(preference for preference in order if preference.name != "cost")
    x = least_cost(rows, prices, order)
    if x is None:
        return None
    x, dropped = _sweep(rows, prices, order, demands, shelf, x)
    aside = (x <= USED_MG_PER_L) & ~prices.known
    return Cheapest(x, dropped, tuple(shelf.sources[demands.free[i]].key for i in np.flatnonzero(aside)))


def _sweep(
    rows: Rows, prices: Prices, order: tuple[Preference, ...], demands: Demands, shelf: Shelf, x: Array
) -> tuple[Array, tuple[str, ...]]:
    """Leave dust out where that costs next to nothing."""
    out, dropped = np.zeros(len(x), dtype=bool), []
    allowed = float(prices.per_kg @ x) * (1.0 + DUST_LOSS)
    candidates = dust(demands, shelf, x)
    while candidates:
        column = candidates.pop(0)
        out[column] = True
        without = least_cost(rows.without(out), prices, order)
        if without is None or float(prices.per_kg @ without) > allowed:
            out[column] = False
            continue
        dropped.append(shelf.sources[demands.free[column]].key)
        x, candidates = without, dust(demands, shelf, without)
    return x, tuple(dropped)
