"""Which tank is called A: calcium first, then phosphate, sulfate, free salts, acid, silicate, unless pins ask else."""

from __future__ import annotations

from itertools import combinations, permutations

import numpy as np

from core.tanks.layout import UNUSED, Layout, Numbers, content_ranks
from core.tanks.partitions import Masks, tanks_used


def cheapest(layout: Layout, masks: Masks) -> tuple[float, Masks, Numbers]:
    """Letter the tanks of ways so that pins are kept and the usual order is left as little as can be.

    Parameters
    ----------
    masks : (n_ways, n_tanks), at least one way

    Returns
    -------
    cost : pairs of tanks out of order plus letters skipped; 0 without pins
    masks : the ways that cost no more
    letters : (n_ways, n_tanks) the number of each tank's letter in these
    """
    if not layout.pinned:
        order = np.argsort(content_ranks(layout, masks), axis=1, kind="stable")
        return 0.0, masks, np.argsort(order, axis=1, kind="stable")
    used = tanks_used(masks)
    cost, letters = np.full(len(masks), UNUSED), np.full(masks.shape, UNUSED)
    for tanks in range(1, masks.shape[1] + 1):
        rows = np.flatnonzero(used == tanks)
        cost[rows], letters[rows, :tanks] = _for_pins(layout, masks[rows, :tanks], masks.shape[1])
    least = cost == cost.min()
    return float(cost.min()), masks[least], letters[least]


def _for_pins(layout: Layout, masks: Masks, count: int) -> tuple[Numbers, Numbers]:
    """The cheapest letters for ways that all use the same number of tanks; the first of equals."""
    ranks, tanks = content_ranks(layout, masks), masks.shape[1]
    pins = [(number, pin) for number, pin in enumerate(layout.pins) if pin is not None]
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
