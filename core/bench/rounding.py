"""What rounding to the scale does to the feed, and how to choose the steps together where it would do much."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from core.bench.weighing import Weighing, at_steps, weigh
from core.recipe.records import Scale

Array = NDArray[np.float64]

NOTICED_PERCENT = 1.0
"""Rounding that moves no nutrient of the feed by more than this is left at the nearest step of each weight."""

WORTH_A_MOVE_PERCENT = 0.1
"""Gains up to this are not worth a weight off its nearest step."""

MOST_CHOSEN_TOGETHER = 10
"""At most this many weights are reconsidered together, two choices each; up to there the choice is the best of all."""


def change_percent(weighings: Sequence[Weighing], brings_mg_per_l: Array, feed_mg_per_l: Array) -> Array:
    """Return what rounding each weight does to each nutrient, in per cent of what the feed holds of it.

    Parameters
    ----------
    weighings : (n_items,) weights for one batch
    brings_mg_per_l : (n_items, n_nutrients) what each item brings to the feed [mg/L]
    feed_mg_per_l : (n_nutrients,) what the feed holds in all, water included [mg/L]

    Returns
    -------
    (n_items, n_nutrients) ndarray [%]; 0 where the feed holds none. The sum over items is the change of the feed.
    """
    off = np.array([relative_error(weighing) for weighing in weighings])
    share = np.divide(brings_mg_per_l, feed_mg_per_l, out=np.zeros_like(brings_mg_per_l), where=feed_mg_per_l > 0)
    return 100.0 * off[:, None] * share


def weigh_together(
    grams: Sequence[float], scales: Sequence[Scale], brings_mg_per_l: Array, feed_mg_per_l: Array
) -> tuple[Weighing, ...]:
    """Weigh at the nearest step; where that moves a nutrient by over 1 %, choose up or down together.

    The choice makes the sum of what exceeds 1 % least, to within a tenth of a per cent, with as few weights as possible
    off their nearest step. Parameters as in `weigh` and `change_percent`.
    """
    nearest = weigh(grams, scales)
    change = change_percent(nearest, brings_mg_per_l, feed_mg_per_l)
    movers = _movers(nearest, change)
    if not movers:
        return nearest
    moved = list(nearest)
    for item in movers:
        moved[item] = _other_side(nearest[item])
    step = (change_percent(moved, brings_mg_per_l, feed_mg_per_l) - change)[movers]
    sides = _least_excess(change.sum(axis=0), step)
    for item, side in zip(movers, sides, strict=True):
        moved[item] = moved[item] if side else nearest[item]
    return tuple(moved)


def _movers(nearest: Sequence[Weighing], change: Array) -> list[int]:
    """Items that may go up or down where a nutrient is over the limit: first those it hangs on, then the rest."""
    over = np.abs(change.sum(axis=0)) > NOTICED_PERCENT
    if not over.any():
        return []
    order = np.lexsort((-np.abs(change).sum(axis=1), -np.abs(change[:, over]).sum(axis=1)))
    movable = [int(item) for item in order if _other_steps(nearest[int(item)]) > 0]
    return sorted(movable[:MOST_CHOSEN_TOGETHER])


def _least_excess(change: Array, step: Array) -> list[bool]:
    """Which items to move to their other side: each move adds its row of `step` (n_movers, n_nutrients) to `change`."""
    sides = (np.arange(1 << len(step))[:, None] >> np.arange(len(step))) & 1
    excess = np.maximum(np.abs(change + sides @ step) - NOTICED_PERCENT, 0.0).sum(axis=1)
    good = np.flatnonzero(excess <= excess.min() + WORTH_A_MOVE_PERCENT)
    best = good[np.lexsort((excess[good], sides[good].sum(axis=1)))[0]]
    return [bool(side) for side in sides[best]]


def relative_error(weighing: Weighing) -> float:
    """How far what is weighed is from what is asked for, as a share of it [-]."""
    return weighing.grams_to_weigh / weighing.grams - 1.0 if weighing.grams else 0.0


def _other_steps(weighing: Weighing) -> int:
    """The whole number of steps on the other side of the exact weight; 0 where there is none to speak of."""
    if weighing.scale is None or not weighing.fits_scale or weighing.grams == weighing.grams_to_weigh:
        return 0
    here = round(weighing.grams_to_weigh / weighing.scale.readability_g)
    return here - 1 if weighing.grams_to_weigh > weighing.grams else here + 1


def _other_side(weighing: Weighing) -> Weighing:
    assert weighing.scale is not None
    return at_steps(weighing.grams, weighing.scale, _other_steps(weighing))
