"""The chemistry of a blend's feed in full: every form, what carries the conductivity, who holds the iron.

Worked out only when somebody looks at it; the plan itself carries no more of it than its headline needs.
"""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
from msgspec import Struct

from core.blend.nutrients import COLUMN, Array
from core.blend.solve import Blend
from core.blend.waters import REFERENCE_C
from core.chemistry import AIR_CO2_ATM, Speciation, conductivity_by_ion, kg_water_per_l, saturation_indices, speciate
from core.chemistry.chelation import METALS, SYNTHETIC, iron_chelation
from core.chemistry.conductivity import MODEL_BAND_PERCENT
from core.chemistry.density import kg_water_per_l_at
from core.chemistry.species import CHELATORS, all_species
from core.plan.feed import AIRED, FIELD_BAND_PERCENT

SHOWN_FROM_MMOL_PER_L = 1e-6
"""Forms below this are left out: a nanomole per litre is nothing to roots or meters."""

Kind = Literal["ion", "pair", "molecule", "chelate"]


class Form(Struct, frozen=True):
    """One dissolved form; `ec_percent` is its share of the conductivity, `of` the totals it is made of."""

    name: str
    kind: Kind
    charge: int
    mmol_per_l: float
    ec_percent: float
    of: tuple[str, ...]

    @property
    def meq_per_l(self) -> float:
        """The charge it carries [meq/L]."""
        return self.charge * self.mmol_per_l

    def percent_of(self, total: str, forms: tuple[Form, ...]) -> float:
        """Return its share of all the forms that hold a total, itself among them [%]."""
        return 100.0 * self.mmol_per_l / sum(one.mmol_per_l for one in forms if total in one.of)


class Held(Struct, frozen=True):
    """What a synthetic ligand holds of a metal by their stability constants, once the feed has aired."""

    ligand: str
    metal: str
    mmol_per_l: float
    percent_of_metal: float


class FeedChemistry(Struct, frozen=True):
    """Freshly mixed, carbonic acid kept, at `temperature_c`, unless a name says "aired"; all of EC is at 25 °C.

    `model_band_percent` is what the model may be off for an exactly known composition, `field_band_percent` with salts,
    weighing and meter. `iron_chelated_percent` counts fresh hydroxide, `..._ferrihydrite_...` what it ages to; None
    without chelated iron.
    """

    temperature_c: float
    forms: tuple[Form, ...]
    ph: float
    ph_aired: float
    ec_ms_per_cm: float
    model_band_percent: float
    field_band_percent: float
    ionic_strength_mol_per_l: float
    cations_meq_per_l: float
    anions_meq_per_l: float
    saturation_index: dict[str, float]
    saturation_index_aired: dict[str, float]
    iron_chelated_percent: float | None = None
    iron_chelated_ferrihydrite_percent: float | None = None
    held: tuple[Held, ...] = ()


def closed_and_aired(totals: Array, alkalinity: Array, temperature_c: float = REFERENCE_C) -> Speciation:
    """Speciate solutions twice: first all with their carbonic acid kept, then all at rest with the air.

    Parameters
    ----------
    totals : (n_components, n) ndarray [mmol/L]
    alkalinity : (n,) ndarray [meq/L]
    temperature_c : float [°C]

    Raises
    ------
    OutOfRange : outside what the chemistry holds for.
    """
    columns = np.hstack([totals, totals]) * 1e-3
    per_kg = 1.0 / kg_water_per_l(columns, REFERENCE_C)
    gas = np.repeat([np.nan, AIR_CO2_ATM], totals.shape[1])
    return speciate(
        columns * per_kg, temperature_c, alkalinity_eq_per_kg=np.tile(alkalinity, 2) * 1e-3 * per_kg, co2_atm=gas
    )


def feed_chemistry(blend: Blend) -> FeedChemistry:
    """Everything the chemistry knows of the feed.

    Parameters
    ----------
    blend : Blend from `core.blend.solve.solve`

    Raises
    ------
    OutOfRange : the feed is outside what the chemistry holds for.
    """
    at, totals, alkalinity = blend.water.temperature_c, blend.totals[:, None], np.array([blend.alkalinity])
    both = closed_and_aired(totals, alkalinity, at)
    water = kg_water_per_l_at(both.totals_mol_per_kg, REFERENCE_C)
    told = conductivity_by_ion(both if at == REFERENCE_C else closed_and_aired(totals, alkalinity))
    mmol_per_l = 1e3 * both.molality[:, 0] * water[0]
    charge = np.array([float(one.charge) for one in all_species()])
    band = float(told.band_percent[0])
    unknown = math.sqrt(max(band**2 - MODEL_BAND_PERCENT**2, 0.0))
    fresh, aged, held = _iron(both, float(water[1]))
    return FeedChemistry(
        temperature_c=at,
        forms=_forms(mmol_per_l, told.share[:, 0]),
        ph=float(both.ph[0]),
        ph_aired=float(both.ph[1]),
        ec_ms_per_cm=float(told.ec_ms_per_cm[0]),
        model_band_percent=band,
        field_band_percent=math.hypot(FIELD_BAND_PERCENT, unknown),
        ionic_strength_mol_per_l=float(both.ionic_strength_mol_per_kg[0] * water[0]),
        cations_meq_per_l=float(np.maximum(charge, 0.0) @ mmol_per_l),
        anions_meq_per_l=float(np.maximum(-charge, 0.0) @ mmol_per_l),
        saturation_index=_indices(both, 0),
        saturation_index_aired=_indices(both, 1),
        iron_chelated_percent=fresh,
        iron_chelated_ferrihydrite_percent=aged,
        held=held,
    )


def _forms(mmol_per_l: Array, share: Array) -> tuple[Form, ...]:
    """The forms present, largest first."""
    found = []
    for row, one in enumerate(all_species()):
        if mmol_per_l[row] >= SHOWN_FROM_MMOL_PER_L:
            percent = 100.0 * float(share[row])
            found.append(
                Form(one.name, _kind(row), one.charge, float(mmol_per_l[row]), percent, tuple(sorted(one.contains)))
            )
    return tuple(sorted(found, key=lambda form: -form.mmol_per_l))


def _kind(row: int) -> Kind:
    one = all_species()[row]
    if one.contains.keys() & CHELATORS:
        return "chelate"
    if len(one.contains) > 1:
        return "pair"
    return "ion" if one.charge else "molecule"


def _indices(both: Speciation, column: int) -> dict[str, float]:
    indices = {name: float(values[column]) for name, values in saturation_indices(both).items()}
    return {name: value for name, value in indices.items() if math.isfinite(value)}


def _iron(both: Speciation, water_kg_per_l: float) -> tuple[float | None, float | None, tuple[Held, ...]]:
    """Share of the iron chelated beside fresh hydroxide and beside ferrihydrite [%], and what every ligand holds."""
    aired = both.take(AIRED)
    fresh = iron_chelation(aired)
    held = []
    for row, metal in enumerate(METALS):
        total = float(aired.totals_mol_per_kg[COLUMN[metal], 0])
        for column, ligand in enumerate(SYNTHETIC):
            amount = float(fresh.held[row, column, 0])
            if amount * 1e3 > SHOWN_FROM_MMOL_PER_L:
                held.append(Held(ligand, metal, 1e3 * amount * water_kg_per_l, 100.0 * amount / total))
    if not fresh.held[0].any():
        return None, None, tuple(held)
    aged = iron_chelation(aired, "ferrihydrite")
    return 100.0 * float(fresh.iron_chelated[0]), 100.0 * float(aged.iron_chelated[0]), tuple(held)
