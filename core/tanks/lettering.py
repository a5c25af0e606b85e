"""Which tank is called A: calcium first, then phosphate, sulfate, free salts, acid, silicate, unless pins ask else."""

from __future__ import annotations

from itertools import combinations, permutations

import numpy as np
from numpy.typing import NDArray

from core.tanks.groups import Loads
from core.tanks.partitions import Masks, tanks_used

Numbers = NDArray[np.int64]

UNUSED = 99


def content_ranks(loads: Loads, masks: Masks) -> Numbers:
    """Return the place of each tank's content in the usual order, same shape as `masks`; 99 for a tank not in use."""
    silicate = (masks & loads.mask_where(lambda item: item.silicate)) != 0
    calcium = (masks & loads.mask_where(lambda item: item.calcium_side)) != 0
    phosphate = (masks & loads.mask_where(lambda item: item.phosphate_side)) != 0
    sulfate = (masks & loads.mask_where(lambda item: item.sulfate_side)) != 0
    only_acid = (masks & loads.mask_where(lambda item: not item.strong_acid)) == 0
    order = (masks == 0, silicate, calcium, only_acid, phosphate, sulfate)
    ranks = np.select(order, [UNUSED, 5, 0, 4, 1, 2], default=3)
    return ranks.astype(np.int64)


def usual_positions(loads: Loads, masks: Masks) -> Numbers:
    """Return each tank's place in the usual order, (n_ways, n_tanks); of two alike, the one listed first."""
    order = np.argsort(content_ranks(loads, masks), axis=1, kind="stable")
    return np.argsort(order, axis=1, kind="stable")


def pinned_letters(loads: Loads, masks: Masks) -> tuple[Numbers, Numbers]:
    """Letter the tanks so that pins are kept and the usual order is left as little as can be.

    Returns
    -------
    cost : (n_ways,) pairs out of order plus letters skipped
    letters : (n_ways, n_tanks) number of each tank's letter
    """
    used = tanks_used(masks)
    cost, letters = np.full(len(masks), UNUSED), np.full(masks.shape, UNUSED)
    for tanks in range(1, masks.shape[1] + 1):
        rows = np.flatnonzero(used == tanks)
        cost[rows], letters[rows, :tanks] = _cheapest(loads, masks[rows, :tanks], masks.shape[1])
    return cost, letters


def _cheapest(loads: Loads, masks: Masks, count: int) -> tuple[Numbers, Numbers]:
    """The cheapest letters for ways that all use the same number of tanks; the first of equals."""
    ranks, tanks = content_ranks(loads, masks), masks.shape[1]
    pins = [(number, group.pin) for number, group in enumerate(loads.groups) if group.pin is not None]
    homes = [((masks >> number) & 1).argmax(axis=1) for number, _ in pins]
    cost, letters = np.full(len(masks), UNUSED), np.full(masks.shape, UNUSED)
    for named in permutations(range(count), tanks):
        price = np.full(len(masks), max(named) + 1 - tanks)
        for one, other in combinations(range(tanks), 2):
            low, high = (one, other) if named[one] < named[other] else (other, one)
            price += ranks[:, low] > ranks[:, high]
        for home, (_, pin) in zip(homes, pins, strict=True):
            price[np.array(named)[home] != pin] = UNUSED
        better = price < cost
        cost[better], letters[better] = price[better], named
    return cost, letters
