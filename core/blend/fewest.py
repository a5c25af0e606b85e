"""The blend of fewest salts: how few can keep every target in its range, and the cheapest of those.

Two whole-number programmes, one switch per salt: first the least number, then the least cost with that number; then
the amounts anew on the chosen salts alone. A count is proven by the solver's bound, and where time runs out before it
is, the bound is told.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.blend.choose import USED_MG_PER_L
from core.blend.demands import Demands
from core.blend.fit import Problem, fit
from core.blend.nutrients import Array
from core.blend.prices import Prices, prices_of
from core.blend.programme import INFINITE, Preference, Rows, load, minimise, minimise_whole, settle
from core.blend.ranges import Ranges
from core.blend.shelf import Shelf

SECONDS = 0.4
"""Time for both programmes together; what is not proven by then is told with its gap."""

COUNT_GAP = 0.999
"""Absolute gap at which a whole number of salts is proven."""

COST_GAP = 1e-7
"""Relative gap of the second programme."""

AMPLE_MG_PER_L = 20_000.0
"""More of one product than any feed holds; stands in where no row bounds a column."""

NEARLY_WHOLE = 1e-6


@dataclass(frozen=True, eq=False)
class Fewest:
    """A blend of fewest salts.

    Attributes
    ----------
    x : (n,) ndarray [mg/L] over the free columns
    count : how many of the counted columns are used
    at_least : the proven least number; below `count` where the time ran out
    """

    x: Array
    count: int
    at_least: int


def most_of_each(ranges: Ranges) -> Array:
    """The most of each column any blend in range can hold [mg/L]: least over its rows of room over content.

    Only rows nothing can lower count. A column no such row bounds is bounded by a programme of its own.
    """
    rows = ranges.rows()
    only_up = np.all(rows.matrix >= 0.0, axis=1) & np.isfinite(rows.upper)
    matrix, room = rows.matrix[only_up], np.maximum(rows.upper[only_up], 0.0)
    ratio = np.full_like(matrix, np.inf)
    np.divide(np.broadcast_to(room[:, None], matrix.shape), matrix, out=ratio, where=matrix > 0.0)
    most = ratio.min(axis=0, initial=np.inf)
    for column in np.flatnonzero(~np.isfinite(most)):
        most[column] = _most_of(rows, int(column))
    return np.asarray(np.minimum(most, AMPLE_MG_PER_L), dtype=float)


def _most_of(rows: Rows, column: int) -> float:
    costs = np.zeros(rows.matrix.shape[1])
    costs[column] = -1.0
    found = minimise(load(rows), costs)
    return AMPLE_MG_PER_L if found is None else float(found[column])


def switched(rows: Rows, most: Array) -> Rows:
    """The rows with one switch per column behind the amounts: nothing of a column whose switch is off.

    Amounts are counted in parts of the most they can be, so that every switch row reads "part at most switch".
    """
    m, n = rows.matrix.shape
    matrix = np.block([[rows.matrix * most, np.zeros((m, n))], [np.eye(n), -np.eye(n)]])
    return Rows(
        matrix,
        np.concatenate([rows.lower, np.full(n, -INFINITE)]),
        np.concatenate([rows.upper, np.zeros(n)]),
        np.ones(2 * n),
    )


def fewest(
    ranges: Ranges,
    demands: Demands,
    shelf: Shelf,
    order: tuple[Preference, ...],
    *,
    counted: NDArray[np.bool_] | None = None,
    seconds: float | None = None,
    stop: Callable[[], bool] | None = None,
) -> Fewest | None:
    """Find the blend of fewest salts.

    Parameters
    ----------
    ranges : Ranges of the aim
    demands, shelf : what they were made from
    order : the usual order of preferences, for what the count leaves open
    counted : (n,) ndarray of bool, the columns that count; None for all
    seconds : float [s], for both programmes together; None for SECONDS
    stop : asked now and then; True ends the search with what there is

    Returns
    -------
    Fewest, or None where the ranges and limits cannot all be kept.
    """
    rows, n = ranges.rows(), len(demands.free)
    start = settle(rows, order)
    if start is None:
        return None
    counted = np.ones(n, dtype=bool) if counted is None else counted
    seconds = SECONDS if seconds is None else seconds
    began, most = time.perf_counter(), most_of_each(ranges)
    whole = np.concatenate([np.zeros(n, dtype=bool), np.ones(n, dtype=bool)])
    count_costs = np.concatenate([np.zeros(n), counted.astype(float)])
    both = switched(rows, most)
    first = minimise_whole(
        both, count_costs, whole, absolute_gap=COUNT_GAP, relative_gap=0.0, seconds=seconds, stop=stop
    )  # fmt: skip
    if first is None:
        used = start > USED_MG_PER_L
        return Fewest(start, int(np.sum(used & counted)), 0)
    count, at_least = round(first.objective), math.ceil(first.bound - NEARLY_WHOLE)
    prices = prices_of(demands, shelf)
    capped = Rows(
        np.vstack([both.matrix, count_costs]), np.append(both.lower, -INFINITE), np.append(both.upper, count), both.most
    )
    left = max(seconds - (time.perf_counter() - began), 0.05)
    costs = second_costs(prices, order, most)
    second = minimise_whole(capped, costs, whole, absolute_gap=0.0, relative_gap=COST_GAP, seconds=left, stop=stop)
    switches = (first if second is None else second).x[n:] > 0.5
    x = amounts_on(switches | ~counted, rows, ranges, demands.problem, prices, order)
    return Fewest(x if x is not None else first.x[:n] * most, count, max(at_least, 0))


def second_costs(prices: Prices, order: tuple[Preference, ...], most: Array) -> Array:
    """What tells equally few salts apart: how many have no price, then cost; without prices what nobody asked for."""
    named = {preference.name: preference.per_mg for preference in order}
    if prices.known.any():
        cost = prices.per_kg * most
        size = float(cost.max(initial=0.0)) or 1.0
        return np.concatenate([cost / size, np.where(prices.known, 0.0, float(len(most)))])
    unasked, mass = named["unasked"] * most, named["mass"] * most
    size = float(mass.max(initial=0.0)) or 1.0
    return np.concatenate([(100.0 * unasked * 100.0 + mass) / size, np.zeros(len(most))])


def amounts_on(
    chosen: NDArray[np.bool_],
    rows: Rows,
    ranges: Ranges,
    problem: Problem,
    prices: Prices,
    order: tuple[Preference, ...],
) -> Array | None:
    """The amounts on the chosen salts: the cheapest where all have a price, else the nearest to the targets."""
    if prices.known[chosen].all() and chosen.any():
        rest = tuple(preference for preference in order if preference.name != "cost")
        return settle(rows.without(~chosen), (Preference("cost", prices.per_kg), *rest))
    columns = np.flatnonzero(chosen)
    x = np.zeros(len(chosen))
    x[columns] = fit(problem.only(columns)).x
    return x if in_range(rows, x) else settle(rows.without(~chosen), order)


def in_range(rows: Rows, x: Array) -> bool:
    """True where these amounts keep the rows, round-off aside."""
    reached = rows.matrix @ x
    room = 1e-7 * (1.0 + np.abs(reached))
    return bool(np.all(reached >= rows.lower - room) and np.all(reached <= rows.upper + room))
