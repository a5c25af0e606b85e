"""The blend of fewest salts: how few can keep every target in its range, and the cheapest of those.

Two whole-number programmes, one switch per salt: first the least number, then the least cost with that number; then
the amounts anew on the chosen salts alone. A count is proven by the solver's bound, and where the search ends before it
is, the bound is told. How far it goes is counted in work, not in time: the same aim has the same answer on any machine.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.blend.choose import USED_MG_PER_L
from core.blend.demands import Demands
from core.blend.fit import Problem, fit
from core.blend.nutrients import Array
from core.blend.prices import Prices, prices_of
from core.blend.programme import INFINITE, Preference, Rows, WholeAnswer, load, minimise, minimise_whole, settle
from core.blend.ranges import Ranges
from core.blend.shelf import Shelf

WORK = 150
"""How often both programmes together may ask whether to go on (own choice: half a second on a slow machine; 40 salts
take 40 at the median and 110 at most)."""

LEAST_WORK = 40
"""Of it for the second programme, however much the first took."""

COUNT_GAP = 0.999
"""Absolute gap at which a whole number of salts is proven."""

COST_GAP = 1e-7
"""Relative gap of the second programme."""

AMPLE_MG_PER_L = 20_000.0
"""More of one product than any feed holds; stands in where no row bounds a column."""

NEARLY_WHOLE = 1e-6
"""A bound this close above a whole number is that number: round-off of the solver."""

UNASKED_FIRST = 1000.0
"""What the most of unasked-for ions a salt could bring counts for against the most of its mass, where nothing has a
price: a thousandth of the one outweighs all of the other (own choice)."""


@dataclass(frozen=True, eq=False)
class Fewest:
    """A blend of fewest salts.

    Attributes
    ----------
    x : (n,) ndarray [mg/L] over the free columns
    count : how many of the counted columns are used
    at_least : the proven least number; below `count` where the search was ended
    cost_gap : float 0..1, the most by which as few salts could be cheaper, as a share of the cost; 0 where that is
        proven, or where not every salt used has a price
    """

    x: Array
    count: int
    at_least: int
    cost_gap: float = 0.0


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
    seconds : float [s] or None, to end each programme by the clock as well; the answer then depends on the machine
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
    most = most_of_each(ranges)
    whole = np.concatenate([np.zeros(n, dtype=bool), np.ones(n, dtype=bool)])
    count_costs = np.concatenate([np.zeros(n), counted.astype(float)])
    both = switched(rows, most)
    first = minimise_whole(
        both, count_costs, whole, absolute_gap=COUNT_GAP, relative_gap=0.0, work=WORK, seconds=seconds, stop=stop
    )  # fmt: skip
    at_least = math.ceil(first.bound - NEARLY_WHOLE) if math.isfinite(first.bound) else 0
    if first.x is None:
        return Fewest(start, int(np.sum((start > USED_MG_PER_L) & counted)), max(at_least, 0))
    count, prices = round(first.objective), prices_of(demands, shelf)
    capped = Rows(
        np.vstack([both.matrix, count_costs]), np.append(both.lower, -INFINITE), np.append(both.upper, count), both.most
    )
    second = minimise_whole(
        capped, second_costs(prices, order, most), whole, absolute_gap=0.0, relative_gap=COST_GAP,
        work=max(WORK - first.work, LEAST_WORK), seconds=seconds, stop=stop,
    )  # fmt: skip
    switches = (first.x if second.x is None else second.x)[n:] > 0.5
    x = amounts_on(switches | ~counted, rows, demands.problem, prices, order)
    x = first.x[:n] * most if x is None else x
    return Fewest(x, count, max(at_least, 0), _cost_gap(second, prices, x))


def _cost_gap(second: WholeAnswer, prices: Prices, x: Array) -> float:
    """The most by which another set of as few salts could be cheaper, as a share of the cost."""
    if not prices.known[x > USED_MG_PER_L].all() or not np.any(prices.per_kg[x > USED_MG_PER_L] > 0.0):
        return 0.0
    if second.x is None:
        return 1.0
    gap = (second.objective - max(second.bound, 0.0)) / second.objective if second.objective > 0.0 else 0.0
    return gap if gap > 10.0 * COST_GAP else 0.0


def second_costs(prices: Prices, order: tuple[Preference, ...], most: Array) -> Array:
    """What tells equally few salts apart: how many have no price, then cost; without prices what nobody asked for.

    A salt without a price weighs as much as all costs together could.
    """
    n = len(most)
    if prices.known.any():
        return np.concatenate([_parts(prices.per_kg * most), np.where(prices.known, 0.0, float(n))])
    named = {preference.name: preference.per_mg for preference in order}
    unasked, mass = _parts(named["unasked"] * most), _parts(named["mass"] * most)
    return np.concatenate([UNASKED_FIRST * unasked + mass, np.zeros(n)])


def _parts(values: Array) -> Array:
    """Values in parts of the largest."""
    return np.asarray(values / (float(values.max(initial=0.0)) or 1.0))


def amounts_on(
    chosen: NDArray[np.bool_],
    rows: Rows,
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
