"""Which products may not share a tank, and why: one code per rule, so that the reason can be told in words.

The rules are those of growers' compatibility lists, checked against the chemistry of concentrates:
calcium meets no phosphate and no sulfate (gypsum saturates at 10 to 14 mmol of sulfate per kg of water beside a
calcium tank's calcium, worked out with PHREEQC and Pitzer parameters of May et al. 2011, J. Chem. Eng. Data 56:5066);
magnesium and phosphate stay together only below about pH 5 (newberyite and struvite, MINTEQ v4 constants);
a ferric EDDHA chelate falls apart within seconds in acid (Bermudez et al. 1999, abstract); silicate gels (recalled);
ammonium gives off ammonia beside a base (pK 9.25).
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from core.tanks.items import Item, Traits

CALCIUM_PHOSPHATE = "calcium-phosphate"
CALCIUM_SULFATE = "calcium-sulfate"
CHELATE_ACID = "chelate-acid"
SILICATE_ALONE = "silicate-alone"
BASE_ACID = "base-acid"
BASE_AMMONIUM = "base-ammonium"
BASE_CHELATE = "base-chelate"
BASE_HARDNESS = "base-hardness"
BASE_METALS = "base-metals"
BASE_PHOSPHATE = "base-phosphate"
MAGNESIUM_PHOSPHATE = "magnesium-phosphate"

RULES = (
    CALCIUM_PHOSPHATE,
    CALCIUM_SULFATE,
    CHELATE_ACID,
    SILICATE_ALONE,
    BASE_ACID,
    BASE_AMMONIUM,
    BASE_CHELATE,
    BASE_HARDNESS,
    BASE_METALS,
    BASE_PHOSPHATE,
    MAGNESIUM_PHOSPHATE,
)
"""Codes of every rule that keeps two products apart."""

SULFATE_LIMIT_MOL_PER_L = 0.010
"""Sulfate [mol per litre of concentrate] that traces may bring beside calcium: the least of 10.0 (50x, 10 °C), 11.1
(100x, 10 °C) and 11.9 (200x, 10 °C) mmol/kg at which gypsum saturates. Derived with PHREEQC, Pitzer parameters."""

ACID_TENDER = ("EDTA", "DTPA", "EDDHA", "HBED")
BASE_TENDER = ("EDTA", "DTPA")


def broken_rules(first: Item, second: Item) -> tuple[str, ...]:
    """Return the codes of the rules that two products break in one tank, in the order of RULES; empty where none."""
    return clash(first.traits, second.traits)


@lru_cache(maxsize=4096)
def clash(first: Traits, second: Traits) -> tuple[str, ...]:
    """Return the codes of the rules that products with these traits break together, in the order of RULES."""
    return tuple(rule for rule in RULES if _breaks(rule, first, second) or _breaks(rule, second, first))


def rules_broken_within(items: Sequence[Item], hard_fill: bool = False) -> tuple[str, ...]:
    """Return the codes of the rules broken inside one tank, in the order of RULES.

    A single product that brings calcium beside phosphate or sulfate breaks the rule on its own, and so does a base or
    silicate in a tank filled up with hard water.
    """
    own = {rule for item in items if item.brings_both or hard_fill for rule in _own(item, hard_fill)}
    among = _broken_among(frozenset([item.traits for item in items]))
    return tuple([rule for rule in RULES if rule in own or rule in among]) if own else among


@lru_cache(maxsize=1024)
def _broken_among(kinds: frozenset[Traits]) -> tuple[str, ...]:
    """The codes of the rules that products with these traits break among them, in the order of RULES."""
    each = tuple(kinds)
    broken = {rule for one, first in enumerate(each) for second in each[one + 1 :] for rule in clash(first, second)}
    return tuple(rule for rule in RULES if rule in broken)


def breakers(rule: str, items: Sequence[Item], hard_fill: bool = False) -> tuple[Item, ...]:
    """Return the products of one tank that break a rule there, in the order given."""
    return tuple(
        item
        for item in items
        if rule in _own(item, hard_fill) or any(rule in clash(item.traits, other.traits) for other in items)
    )


def _own(item: Item, hard_fill: bool) -> tuple[str, ...]:
    """The rules a product breaks without another."""
    pairs = ((CALCIUM_PHOSPHATE, "P"), (CALCIUM_SULFATE, "S")) if item.brings_both else ()
    alkaline = (BASE_HARDNESS,) if hard_fill and (item.base or item.silicate) else ()
    return tuple([rule for rule, component in pairs if item.mol_per_l(component) > 0]) + alkaline


def _breaks(rule: str, one: Traits, other: Traits) -> bool:
    """Tell whether `one` in the first part of the rule's name meets `other` in the second."""
    if rule == SILICATE_ALONE:
        return one.silicate and not other.silicate
    if rule == CHELATE_ACID:
        return one.chelate in ACID_TENDER and other.strong_acid
    if rule == CALCIUM_PHOSPHATE:
        return one.calcium_side and other.phosphate_side
    if rule == CALCIUM_SULFATE:
        return one.calcium_side and other.main_sulfate
    if rule == MAGNESIUM_PHOSPHATE:
        return one.magnesium and other.basic_phosphate
    return one.base and _meets_base(rule, other)


def _meets_base(rule: str, other: Traits) -> bool:
    if rule == BASE_ACID:
        return other.strong_acid
    if rule == BASE_AMMONIUM:
        return other.ammonium
    if rule == BASE_CHELATE:
        return other.chelate in BASE_TENDER
    if rule == BASE_METALS:
        return other.bare_metal
    if rule == BASE_HARDNESS:
        return other.calcium_side or other.magnesium
    return other.phosphate
