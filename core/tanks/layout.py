"""The structure of a split without its amounts: which groups clash, which are pinned, what kind of tank they make.

While a grower types, amounts change and this does not, so everything that follows from it alone is remembered.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.tanks.compatibility import clash
from core.tanks.groups import Group
from core.tanks.items import Array, Traits
from core.tanks.partitions import Masks

Numbers = NDArray[np.int64]

UNUSED = 99
"""Rank of a tank that is not in use: after every other."""

SIDE = 4
"""Weight of keeping a side together, over any one preference for where acid, a chelate or a base stands."""


class Layout(NamedTuple):
    """What decides where each group may stand, (n_groups,) each: its products' traits, and the tank it is pinned to."""

    traits: tuple[tuple[Traits, ...], ...]
    pins: tuple[int | None, ...]

    def mask_where(self, holds: Callable[[Traits], bool]) -> int:
        """Bit mask of the groups with a product that `holds` is true of."""
        return sum([1 << number for number, group in enumerate(self.traits) if any(map(holds, group))])

    @property
    def pinned(self) -> bool:
        """True where some group is pinned."""
        return any(pin is not None for pin in self.pins)

    @property
    def shareable(self) -> tuple[int, ...]:
        """The groups of which half may stand in one tank and half in another."""
        return tuple(
            number
            for number, (group, pin) in enumerate(zip(self.traits, self.pins, strict=True))
            if pin is None and all(traits.free for traits in group)
        )


def lay_out(groups: Sequence[Group]) -> tuple[tuple[Group, ...], Layout]:
    """Return the groups in their proper order, and their layout.

    Those that clash with most come first, so that ways that cannot be are left early; then they go by name.
    """
    table = clash_table(tuple(group.traits for group in groups))
    clashes = (table > 0).sum(axis=0)
    order = sorted(range(len(groups)), key=lambda number: (-int(clashes[number]), groups[number].key))
    ordered = tuple(groups[number] for number in order)
    return ordered, Layout(tuple(group.traits for group in ordered), tuple(group.pin for group in ordered))


@lru_cache(maxsize=256)
def clash_table(traits: tuple[tuple[Traits, ...], ...]) -> Array:
    """Return how many pairs of products of two groups break a rule in one tank, (n_groups, n_groups)."""
    table = np.zeros((len(traits), len(traits)))
    for one, first in enumerate(traits):
        for other in range(one):
            table[one, other] = table[other, one] = sum([bool(clash(a, b)) for a in first for b in traits[other]])
    table.setflags(write=False)
    return table


@lru_cache(maxsize=256)
def forbidden(layout: Layout, rules: bool) -> tuple[int, ...]:
    """For each group the mask of those it may not meet: pinned elsewhere, and where `rules`, by a broken rule."""
    table, pins = clash_table(layout.traits), layout.pins
    return tuple(
        sum(
            1 << other
            for other, pin in enumerate(pins)
            if (rules and table[one, other]) or (None not in (pins[one], pin) and pins[one] != pin)
        )
        for one in range(len(pins))
    )


def content_ranks(layout: Layout, masks: Masks) -> Numbers:
    """Return the place of each tank's content in the usual order of letters, same shape as `masks`."""
    silicate = (masks & layout.mask_where(lambda traits: traits.silicate)) != 0
    calcium = (masks & layout.mask_where(lambda traits: traits.calcium_side)) != 0
    phosphate = (masks & layout.mask_where(lambda traits: traits.phosphate_side)) != 0
    sulfate = (masks & layout.mask_where(lambda traits: traits.sulfate_side)) != 0
    only_acid = (masks & layout.mask_where(lambda traits: not traits.strong_acid)) == 0
    order = (masks == 0, silicate, calcium, only_acid, phosphate, sulfate)
    return np.select(order, [UNUSED, 5, 0, 4, 1, 2], default=3).astype(np.int64)


def oddity(layout: Layout, masks: Masks) -> Numbers:
    """How far tanks are from what growers do, same shape as `masks`; summed over the tanks of a way.

    Calcium salts stay together, and so do phosphates and sulfates; acid stands on the phosphate side, else on the
    calcium side, else alone; a chelate stands on the calcium side; a base stands alone.
    """
    acid = (masks & layout.mask_where(lambda traits: traits.strong_acid)) != 0
    calcium = (masks & layout.mask_where(lambda traits: traits.calcium_side)) != 0
    apart = (masks & layout.mask_where(_apart_without_acid)) != 0
    chelate = (masks & layout.mask_where(lambda traits: traits.trace and traits.chelate is not None)) != 0
    plain = (masks & layout.mask_where(lambda traits: not traits.strong_acid)) != 0
    base = (masks & layout.mask_where(lambda traits: traits.base)) != 0
    other = (masks & layout.mask_where(lambda traits: not traits.base)) != 0
    of_acid = np.select([~acid, apart, calcium, ~plain], [0, 0, 1, 2], default=3)
    odd: Numbers = of_acid + (chelate & ~calcium) + (base & other) + SIDE * (calcium.astype(np.int64) + apart)
    return odd


def _apart_without_acid(traits: Traits) -> bool:
    return (traits.phosphate_side or traits.sulfate_side) and not traits.strong_acid
