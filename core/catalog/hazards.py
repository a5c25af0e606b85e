"""Hazards and handling of each product, and what must not meet what; the supplier's safety sheet and the law rule.

Each statement carries how it is known: one tagged MEMORY is common practice recalled and is to be checked against the
sheet of the product in hand. A product without an entry has no statement, which does not mean that it is harmless.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from typing import Literal

import msgspec

from core.catalog.resource import Known, read
from core.catalog.salts import Salt, salt


class _Record(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Shared settings of every record."""


class Statement(_Record, frozen=True):
    """One short statement and where it comes from."""

    text: str
    known: Known


class HazardClass(_Record, frozen=True, omit_defaults=True):
    """One hazard by its H or EUH code, from a strength to below another [% by mass of the compound].

    A class whose limit was not found starts at 0: it is named at any strength rather than left out.
    """

    code: str
    hazard: str
    known: Known
    from_percent: float = 0.0
    below_percent: float | None = None

    def applies_at(self, strength_percent: float) -> bool:
        """Tell whether the hazard holds at this share of the compound [% by mass]."""
        return self.from_percent <= strength_percent and (
            self.below_percent is None or strength_percent < self.below_percent
        )


class Hazard(_Record, frozen=True):
    """What is known of one substance; `signal_word` is "" where none is given, `more` holds law and remarks."""

    id: str
    salts: tuple[str, ...]
    signal_word: Literal["Danger", "Warning", ""]
    signal_known: Known
    classes: tuple[HazardClass, ...]
    wear: tuple[Statement, ...]
    keep_apart_from: tuple[Statement, ...]
    first_aid: tuple[Statement, ...]
    storage: tuple[Statement, ...]
    more: tuple[Statement, ...]

    def classes_at(self, strength_percent: float) -> tuple[HazardClass, ...]:
        """Return the hazards that hold at this share of the compound [% by mass], in a bottle or in a tank."""
        return tuple(hazard for hazard in self.classes if hazard.applies_at(strength_percent))


class Group(_Record, frozen=True):
    """Products, or a material that is none of ours (then without salts), that meet the other side of a pair alike."""

    name: str
    salts: tuple[str, ...]


class Pair(_Record, frozen=True):
    """Two groups that must not meet undiluted, what comes of it, and how grave it is."""

    a: str
    b: str
    result: str
    level: Literal["check", "stop"]
    known: Known


class _Hazards(_Record, frozen=True):
    substances: tuple[Hazard, ...]
    groups: dict[str, Group]
    pairs: tuple[Pair, ...]
    rules: tuple[Statement, ...]


@cache
def _hazards() -> _Hazards:
    return read("hazards.json", _Hazards)


@cache
def _by_salt() -> dict[str, Hazard]:
    return {salt_id: hazard for hazard in _hazards().substances for salt_id in hazard.salts}


def hazard(product: Salt | str) -> Hazard | None:
    """Return what is known of this product's hazards; None means nothing was found, not that there are none."""
    return _by_salt().get(salt(product).id)


def hazard_groups() -> dict[str, Group]:
    """Return the groups the incompatible pairs are made of, by key. The dict is shared: do not change it."""
    return _hazards().groups


def incompatible_pairs() -> tuple[Pair, ...]:
    """Return every pair that must not meet undiluted, whether on the shelf or not."""
    return _hazards().pairs


def pairs_among(salt_ids: Iterable[str]) -> tuple[tuple[Pair, tuple[str, ...], tuple[str, ...]], ...]:
    """Return the pairs both of whose sides are among these products, each with the products of either side.

    A pair of a group with itself (two acids) needs two different products.
    """
    held = tuple(dict.fromkeys(salt_ids))
    found = []
    for pair in incompatible_pairs():
        left, right = _members(pair.a, held), _members(pair.b, held)
        if left and right and len({*left, *right}) > 1:
            found.append((pair, left, right))
    return tuple(found)


def handling_rules() -> tuple[Statement, ...]:
    """Return what holds for every acid."""
    return _hazards().rules


def _members(group: str, held: tuple[str, ...]) -> tuple[str, ...]:
    """Return those of the products held that belong to the group."""
    return tuple(salt_id for salt_id in held if salt_id in _hazards().groups[group].salts)
