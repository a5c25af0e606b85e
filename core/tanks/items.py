"""What goes into the tanks: one product each, counted per litre of finished feed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from operator import mul
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.catalog import Salt
from core.chemistry.components import COMPONENTS, REFERENCE_CHARGE

Array = NDArray[np.float64]

INDEX = {component: index for index, component in enumerate(COMPONENTS)}
_CA, _MG, _NH4, _P, _S = (INDEX[component] for component in ("Ca", "Mg", "NH4", "P", "S"))
LIGANDS = ("EDTA", "DTPA", "EDDHA", "HBED")
TRACE_METALS = ("Fe", "Fe3", "Mn", "Zn", "Cu")
TRACE_TOTALS = (*TRACE_METALS, "B", "Mo")
MAIN_TOTALS = ("Ca", "Mg", "NO3", "P", "Si", "urea")
COMPANION_TOTALS = ("K", "NH4")

COMPANION_RATIO = 10.0
"""A trace product may carry at most this many moles of potassium and ammonium per mole of trace element."""


BASIC_PHOSPHATE_EQ_PER_MOL = 0.1
"""A phosphate with more alkalinity than this [eq per mol P] holds its tank above pH 5, where magnesium comes out
(derived: 0.03 would do at pK2 6.5 in a concentrate; 0.1 leaves room for impurities)."""


class Traits(NamedTuple):
    """All that decides where a product may stand; the same for every amount of it."""

    calcium_side: bool
    phosphate_side: bool
    sulfate_side: bool
    main_sulfate: bool
    phosphate: bool
    basic_phosphate: bool
    magnesium: bool
    ammonium: bool
    bare_metal: bool
    chelate: str | None
    strong_acid: bool
    base: bool
    silicate: bool
    trace: bool
    free: bool


@dataclass(frozen=True)
class Item:
    """One product of the recipe that is to stand in a tank.

    Attributes
    ----------
    key : the shelf entry's name, unique within one split
    salt_id : catalog id, or "blend:<own name>"
    g_per_l_feed : product in the finished feed [g/L]
    ions : (n_components,) totals it brings to the finished feed [mol/L], in the order of COMPONENTS
    chelate : ligand that holds its metal ("EDTA", "DTPA", "EDDHA", "HBED"), or None
    strong_acid, base, silicate : what it is; `base` means hydroxide, carbonate or bicarbonate
    trace : True where it brings nothing but micronutrients
    label_only : True for a bought blend, known by its label alone
    """

    key: str
    salt_id: str
    g_per_l_feed: float
    ions: tuple[float, ...]
    chelate: str | None = None
    strong_acid: bool = False
    base: bool = False
    silicate: bool = False
    trace: bool = False
    label_only: bool = False

    def __hash__(self) -> int:
        return hash(self.key)

    def mol_per_l(self, *components: str) -> float:
        """Sum of the named totals [mol per litre of finished feed]."""
        return sum([self.ions[INDEX[component]] for component in components])

    @property
    def alkalinity_eq_per_l(self) -> float:
        """Alkalinity it brings [eq per litre of finished feed]; negative for an acid."""
        return float(sum(map(mul, REFERENCE_CHARGE.values(), self.ions)))

    @cached_property
    def traits(self) -> Traits:
        """What decides where it may stand."""
        phosphate, sulfate = self.ions[_P], self.ions[_S]
        calcium_eq = 2.0 * self.ions[_CA]
        calcium_side = calcium_eq > 0 and calcium_eq >= phosphate + 2.0 * sulfate
        sulfate_counts = not (calcium_side or self.trace) and sulfate > 0
        special = self.strong_acid or self.base or self.silicate or self.trace or self.chelate is not None
        return Traits(
            calcium_side=calcium_side,
            phosphate_side=not calcium_side and phosphate > 0,
            sulfate_side=sulfate_counts and phosphate == 0,
            main_sulfate=sulfate_counts,
            phosphate=phosphate > 0,
            basic_phosphate=phosphate > 0 and self.alkalinity_eq_per_l > BASIC_PHOSPHATE_EQ_PER_MOL * phosphate,
            magnesium=not self.trace and self.ions[_MG] > 0,
            ammonium=self.ions[_NH4] > 0,
            bare_metal=self.chelate is None and self.mol_per_l(*TRACE_METALS) > 0,
            chelate=self.chelate,
            strong_acid=self.strong_acid,
            base=self.base,
            silicate=self.silicate,
            trace=self.trace,
            free=not (calcium_side or phosphate > 0 or sulfate > 0 or special or self.label_only),
        )

    def times(self, factor: float) -> Item:
        """Return so many times this product; where it may stand stays the same.

        Copied field by field, as that is a third of the work of making one anew.
        """
        scaled = object.__new__(Item)
        ions = tuple([factor * amount for amount in self.ions])
        scaled.__dict__.update(self.__dict__, g_per_l_feed=factor * self.g_per_l_feed, ions=ions, traits=self.traits)
        return scaled

    @property
    def calcium_side(self) -> bool:
        """True where calcium rules its place: of a product with phosphate or sulfate too, the larger charge decides."""
        return self.traits.calcium_side

    @property
    def phosphate_side(self) -> bool:
        """True where phosphate rules its place."""
        return self.traits.phosphate_side

    @property
    def sulfate_side(self) -> bool:
        """True where sulfate rules its place and it brings no phosphate; a trace product never counts."""
        return self.traits.sulfate_side

    @property
    def apart_side(self) -> bool:
        """True where phosphate or sulfate rules its place: the side that keeps apart from calcium."""
        return self.traits.phosphate_side or self.traits.sulfate_side

    @property
    def free(self) -> bool:
        """True where no rule keeps it from any side: it may even be shared between tanks."""
        return self.traits.free

    @property
    def brings_both(self) -> bool:
        """True for a product that itself holds calcium beside phosphate or sulfate."""
        return self.ions[_CA] > 0 and (self.ions[_P] > 0 or self.ions[_S] > 0)


def item_of(key: str, salt: Salt | None, g_per_l_feed: float, ions: Array) -> Item:
    """Return the item for a catalog salt, or for a bought blend where `salt` is None.

    Parameters
    ----------
    key : the shelf entry's name
    g_per_l_feed : product in the finished feed [g/L]
    ions : (n_components,) totals it brings to the finished feed [mol/L]
    """
    totals = tuple(np.asarray(ions, dtype=float).tolist())
    trace = _is_trace(totals)
    if salt is None:
        return Item(key, key, g_per_l_feed, totals, _ligand(totals), trace=trace, label_only=True)
    return Item(
        key,
        salt.id,
        g_per_l_feed,
        totals,
        chelate=salt.chelate,
        strong_acid=salt.strong_acid,
        base=salt.kind == "base",
        silicate=salt.kind == "silicate",
        trace=trace,
    )


def _is_trace(totals: tuple[float, ...]) -> bool:
    trace = sum([totals[INDEX[name]] for name in TRACE_TOTALS])
    if trace == 0 or any([totals[INDEX[name]] for name in MAIN_TOTALS]):
        return False
    return sum([totals[INDEX[name]] for name in COMPANION_TOTALS]) <= COMPANION_RATIO * trace


def _ligand(totals: tuple[float, ...]) -> str | None:
    return next((ligand for ligand in LIGANDS if totals[INDEX[ligand]] > 0), None)
