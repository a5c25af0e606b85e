"""Several changes of a batch together, as a linear programme: first the least miss, then the least change.

Unknown are the grams that are to be in each tank, each times the share of its strength a tank keeps, and those
shares: so "more water" and "more of a salt" stand in one linear system, and what is in a tank already stays in it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np

from core.bench.repair_records import (
    ADD_COST,
    FILL_COST,
    MOST_LARGER,
    MOST_TIMES,
    WEIGH_COST,
    Bench,
    Filling,
    Wanted,
    step_of,
)

if TYPE_CHECKING:
    from core.blend.nutrients import Array

KEPT_BY_ROUNDING = 0.3
"""At most this share of a range is kept free for rounding to scale steps afterwards (own choice)."""


def change_together(
    bench: Bench, wanted: Wanted, kept_shares: Mapping[str, float] | None = None
) -> tuple[dict[str, float], list[float]]:
    """Return the best changes before rounding.

    Parameters
    ----------
    kept_shares : tank -> share of its strength it keeps, where that is settled; None leaves it to be found

    Returns
    -------
    shares : tank -> share of its strength it keeps, 1 where it is not filled further
    grams : (n_fillings,) what is to be in the tank in the end [g]
    """
    tanks, count = list(bench.filled_l), len(bench.fillings)
    feeds, offset, cost = _columns(bench, tanks)
    rows, limits, misses = _ranges(bench, wanted, feeds, offset)
    downs = _not_below_nothing(bench.fillings, tanks, feeds.shape[1])
    upper = np.vstack([np.hstack([rows, -misses[:, None]]), np.hstack([downs, np.zeros((count, 1))])])
    right = np.concatenate([limits, np.zeros(count)])
    settled = [(1.0 / MOST_LARGER, 1.0) if kept_shares is None else (kept_shares[tank],) * 2 for tank in tanks]
    x = _least(upper, right, [*_weight_bounds(bench.fillings), *settled], cost)
    shares = dict(zip(tanks, x[2 * count : 2 * count + len(tanks)].tolist(), strict=True))
    kept = np.array([shares[f.tank] for f in bench.fillings])
    grams = np.array([f.asked_g for f in bench.fillings]) + (x[:count] - x[count : 2 * count]) / kept
    return shares, grams.tolist()


def _least(upper: Array, right: Array, bounds: list[tuple[float, float | None]], cost: Array) -> Array:
    """The unknowns of least miss, and among those of least cost; the last column of `upper` is the miss."""
    from scipy.optimize import linprog

    least_miss = np.concatenate([np.zeros(len(cost)), [1.0]])
    first = linprog(least_miss, A_ub=upper, b_ub=right, bounds=[*bounds, (0.0, None)], method="highs")
    most_miss = float(first.fun or 0.0) * (1.0 + 1e-6) + 1e-9
    best = linprog(
        np.concatenate([cost, [0.0]]), A_ub=upper, b_ub=right, bounds=[*bounds, (0.0, most_miss)], method="highs"
    )
    found: Array = np.asarray(best.x if best.status == 0 else first.x, dtype=float)[:-1]
    return found


def _columns(bench: Bench, tanks: list[str]) -> tuple[Array, Array, Array]:
    """What each unknown adds to the feed (n_nutrients, n_unknowns), the feed at nothing, and the cost of each."""
    per_gram = bench.per_gram().T
    asked = np.array([f.asked_g for f in bench.fillings])
    at = np.array([[f.tank == tank for tank in tanks] for f in bench.fillings], dtype=float).reshape(-1, len(tanks))
    feeds = np.hstack([per_gram, -per_gram, (per_gram * asked) @ at])
    each = np.array(
        [(WEIGH_COST if f.weighed_g is None else ADD_COST) / f.planned_g for f in bench.fillings], dtype=float
    )
    return feeds, bench.base_mg_per_l, np.concatenate([each, each, np.full(len(tanks), -FILL_COST)])


def _weight_bounds(fillings: tuple[Filling, ...]) -> list[tuple[float, float | None]]:
    more = [(0.0, MOST_TIMES * f.planned_g if f.movable else 0.0) for f in fillings]
    less = [(0.0, f.asked_g - (f.weighed_g or 0.0) if f.movable else 0.0) for f in fillings]
    return [*more, *less]


def _not_below_nothing(fillings: tuple[Filling, ...], tanks: list[str], columns: int) -> Array:
    """Rows that keep what is taken away below what may be: down - share * (asked - in the tank) <= 0."""
    rows = np.zeros((len(fillings), columns))
    for number, filling in enumerate(fillings):
        rows[number, len(fillings) + number] = 1.0
        rows[number, 2 * len(fillings) + tanks.index(filling.tank)] = -(filling.asked_g - (filling.weighed_g or 0.0))
    return rows


def _ranges(bench: Bench, wanted: Wanted, feeds: Array, offset: Array) -> tuple[Array, Array, Array]:
    """The ranges as rows of "at most", drawn in by what rounding may take, and how a miss counts in each."""
    per_gram = bench.per_gram()
    steps = np.array([step_of(f) if f.movable else 0.0 for f in bench.fillings])
    width = wanted.high_mg_per_l - wanted.low_mg_per_l
    kept = np.minimum(0.5 * (per_gram * steps[:, None]).sum(axis=0), KEPT_BY_ROUNDING * width)
    kept = np.where(np.isfinite(kept), np.maximum(kept, 0.0), 0.0)
    above, below = np.isfinite(wanted.high_mg_per_l), np.isfinite(wanted.low_mg_per_l)
    rows = np.vstack([feeds[above], -feeds[below]])
    limits = np.concatenate(
        [
            (wanted.high_mg_per_l - kept - offset)[above],
            -(wanted.low_mg_per_l + kept - offset)[below],
        ]
    )
    misses = np.concatenate([wanted.high_mg_per_l[above], wanted.low_mg_per_l[below]])
    return rows, limits, np.maximum(misses, 1e-9)
