"""The shelf, compiled: every entry as one column of what a milligram of it brings."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from core.blend.composition import (
    blend_totals,
    elements_percent,
    formula_percent,
    mixed_totals,
    salt_totals,
    split_nitrogen,
)
from core.blend.nutrients import MG_PER_MMOL, ROW, Array, read_only
from core.catalog import Salt, density_kg_per_l, is_liquid, salts
from core.catalog.acids import density_tables
from core.recipe.records import TRACES, ShelfEntry

BLEND_RANK = 1000
"""Where bought blends and mixed tanks stand in the catalog's order of preference: after every single salt."""

TRACE_TOTALS = tuple(name for name in TRACES if name != "Si")
"""Nutrients a product is a trace product for; silicate brings its silicon by the gram."""

TRACE_PART = 0.01
"""Share of a micronutrient from which a product is bought for it (own choice: blends of macros hold less, trace salts
5 % and more)."""


@dataclass(frozen=True, eq=False)
class Source:
    """One shelf entry, ready to be counted.

    Attributes
    ----------
    totals : (n_components,) ndarray [mmol per mg of product]
    brings : (n_nutrients,) ndarray [mg of nutrient per mg of product]
    alkalinity : float [meq per mg of product], by formula; negative for acids
    dissolved : float [mg of matter per mg of product] without water of crystallisation or solution
    density_kg_per_l : float or None, for liquids; of a tank already mixed what is dissolved in a litre
    """

    entry: ShelfEntry
    salt: Salt | None
    totals: Array
    brings: Array
    alkalinity: float
    dissolved: float
    rank: int
    strength_percent: float | None
    density_kg_per_l: float | None

    @cached_property
    def key(self) -> str:
        """The entry's name within its shelf."""
        return self.entry.key

    @cached_property
    def kind(self) -> str:
        """The catalog's kind, or "blend"."""
        return "blend" if self.salt is None else self.salt.kind

    @cached_property
    def is_trace(self) -> bool:
        """True for a product bought for a micronutrient."""
        return any(self.brings[ROW[name]] > TRACE_PART for name in TRACE_TOTALS)


@dataclass(frozen=True, eq=False)
class Shelf:
    """All sources as arrays.

    Attributes
    ----------
    totals : (n_components, n_sources) ndarray [mmol/mg]
    brings : (n_nutrients, n_sources) ndarray [mg/mg]
    alkalinity : (n_sources,) ndarray [meq/mg]
    """

    sources: tuple[Source, ...]
    totals: Array
    brings: Array
    alkalinity: Array

    def __len__(self) -> int:
        return len(self.sources)

    def of_kind(self, kind: str) -> tuple[int, ...]:
        """The columns of one of the catalog's kinds."""
        return self._kinds.get(kind, ())

    @cached_property
    def _kinds(self) -> dict[str, tuple[int, ...]]:
        kinds = [source.kind for source in self.sources]
        return {kind: tuple(i for i, own in enumerate(kinds) if own == kind) for kind in set(kinds)}

    @cached_property
    def fixed_mg_per_l(self) -> Array:
        """What the recipe states of each source exactly, else 0, (n_sources,) ndarray [mg/L]."""
        return _kept([source.entry.exactly_mg_per_l or 0.0 for source in self.sources])

    @cached_property
    def least_mg_per_l(self) -> Array:
        """The least the recipe asks for of each source, else 0, (n_sources,) ndarray [mg/L]."""
        return _kept([source.entry.at_least_mg_per_l or 0.0 for source in self.sources])

    @cached_property
    def dissolved(self) -> Array:
        """Matter per mg of each source, (n_sources,) ndarray [mg/mg]."""
        return _kept([source.dissolved for source in self.sources])

    @cached_property
    def rank(self) -> Array:
        """Place of each source in the catalog's order of preference, (n_sources,) ndarray."""
        return _kept([float(source.rank) for source in self.sources])

    @cached_property
    def sole_source(self) -> dict[int, int]:
        """Nutrient that a single source brings -> that source, both by place."""
        brings = (self.brings > 0.0).tolist()
        return {row: columns.index(True) for row, columns in enumerate(brings) if columns.count(True) == 1}


def _kept(numbers: list[float]) -> Array:
    """Numbers as an array that nobody changes."""
    kept = np.array(numbers)
    read_only(kept)
    return kept


@lru_cache(maxsize=512)
def source_of(entry: ShelfEntry) -> Source:
    """Compile one shelf entry.

    Raises
    ------
    core.catalog.UnknownSalt : when the entry names no product of the catalog.
    """
    source = _bought_blend(entry) if entry.salt.startswith("blend:") else _catalog_product(entry)
    read_only(source.totals, source.brings)
    return source


def _bought_blend(entry: ShelfEntry) -> Source:
    mixed = entry.mixed_mmol_per_g
    totals, alkalinity = mixed_totals(mixed) if mixed else blend_totals(entry.label_percent)
    # of a tank already mixed: what is dissolved in a litre, so that its millilitres are those of the tank
    density = None if entry.mixed_g_per_l is None else entry.mixed_g_per_l / 1000.0
    return Source(entry, None, totals, MG_PER_MMOL @ totals, alkalinity, 1.0, BLEND_RANK, None, density)


def _catalog_product(entry: ShelfEntry) -> Source:
    salt = salts()[entry.salt]
    strength = strength_of(entry, salt)
    totals, alkalinity = salt_totals(salt, entry.label_percent, strength)
    density = density_kg_per_l(salt, strength) if is_liquid(salt, strength) else None
    dissolved = salt.anhydrous_mass_fraction * (1.0 if strength is None else strength / 100.0)
    return Source(entry, salt, totals, MG_PER_MMOL @ totals, alkalinity, dissolved, salt.rank, strength, density)


def strength_of(entry: ShelfEntry, salt: Salt) -> float | None:
    """The strength a product counts with [% by mass]: its label's, else as stated, else as it is usually sold."""
    labelled = labelled_strength_percent(entry, salt)
    if labelled is not None:
        return min(labelled, density_tables()[salt.id].strength_percent[-1]) if salt.liquid else labelled
    return salt.default_strength_percent if entry.strength_percent is None else entry.strength_percent


def labelled_strength_percent(entry: ShelfEntry, salt: Salt) -> float | None:
    """The strength at which a product sold by strength holds what its label prints [% by mass].

    None where it is not sold by strength or the label prints nothing its formula holds.
    """
    if not entry.label_percent or salt.id not in density_tables():
        return None
    formula = formula_percent(salt)
    printed = split_nitrogen(elements_percent(dict(entry.label_percent.items())), formula)
    ratios = [printed[name] / formula[name] for name in printed if formula.get(name)]
    return 100.0 * float(np.mean(ratios)) if ratios else None


@lru_cache(maxsize=32)
def compile_shelf(entries: tuple[ShelfEntry, ...]) -> Shelf:
    """Compile a whole shelf; the same entries give the same object, so typing a target costs nothing here."""
    sources = tuple(source_of(entry) for entry in entries)
    totals = np.stack([source.totals for source in sources], axis=1)
    shelf = Shelf(sources, totals, MG_PER_MMOL @ totals, np.array([source.alkalinity for source in sources]))
    read_only(shelf.totals, shelf.brings, shelf.alkalinity)
    return shelf
