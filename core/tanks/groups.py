"""The groups a split deals with: products that share one place."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from core.tanks.items import Item, Traits


@dataclass(frozen=True)
class Group:
    """Products that share one place; `pin` is the number of the tank (A is 0) they must stand in, or None."""

    items: tuple[Item, ...]
    pin: int | None = None

    @cached_property
    def key(self) -> str:
        """A name that does not depend on the order products were listed in."""
        return min(item.key for item in self.items)

    @cached_property
    def traits(self) -> tuple[Traits, ...]:
        """What decides where its products may stand, one for each."""
        return tuple(
            sorted((item.traits for item in self.items), key=repr) if len(self.items) > 1 else [self.items[0].traits]
        )

    @property
    def g_per_l_feed(self) -> float:
        """Its mass in the finished feed [g/L]."""
        return sum([item.g_per_l_feed for item in self.items])

    @property
    def side(self) -> tuple[bool, ...]:
        """Groups alike in this may travel together where there are too many."""
        first = self.items[0].traits
        return (first.calcium_side, first.strong_acid, first.base, first.silicate, first.trace, first.free)


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
    return tuple(Group(tuple(members), pins.get(members[0].key)) for members in together.values())


def _group_name(item: Item, pins: Mapping[str, int], delicate: bool) -> tuple[object, ...]:
    """What products must have in common to form a group; empty for one that forms none."""
    if item.key in pins:
        return ("pinned", pins[item.key])
    if item.trace:
        return ("chelates",) if delicate and item.chelate is not None else ()
    ions = tuple([amount > 0 for amount in item.ions])
    return (ions, item.strong_acid, item.base, item.silicate, item.label_only and item.key, item.chelate)


def with_fewer(groups: Sequence[Group]) -> tuple[Group, ...]:
    """Let two groups travel together: the lightest of one side, or where no side has two the lightest not pinned."""
    loose = sorted((group for group in groups if group.pin is None), key=lambda group: (group.g_per_l_feed, group.key))
    pairs = [(lighter, heavier) for place, heavier in enumerate(loose) for lighter in loose[:place]]
    lighter, heavier = next((pair for pair in pairs if pair[0].side == pair[1].side), pairs[0])
    rest = tuple(group for group in groups if group is not lighter and group is not heavier)
    return (*rest, Group((*lighter.items, *heavier.items)))
