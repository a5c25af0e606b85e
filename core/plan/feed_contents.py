"""What a reservoir holds, litre by litre: contents that are poured together, and what the chemistry says of them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.blend.nutrients import COLUMN, Array
from core.blend.shelf import Source
from core.blend.strength import alkalinity_at_ph
from core.blend.waters import REFERENCE_C
from core.chemistry import (
    OutOfRange,
    carbonate_from,
    conductivity_by_ion,
    kg_water_per_l,
    saturation_indices,
    speciate,
)
from core.phrase import Phrase
from core.plan.chemistry_details import closed_and_aired

PH_CLOSE = 0.03
"""A forecast this near a reading of pH agrees with it (this program's own choice)."""

MORE_CARBON, SOME_CARBON_MMOL_PER_L = 1.2, 0.2
"""How much more carbonic acid than was thought a reading of pH may stand for, as share and amount; a feed more sour
than that has lost alkalinity (this program's own choice)."""

MG_PER_ML = 1000.0
"""Milligrams per millilitre of a liquid of density 1 kg/L."""


@dataclass(frozen=True, eq=False)
class Contents:
    """A volume of solution.

    Attributes
    ----------
    volume_l : float [L]
    totals : (n_components,) ndarray [mmol/L]
    alkalinity : float [meq/L], by formula
    temperature_c : float [°C], at which a meter finds its pH
    """

    volume_l: float
    totals: Array
    alkalinity: float
    temperature_c: float = REFERENCE_C

    def mixed(self, other: Contents) -> Contents:
        """Both poured together."""
        volume = self.volume_l + other.volume_l
        if volume <= 0.0:
            return self
        own, theirs = self.volume_l / volume, other.volume_l / volume
        return replace(
            self,
            volume_l=volume,
            totals=own * self.totals + theirs * other.totals,
            alkalinity=own * self.alkalinity + theirs * other.alkalinity,
        )

    def with_product(self, source: Source, amount: float) -> Contents:
        """With an acid or base stirred in: mL of a liquid, g of a solid; its own volume is too small to count."""
        mg_per_l = amount * milligrams_per_unit(source) / self.volume_l
        return replace(
            self,
            totals=self.totals + source.totals * mg_per_l,
            alkalinity=self.alkalinity + source.alkalinity * mg_per_l,
        )

    def at_ph(self, ph: float) -> Contents:
        """As a pH meter finds it: carbonic acid lost or left over makes up the difference, beyond that its alkalinity.

        Raises
        ------
        OutOfRange : outside what the chemistry holds for.
        """
        totals, most = self.totals.copy(), MORE_CARBON * self.totals[COLUMN["C"]] + SOME_CARBON_MMOL_PER_L
        totals[COLUMN["C"]] = min(self._carbon_at(ph), most)
        fitted = replace(self, totals=totals)
        if abs(look((fitted,)).ph[0] - ph) < PH_CLOSE:
            return fitted
        alkalinity = alkalinity_at_ph(totals, ph, self.temperature_c)
        if alkalinity is None:
            raise OutOfRange(Phrase("No feed like this can have pH {ph}.", ph=f"{ph:g}"))
        return replace(fitted, alkalinity=alkalinity)

    def _carbon_at(self, ph: float) -> float:
        """Carbonate in all forms that goes with this alkalinity at a pH [mmol/L]; all there may be where none does."""
        column = self.totals[:, None] * 1e-3
        per_kg = 1.0 / kg_water_per_l(column, REFERENCE_C)
        try:
            found = carbonate_from(self.alkalinity * 1e-3 * per_kg, ph, self.temperature_c, column * per_kg)
        except OutOfRange:
            return math.inf
        return 1e3 * float((found / per_kg)[0])


@dataclass(frozen=True)
class Look:
    """What the chemistry says of several contents, one value each; not a number outside its range.

    EC at 25 degC [mS/cm]; pH with the carbonic acid kept, and at rest with the air; `brushite` is the saturation index
    of calcium phosphate while fresh, minus infinity where it cannot form.
    """

    ec_ms_per_cm: tuple[float, ...]
    ph: tuple[float, ...]
    ph_aired: tuple[float, ...]
    brushite: tuple[float, ...]


def milligrams_per_unit(source: Source) -> float:
    """Return what a millilitre of a liquid, or a gram of a solid, weighs [mg]."""
    return MG_PER_ML * (1.0 if source.density_kg_per_l is None else source.density_kg_per_l)


def look(contents: Sequence[Contents]) -> Look:
    """Forecast contents, those of one temperature at once where the chemistry holds for all of them."""
    by_temperature: dict[float, list[int]] = {}
    for place, one in enumerate(contents):
        by_temperature.setdefault(one.temperature_c, []).append(place)
    told: dict[int, tuple[float, ...]] = {}
    for places in by_temperature.values():
        found = _look_if_it_holds([contents[place] for place in places])
        told |= dict(zip(places, zip(*found, strict=True), strict=True))
    return Look(*zip(*(told[place] for place in range(len(contents))), strict=True))


def _look_if_it_holds(contents: Sequence[Contents]) -> tuple[tuple[float, ...], ...]:
    """EC, pH, aired pH and brushite of contents of one temperature, each asked alone where not all can be."""
    try:
        return _look(contents)
    except OutOfRange:
        if len(contents) == 1:
            return ((math.nan,),) * 4
    each = [_look_if_it_holds((one,)) for one in contents]
    return tuple(tuple(one[row][0] for one in each) for row in range(4))


def conductivities_ms_per_cm(contents: Sequence[Contents]) -> Array:
    """EC of contents at 25 degC, (n,) ndarray [mS/cm]; not a number outside the chemistry's range."""
    totals = np.stack([one.totals for one in contents], axis=1) * 1e-3
    per_kg = 1.0 / kg_water_per_l(totals, REFERENCE_C)
    alkalinity = np.array([one.alkalinity for one in contents]) * 1e-3
    try:
        found = speciate(totals * per_kg, REFERENCE_C, alkalinity_eq_per_kg=alkalinity * per_kg)
    except OutOfRange:
        if len(contents) == 1:
            return np.array([math.nan])
        return np.concatenate([conductivities_ms_per_cm((one,)) for one in contents])
    ec: Array = conductivity_by_ion(found).ec_ms_per_cm
    return ec


def _look(contents: Sequence[Contents]) -> tuple[tuple[float, ...], ...]:
    totals = np.stack([one.totals for one in contents], axis=1)
    found = closed_and_aired(totals, np.array([one.alkalinity for one in contents]), contents[0].temperature_c)
    count = len(contents)
    warm = contents[0].temperature_c == REFERENCE_C
    ec = conductivity_by_ion(found).ec_ms_per_cm[:count] if warm else conductivities_ms_per_cm(contents)
    brushite = saturation_indices(found)["brushite"][:count]
    return tuple(tuple(each.tolist()) for each in (ec, found.ph[:count], found.ph[count:], brushite))
