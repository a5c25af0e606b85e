"""From a water report to totals and alkalinity."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from core.blend.composition import split_nitrogen
from core.blend.nutrients import ATOMS, COLUMN, Array, close_with_inert, read_only
from core.catalog import ATOMIC_WEIGHTS
from core.chemistry.components import COMPONENTS
from core.recipe.records import Recipe, Water

HCO3_MG_PER_MEQ = ATOMIC_WEIGHTS["H"] + ATOMIC_WEIGHTS["C"] + 3 * ATOMIC_WEIGHTS["O"]
CO3_MG_PER_MEQ = (ATOMIC_WEIGHTS["C"] + 3 * ATOMIC_WEIGHTS["O"]) / 2
CACO3_MG_PER_MEQ = (ATOMIC_WEIGHTS["Ca"] + ATOMIC_WEIGHTS["C"] + 3 * ATOMIC_WEIGHTS["O"]) / 2

REFERENCE_C = 25.0
"""Temperature of the tables; what a feed's pH is told for where its water's temperature is not stated."""

CHEMISTRY_C = (0.0, 40.0)
"""What the chemistry of the feed holds for."""

READ_AT_C = 20.0
"""Temperature a report's pH is taken to be read at where it states none: a laboratory's room (own choice)."""

USUAL_PH = 7.5
"""Taken for a water with alkalinity whose report gives no pH; it only sets how much CO2 the water holds."""


DROPS_OUT = ("Fe", "Mn")
"""What oxidises in air and drops out of a well water, as rust and black flakes, before roots get it (MEMORY: common
knowledge of the trade). Not to count it unless asked is this program's own choice: counted wrongly, the crop goes
short."""


@dataclass(frozen=True, eq=False)
class WaterTotals:
    """A source water as the chemistry counts it.

    Attributes
    ----------
    totals : (n_components,) ndarray [mmol/L], closed with inert ions
    alkalinity : float [meq/L]
    gap : float [meq/L], charge the report leaves over: positive when anions are missing
    charge : float [meq/L], cations of the report; its anions are this less the gap
    ph_agrees : bool, False where the reported pH and alkalinity cannot both be true
    stated_c : float or None [°C], as its report states it; of waters mixed the mean of those that state one
    """

    totals: Array
    alkalinity: float
    gap: float
    charge: float
    ph_agrees: bool = True
    stated_c: float | None = None

    @property
    def temperature_c(self) -> float:
        """The temperature its feed's pH is told at [°C]: as stated, else the reference of the tables."""
        return feed_c(self.stated_c)

    @property
    def gap_percent(self) -> float:
        """How far cations and anions of the report are apart, in per cent of the mean of both; 0 where there are none.

        Twice the usual charge balance error, which is taken of their sum.
        """
        mean = self.charge - self.gap / 2.0
        return 100.0 * abs(self.gap) / mean if mean > 0.0 else 0.0


def alkalinity_meq_per_l(water: Water) -> float | None:
    """Alkalinity as reported: HCO3 and CO3, or CaCO3; None when the report says nothing."""
    reported = water.mg_per_l
    if reported.caco3 is not None and reported.hco3 is None and reported.co3 is None:
        return reported.caco3 / CACO3_MG_PER_MEQ
    if reported.hco3 is None and reported.co3 is None:
        return None
    return (reported.hco3 or 0.0) / HCO3_MG_PER_MEQ + (reported.co3 or 0.0) / CO3_MG_PER_MEQ


def not_credited(water: Water) -> tuple[str, ...]:
    """What a water brings that is not counted, because it is taken to drop out."""
    if water.credits_iron_and_manganese:
        return ()
    stated = dict(water.mg_per_l.items())
    return tuple(nutrient for nutrient in DROPS_OUT if stated.get(nutrient, 0.0) > 0.0)


@lru_cache(maxsize=64)
def water_totals(water: Water) -> WaterTotals:
    """Count one water; nitrogen without a form is nitrate, a silent report has no alkalinity.

    Iron and manganese count only where the recipe says that they stay dissolved.
    """
    totals = np.zeros(len(COMPONENTS))
    reported = split_nitrogen(dict(water.mg_per_l.items()), {})
    for nutrient, mg_per_l in reported.items():
        if nutrient in ("HCO3", "CO3", "CaCO3") or nutrient in not_credited(water):
            continue
        component, (element, atoms) = next(iter(ATOMS[nutrient].items()))
        totals[COLUMN[component]] += mg_per_l / (atoms * ATOMIC_WEIGHTS[element])
    alkalinity = alkalinity_meq_per_l(water) or 0.0
    charge = sum(totals[COLUMN[c]] * z for c, z in (("Ca", 2), ("Mg", 2), ("K", 1), ("Na", 1), ("NH4", 1)))
    gap = close_with_inert(totals, alkalinity)
    carbon, agrees = _carbon(alkalinity, water, totals)
    totals[COLUMN["C"]] = carbon
    read_only(totals)
    return WaterTotals(totals, alkalinity, gap, float(charge), agrees, water.temperature_c)


def feed_c(stated_c: float | None) -> float:
    """The temperature of a feed made with a water, within what the chemistry holds for [°C]."""
    return REFERENCE_C if stated_c is None else min(max(stated_c, CHEMISTRY_C[0]), CHEMISTRY_C[1])


def _mean_c(first_c: float | None, second_c: float | None, share: float) -> float | None:
    """The temperature of two waters mixed; where one does not state its own, it is taken to be as the other."""
    if first_c is None or second_c is None:
        return second_c if first_c is None else first_c
    return (1.0 - share) * first_c + share * second_c


def _carbon(alkalinity: float, water: Water, totals: Array) -> tuple[float, bool]:
    """Carbonate in all forms [mmol/L], and whether the report's pH and alkalinity can both be true."""
    if alkalinity <= 0.0:
        return 0.0, True
    from core.chemistry import OutOfRange, carbonate_from

    temperature_c = READ_AT_C if water.temperature_c is None else feed_c(water.temperature_c)
    try:
        reported = USUAL_PH if water.ph is None else water.ph
        return 1e3 * float(carbonate_from(alkalinity * 1e-3, reported, temperature_c, totals[:, None] * 1e-3)[0]), True
    except OutOfRange:
        return alkalinity, False  # near neutral almost all of it is bicarbonate, one mole per equivalent


def waters_of(recipe: Recipe) -> tuple[tuple[str, Water, float], ...]:
    """The waters a feed is made of: (field of the recipe, water, share [0..1]), without one that has no part."""
    if recipe.second_water is None:
        return (("water", recipe.water, 1.0),)
    share = recipe.second_water_share_percent / 100.0
    both = (("water", recipe.water, 1.0 - share), ("second_water", recipe.second_water, share))
    return tuple(one for one in both if one[2] > 0.0)


def recipe_water(recipe: Recipe) -> WaterTotals:
    """The water the feed is made of: one water, or two by share."""
    first = water_totals(recipe.water)
    if recipe.second_water is None:
        return first
    return mixed_water(first, water_totals(recipe.second_water), recipe.second_water_share_percent / 100.0)


def mixed_water(first: WaterTotals, second: WaterTotals, share: float) -> WaterTotals:
    """One water, or solution, with a share of it [0..1] replaced by another."""
    keep = 1.0 - share
    return WaterTotals(
        keep * first.totals + share * second.totals,
        keep * first.alkalinity + share * second.alkalinity,
        keep * first.gap + share * second.gap,
        keep * first.charge + share * second.charge,
        first.ph_agrees and second.ph_agrees,
        _mean_c(first.stated_c, second.stated_c, share),
    )
