"""The groups a split deals with: products that travel together, the rules between them, their loads in concentrate."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from core.tanks.compatibility import broken_rules
from core.tanks.items import Array, Item


@dataclass(frozen=True)
class Group:
    """Products that share one place; `pin` is the number of the tank (A is 0) they must stand in, or None."""

    items: tuple[Item, ...]
    pin: int | None = None

    @cached_property
    def key(self) -> str:
        """A name that does not depend on the order products were listed in."""
        return min(item.key for item in self.items)

    @property
    def shareable(self) -> bool:
        """True where half of it may stand in one tank and half in another."""
        return self.pin is None and all(item.free for item in self.items)

    @cached_property
    def g_per_l_feed(self) -> float:
        """Its mass in the finished feed [g/L]."""
        return sum(item.g_per_l_feed for item in self.items)

    @cached_property
    def side(self) -> tuple[bool, ...]:
        """What decides its place; groups alike in this may travel together where there are too many."""
        first = self.items[0]
        apart = first.apart_side
        return (first.calcium_side, apart, first.strong_acid, first.base, first.silicate, first.trace, first.free)

    def merged(self, other: Group) -> Group:
        """Both as one."""
        return Group((*self.items, *other.items), self.pin)


def group_items(items: Iterable[Item], pins: Mapping[str, int]) -> tuple[Group, ...]:
    """Form the groups of a split.

    Products pinned to one tank are one group; unpinned main products with the same ions are one group (two bags of
    one salt, two hydrates); unpinned chelates are one group where an acid or a base makes their place a question.
    Other traces are left out: they follow by rule once the main products stand.

    Parameters
    ----------
    pins : product key -> number of the tank it is pinned to
    """
    items = tuple(items)
    delicate = any(item.strong_acid or item.base for item in items)
    together: dict[tuple[object, ...], list[Item]] = {}
    for item in sorted(items, key=lambda item: item.key):
        name = _group_name(item, pins, delicate)
        if name:
            together.setdefault(name, []).append(item)
    return _ordered([Group(tuple(members), pins.get(members[0].key)) for members in together.values()])


def _group_name(item: Item, pins: Mapping[str, int], delicate: bool) -> tuple[object, ...]:
    """What products must have in common to form a group; empty for one that forms none."""
    if item.key in pins:
        return ("pinned", pins[item.key])
    if item.trace:
        return ("chelates",) if delicate and item.chelate is not None else ()
    ions = tuple(amount > 0 for amount in item.ions)
    return (ions, item.strong_acid, item.base, item.silicate, item.label_only and item.key, item.chelate)


def with_fewer(groups: Sequence[Group]) -> tuple[Group, ...]:
    """Let the two lightest groups of one side travel together; the same groups where no side has two."""
    loose = sorted((group for group in groups if group.pin is None), key=lambda group: (group.g_per_l_feed, group.key))
    for second, heavier in enumerate(loose):
        for lighter in loose[:second]:
            if lighter.side == heavier.side:
                rest = [group for group in groups if group is not lighter and group is not heavier]
                return _ordered([*rest, lighter.merged(heavier)])
    return tuple(groups)


def _ordered(groups: Sequence[Group]) -> tuple[Group, ...]:
    """Those that clash with most first, so that impossible ways are left early; then by name."""
    clashes = {group.key: sum(clash_count(group, other) > 0 for other in groups) for group in groups}
    return tuple(sorted(groups, key=lambda group: (-clashes[group.key], group.key)))


def clash_count(first: Group, second: Group) -> int:
    """Return how many pairs of products of two groups break a rule in one tank."""
    if first is second:
        return 0
    return sum(bool(broken_rules(one, other)) for one in first.items for other in second.items)


@dataclass(frozen=True, eq=False)
class Loads:
    """Groups as numbers: a tank is a bit mask over them.

    Attributes
    ----------
    clashes : (n_groups, n_groups) ndarray, pairs of products that break a rule
    totals : (n_groups, n_components) ndarray [mol per litre of concentrate]
    g_per_l : (n_groups,) ndarray [g per litre of concentrate]
    """

    groups: tuple[Group, ...]
    clashes: Array
    totals: Array
    g_per_l: Array

    @classmethod
    def of(cls, groups: tuple[Group, ...], ratio: float) -> Loads:
        """Count the groups at `ratio` litres of feed per litre of concentrate."""
        clashes = np.array([[clash_count(one, other) for other in groups] for one in groups], dtype=float)
        totals = ratio * np.array([np.sum([item.ions for item in group.items], axis=0) for group in groups])
        grams = ratio * np.array([group.g_per_l_feed for group in groups])
        return cls(groups, clashes, totals, grams)

    def with_half(self, group: int) -> Loads:
        """The same with one group halved: each half is then a load of its own wherever its bit is set."""
        scale = np.ones(len(self.groups))
        scale[group] = 0.5
        return Loads(self.groups, self.clashes, self.totals * scale[:, None], self.g_per_l * scale)

    def mask_where(self, holds: Callable[[Item], bool]) -> int:
        """Bit mask of the groups with a product that `holds` is true of."""
        return sum(1 << number for number, group in enumerate(self.groups) if any(holds(item) for item in group.items))

    def forbidden(self, rules: bool) -> tuple[int, ...]:
        """For each group the mask of those it may not meet: pinned elsewhere, and where `rules`, by a broken rule."""
        pins = [group.pin for group in self.groups]
        return tuple(
            sum(
                1 << other
                for other, pin in enumerate(pins)
                if (rules and self.clashes[one, other]) or (None not in (pins[one], pin) and pins[one] != pin)
            )
            for one in range(len(self.groups))
        )
