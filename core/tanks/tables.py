"""The ways to fill the tanks of one layout, ready for the chemistry; remembered, as they do not hang on amounts."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from core.tanks.items import Array
from core.tanks.layout import Layout, Numbers, clash_table, forbidden, oddity
from core.tanks.lettering import cheapest
from core.tanks.partitions import Masks, halved_ways, tanks_used, ways

MOST_WAYS = 20_000


@dataclass(frozen=True, eq=False)
class Table:
    """Ways that are alike in the rules they break and in how they keep to the letters.

    Attributes
    ----------
    halved : the group that stands in two tanks by halves, or None
    rules : pairs of products that break a rule, and what the letters cost
    masks, letters : (n_ways, n_tanks) the groups of each tank, and the number of its letter
    place : (n_ways, n_tanks) where each tank stands among the different tanks there are
    used : (n_kinds,) False for the one that stands for a tank not in use
    bits : (n_kinds, n_groups) the groups each different tank holds: 0, 1, or 0.5 for the halved one
    tanks, odd : (n_ways,) tanks in use, and how far the way is from what growers do
    """

    halved: int | None
    rules: tuple[float, float]
    masks: Masks
    letters: Numbers
    place: NDArray[np.intp]
    used: NDArray[np.bool_]
    bits: Array
    tanks: Numbers
    odd: Numbers


@lru_cache(maxsize=256)
def table(layout: Layout, rules: bool, least: int, most: int, halved: int | None) -> Table | None:
    """List the ways that use from `least` to `most` tanks, or None where there are none.

    Kept are those that break fewest rules (none where `rules`), and of these the ones with the cheapest letters.
    Raises TooManyWays.
    """
    apart = forbidden(layout, rules)
    listed = ways(apart, most, MOST_WAYS) if halved is None else halved_ways(apart, halved, most, MOST_WAYS)
    masks = listed[tanks_used(listed) >= least]
    if not len(masks):
        return None
    broken, masks = (0.0, masks) if rules else _least_broken(layout, masks)
    cost, masks, letters = cheapest(layout, masks)
    kinds, place = np.unique(masks, return_inverse=True)
    place = place.reshape(masks.shape)
    bits = _bits(kinds, len(layout.pins))
    if halved is not None:
        bits[:, halved] *= 0.5
    odd = oddity(layout, kinds)[place].sum(axis=1)
    return Table(halved, (broken, cost), masks, letters, place, kinds != 0, bits, tanks_used(masks), odd)


def _least_broken(layout: Layout, masks: Masks) -> tuple[float, Masks]:
    """How many pairs of products break a rule at least, and the ways that break no more."""
    kinds, place = np.unique(masks, return_inverse=True)
    bits = _bits(kinds, len(layout.pins))
    pairs = 0.5 * ((bits @ clash_table(layout.traits)) * bits).sum(axis=1)
    broken = pairs[place.reshape(masks.shape)].sum(axis=1)
    return float(broken.min()), masks[broken == broken.min()]


def _bits(masks: Masks, groups: int) -> Array:
    """Masks as rows of 0 and 1, (n_masks, n_groups)."""
    return ((masks[:, None] >> np.arange(groups)) & 1).astype(float)
