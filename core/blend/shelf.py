"""The shelf, compiled: every entry as one column of what a milligram of it brings."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from core.blend.composition import blend_totals, salt_totals
from core.blend.nutrients import MG_PER_MMOL, ROW, Array
from core.catalog import Salt, density_kg_per_l, is_liquid, salts
from core.recipe.records import ShelfEntry

BLEND_RANK = 1000
"""Where bought blends and mixed tanks stand in the catalog's order of preference: after every single salt."""

TRACE_TOTALS = ("Fe", "Mn", "Zn", "B", "Cu", "Mo")


@dataclass(frozen=True, eq=False)
class Source:
    """One shelf entry, ready to be counted.

    Attributes
    ----------
    totals : (n_components,) ndarray [mmol per mg of product]
    brings : (n_nutrients,) ndarray [mg of nutrient per mg of product]
    alkalinity : float [meq per mg of product], by formula; negative for acids
    dissolved : float [mg of matter per mg of product] without water of crystallisation or solution
    density_kg_per_l : float or None, for liquids
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

    @property
    def key(self) -> str:
        """The entry's name within its shelf."""
        return self.entry.key

    @property
    def kind(self) -> str:
        """The catalog's kind, or "blend"."""
        return "blend" if self.salt is None else self.salt.kind

    @property
    def is_trace(self) -> bool:
        """True for a product bought for a micronutrient."""
        return any(self.brings[ROW[name]] > 0.01 for name in TRACE_TOTALS)


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


@lru_cache(maxsize=512)
def source_of(entry: ShelfEntry) -> Source:
    """Compile one shelf entry.

    Raises
    ------
    core.catalog.UnknownSalt : when the entry names no product of the catalog.
    """
    if entry.salt.startswith("blend:"):
        totals, alkalinity = blend_totals(entry.label_percent)
        return Source(entry, None, totals, MG_PER_MMOL @ totals, alkalinity, 1.0, BLEND_RANK, None, None)
    salt = salts()[entry.salt]
    strength = entry.strength_percent if entry.strength_percent is not None else salt.default_strength_percent
    totals, alkalinity = salt_totals(salt, entry.label_percent, strength)
    density = density_kg_per_l(salt, strength) if is_liquid(salt, strength) else None
    dissolved = salt.anhydrous_mass_fraction * (1.0 if strength is None else strength / 100.0)
    return Source(entry, salt, totals, MG_PER_MMOL @ totals, alkalinity, dissolved, salt.rank, strength, density)


@lru_cache(maxsize=32)
def compile_shelf(entries: tuple[ShelfEntry, ...]) -> Shelf:
    """Compile a whole shelf; the same entries give the same object, so typing a target costs nothing here."""
    sources = tuple(source_of(entry) for entry in entries)
    totals = np.stack([source.totals for source in sources], axis=1)
    shelf = Shelf(sources, totals, MG_PER_MMOL @ totals, np.array([source.alkalinity for source in sources]))
    for array in (shelf.totals, shelf.brings, shelf.alkalinity):
        array.setflags(write=False)
    return shelf
