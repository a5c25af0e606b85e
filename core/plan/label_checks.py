"""Labels that do not go with what the product is said to be, or with the strength stated beside them."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from core.blend.composition import elements_percent, formula_percent, split_nitrogen
from core.blend.shelf import Shelf, Source, labelled_strength_percent
from core.blend.solve import Blend
from core.catalog import Salt, salts
from core.plan.cautions import caution
from core.plan.margins import over
from core.plan.records import Caution

RICHEST, POOREST = 1.08, 0.80
"""Printed content over the formula's beyond which a label is not of this compound: more than pure is rounding and dried
crystals, less is a fifth of something else (this program's own choice)."""

STRENGTH_APART = 0.05
"""How far the strength stated and the one the label makes may differ, relative to the larger (own choice)."""


def label_cautions(blend: Blend) -> Iterator[Caution]:
    """Labels far from the formula; strength and label of an acid that disagree."""
    yield from _of_shelf(blend.shelf)


@lru_cache(maxsize=64)
def _of_shelf(shelf: Shelf) -> tuple[Caution, ...]:
    return tuple([found for source in shelf.sources for found in _of_source(source)])


def _of_source(source: Source) -> Iterator[Caution]:
    if source.salt is None or not source.entry.label_percent:
        return
    if source.strength_percent is not None:
        yield from _strength(source, source.salt)
    elif not source.salt.label_percent and source.salt.solute_percent is None:
        yield from _formula(source, source.salt)


def _strength(source: Source, salt: Salt) -> Iterator[Caution]:
    stated, labelled = source.entry.strength_percent, labelled_strength_percent(source.entry, salt)
    if labelled is None:
        return
    if over(labelled, 100.0 * RICHEST):
        yield from _formula(source, salt)
    elif stated is not None and over(abs(stated - labelled), STRENGTH_APART * max(stated, labelled)):
        yield caution("label-strength", entry_id=source.key, strength_percent=stated, label_percent=labelled)


def _formula(source: Source, salt: Salt) -> Iterator[Caution]:
    """The nutrient furthest from the formula, and the form of the same compound the label would fit."""
    off = {name: ratio for name, ratio in _ratios(source, salt).items() if not POOREST <= ratio <= RICHEST}
    if not off:
        return
    worst = max(off, key=lambda name: max(off[name], 1.0 / off[name]) if off[name] else 0.0)
    held = formula_percent(salt)[worst]
    told = {"nutrient": worst, "label_percent": off[worst] * held, "formula_percent": held}
    other = _that_fits(source, salt)
    if other is None:
        yield caution("label-unlike-salt", entry_id=source.key, **told)
    else:
        yield caution("label-of-other-salt", entry_id=source.key, salt=other.id, **told)


def _ratios(source: Source, salt: Salt) -> dict[str, float]:
    """Printed content over the formula's, per nutrient that both have and the label does not leave at zero."""
    formula = formula_percent(salt)
    printed = split_nitrogen(elements_percent(dict(source.entry.label_percent.items())), formula)
    return {name: percent / formula[name] for name, percent in printed.items() if percent > 0.0 and formula.get(name)}


def _that_fits(source: Source, salt: Salt) -> Salt | None:
    """The catalog's other form of this compound, with more or less crystal water, that the label fits best."""
    fits = []
    for other in salts().values():
        if other.id == salt.id or other.ions != salt.ions or other.label_percent or other.solute_percent is not None:
            continue
        ratios = _ratios(source, other).values()
        if ratios and all(POOREST <= ratio <= RICHEST for ratio in ratios):
            fits.append((max(abs(ratio - 1.0) for ratio in ratios), other.rank, other))
    return min(fits, key=lambda one: one[:2])[2] if fits else None
