"""Cost against fit: the cheapest blend for every worst deviation from the targets, as the corners of its curve.

The curve is convex and made of straight pieces, so its corners say all. They are found exactly: between two known
corners the blend that lies furthest below their chord is a corner too, or there is none. Each step changes only what is
minimised, so the solver starts from where it stood.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import TYPE_CHECKING

import highspy
import numpy as np

from core.blend.demands import Demands
from core.blend.nutrients import Array
from core.blend.prices import Prices, prices_of
from core.blend.programme import INFINITE, Preference, Rows, load, minimise, settle
from core.blend.ranges import Ranges, ranges_of
from core.blend.shelf import Shelf

if TYPE_CHECKING:
    from core.blend.solve import Blend

WIDEST = 0.25
"""Worst weighted deviation at which the curve ends: a quarter of a macro's target."""

SAME = 1e-7
"""Relative distance below a chord that is solver round-off and no corner."""

MOST_CORNERS = 200


@dataclass(frozen=True, eq=False)
class Corner:
    """One corner of the curve.

    Attributes
    ----------
    deviation : float [-], worst weighted deviation: share of the target for a weight of 1
    per_1000_l : float, cost of 1000 L of feed
    x : (n,) ndarray [mg/L] over the free columns
    """

    deviation: float
    per_1000_l: float
    x: Array


@dataclass(frozen=True, eq=False)
class Frontier:
    """The curve from the best fit to the widest deviation.

    Attributes
    ----------
    corners : by deviation; one where nothing can be saved, none where nothing has a price or the limits cannot be kept
    left_out : nutrients no entry with a price brings; they are not judged
    unpriced : keys left aside for want of a price
    """

    corners: tuple[Corner, ...]
    left_out: tuple[str, ...]
    unpriced: tuple[str, ...]

    def cost_at(self, deviation: float) -> float | None:
        """Cost of 1000 L at a worst deviation, between corners in a straight line; None left of the first."""
        if not self.corners or deviation < self.corners[0].deviation * (1.0 - SAME):
            return None
        at = [corner.deviation for corner in self.corners]
        return float(np.interp(deviation, at, [corner.per_1000_l for corner in self.corners]))


def deviation_rows(ranges: Ranges, prices: Prices, widest: float) -> tuple[Rows, tuple[str, ...]]:
    """Rows over the amounts and, last, the worst weighted deviation; and the nutrients no priced entry brings."""
    served = np.asarray((ranges.brings[:, prices.known] > 0.0).any(axis=1), dtype=bool)
    brings, base = ranges.brings[served], ranges.base[served]
    reach = np.array([1.0 / target.weight if target.weight > 0.0 else 0.0 for target in ranges.targets])[served]
    judged = reach > 0.0
    brings, base, reach = brings[judged], base[judged], reach[judged, None]
    limits = ranges.limits
    m, k = len(base), limits.matrix.shape[0]
    matrix = np.vstack([
        np.hstack([brings, -reach]), np.hstack([brings, reach]), np.hstack([limits.matrix, np.zeros((k, 1))]),
    ])  # fmt: skip
    never = np.full(m, INFINITE)
    rows = Rows(
        matrix,
        np.concatenate([-never, 1.0 - base, limits.lower]),
        np.concatenate([1.0 - base, never, limits.upper]),
        np.append(np.where(prices.known, INFINITE, 0.0), widest),
    )
    left_out = tuple(t.nutrient for t, one in zip(ranges.targets, served, strict=True) if not one)
    return rows, left_out


def frontier_of(blend: Blend, *, widest: float = WIDEST) -> Frontier:
    """The curve for a solved recipe: its aim, shelf, water and limits."""
    return frontier(ranges_of(blend.aim, blend.demands, blend.shelf), blend.demands, blend.shelf, widest=widest)


def frontier(ranges: Ranges, demands: Demands, shelf: Shelf, *, widest: float = WIDEST) -> Frontier:
    """Find the curve of cost against worst weighted deviation.

    Parameters
    ----------
    ranges : Ranges of the aim; only its targets and limits count here, not how wide the ranges are
    demands, shelf : what they were made from
    widest : float [-], deviation at which to end

    Returns
    -------
    Frontier
    """
    prices = prices_of(demands, shelf)
    unpriced = tuple(shelf.sources[demands.free[i]].key for i in np.flatnonzero(~prices.known))
    if not prices.known.any():
        return Frontier((), tuple(target.nutrient for target in ranges.targets), unpriced)
    rows, left_out = deviation_rows(ranges, prices, widest)
    return Frontier(_corners(rows, np.append(prices.per_kg / 1000.0, 0.0)), left_out, unpriced)


def _corners(rows: Rows, cost: Array) -> tuple[Corner, ...]:
    ends = _ends(rows, cost)
    if ends is None:
        return ()
    solver = load(rows)
    found, waiting = [ends[0]], [ends]
    while waiting and len(found) < MOST_CORNERS:
        left, right = waiting.pop()
        between = _below(solver, left, right, cost)
        if between is None:
            found.append(right)
        else:
            waiting += [(between, right), (left, between)]
    later = [b for a, b in itertools.pairwise(found) if b.deviation > a.deviation * (1.0 + SAME) + 1e-12]
    return (found[0], *later)


def _ends(rows: Rows, cost: Array) -> tuple[Corner, Corner] | None:
    """The best fit at its least cost, and the least cost at its best fit; None where the limits cannot be kept.

    Where nothing fits within the widest deviation the best fit alone is the curve.
    """
    nearest = np.zeros(len(cost))
    nearest[-1] = 1.0
    fit_first = Preference("fit", nearest), Preference("cost", cost)
    best, cheap = settle(rows, fit_first), settle(rows, fit_first[::-1])
    if best is None or cheap is None:
        unbounded = None if rows.most is None else np.append(rows.most[:-1], INFINITE)
        best = cheap = settle(Rows(rows.matrix, rows.lower, rows.upper, unbounded), fit_first)
    return None if best is None or cheap is None else (_corner(best, cost), _corner(cheap, cost))


def _below(solver: highspy.Highs, left: Corner, right: Corner, cost: Array) -> Corner | None:
    """The corner furthest below the chord of two, or None where the chord is the curve."""
    run, rise = right.deviation - left.deviation, left.per_1000_l - right.per_1000_l
    if run <= SAME or rise <= SAME * max(left.per_1000_l, 1e-9):
        return None
    weights = cost * run
    weights[-1] = rise
    size = float(np.abs(weights).max())
    x = minimise(solver, weights / size)
    if x is None:
        return None
    chord = left.per_1000_l * run + left.deviation * rise
    found = _corner(x, cost)
    gained = chord - (found.per_1000_l * run + found.deviation * rise)
    inside = left.deviation < found.deviation < right.deviation
    return found if inside and gained > SAME * (run * left.per_1000_l + rise) else None


def _corner(x: Array, cost: Array) -> Corner:
    return Corner(float(x[-1]), float(cost[:-1] @ x[:-1]), x[:-1])
