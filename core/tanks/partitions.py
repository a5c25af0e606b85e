"""Every way to share a few groups out among at most four tanks, as bit masks, without the ways that break a rule."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

Masks = NDArray[np.int64]


class TooManyWays(Exception):
    """More ways than can be looked at; the caller lets groups travel together and asks again."""


def ways(forbidden: Sequence[int], most_tanks: int, most_ways: int, left_out: int | None = None) -> Masks:
    """List every way to put groups into tanks so that no forbidden pair meets.

    Parameters
    ----------
    forbidden : (n_groups,) for each group the bit mask of the groups it may not stand with
    most_tanks : tanks that may be used
    most_ways : raise TooManyWays beyond this many
    left_out : a group to leave where it is, in no tank

    Returns
    -------
    (n_ways, most_tanks) ndarray of bit masks; tanks are numbered by their first group, so no way is listed twice, and
    unused tanks come last as 0.
    """
    masks = np.zeros((1, most_tanks), dtype=np.int64)
    for group, clash in enumerate(forbidden):
        if group != left_out:
            masks = _placed(masks, group, clash & ((1 << group) - 1))
        if len(masks) > most_ways:
            raise TooManyWays
        if not len(masks):
            break
    return masks


def halved_ways(forbidden: Sequence[int], group: int, most_tanks: int, most_ways: int) -> Masks:
    """List every way as `ways` does, but with `group` in exactly two tanks, not both of them otherwise empty.

    The tanks of a way stay in the order of their first other group.
    """
    whole = ways(forbidden, most_tanks, most_ways, left_out=group)
    used, bit = tanks_used(whole), 1 << group
    halved = []
    for first, second in combinations(range(most_tanks), 2):
        fits = (used > first) & (used >= second) & (((whole[:, first] | whole[:, second]) & forbidden[group]) == 0)
        chosen = whole[fits]
        chosen[:, [first, second]] |= bit
        halved.append(chosen)
    return np.concatenate(halved) if halved else whole[:0]


def _placed(masks: Masks, group: int, clash: int) -> Masks:
    """Put one more group into each tank in use where it clashes with nothing, and into the first one not in use."""
    used, fits = tanks_used(masks), (masks & clash) == 0
    grown = []
    for tank in range(masks.shape[1]):
        chosen = masks[fits[:, tank] & (used >= tank)]
        chosen[:, tank] |= 1 << group
        grown.append(chosen)
    return np.concatenate(grown)


def tanks_used(masks: Masks) -> NDArray[np.int64]:
    """Return how many tanks each way uses, (n_ways,)."""
    used: NDArray[np.int64] = (masks != 0).sum(axis=1)
    return used
