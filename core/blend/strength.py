"""The strength of a feed: its EC and alkalinity by the chemistry, and an aim scaled to a target EC."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING

import msgspec
import numpy as np

from core.blend.nutrients import ROW, Array
from core.blend.waters import REFERENCE_C, WaterTotals, water_totals, waters_of
from core.chemistry import OutOfRange, Speciation, conductivity_ms_per_cm, kg_water_per_l, speciate
from core.recipe.records import Aim, Recipe, Water

if TYPE_CHECKING:
    from core.blend.shelf import Shelf
    from core.blend.solve import Blend

SCALED = ("NO3-N", "K", "Ca", "Mg", "S")
"""What rises and falls with EC; ammonium, phosphorus and traces stay (Sonneveld, Voogt & Spaans 1999, Acta
Horticulturae 481:331, abstract READ)."""

ROUNDS = 6
CLOSE_MS_PER_CM = 1e-3
LEAST, MOST = 0.02, 20.0
"""Range of factors tried; a target EC outside it is not this crop's recipe any more."""


def feed_forms(
    totals: Array, *, ph: Array | float | None = None, alkalinity: float = 0.0, temperature_c: float = REFERENCE_C
) -> tuple[Speciation, float] | None:
    """The forms feeds take, closed to air, at a pH or else at an alkalinity [meq/L].

    Parameters
    ----------
    totals : (n_components,) or (n_components, n) ndarray [mmol/L]
    ph : float or (n,) ndarray [-]
    temperature_c : float [°C]

    Returns
    -------
    the solved feeds and their water [kg/L], that of the first; or None outside the chemistry's range
    """
    columns = totals.reshape(len(totals), -1) * 1e-3
    water = float(kg_water_per_l(columns)[0])
    alkalinity_eq_per_kg = None if ph is not None else alkalinity * 1e-3 / water
    try:
        return speciate(columns / water, temperature_c, ph=ph, alkalinity_eq_per_kg=alkalinity_eq_per_kg), water
    except OutOfRange:
        return None


def ec_ms_per_cm(totals: Array, alkalinity: float) -> float | None:
    """EC of a feed at 25 °C [mS/cm], None outside the chemistry's range.

    Parameters
    ----------
    totals : (n_components,) ndarray [mmol/L]
    alkalinity : float [meq/L]
    """
    found = feed_forms(totals, alkalinity=alkalinity)
    return None if found is None else float(conductivity_ms_per_cm(found[0])[0])


def alkalinity_at_ph(totals: Array, ph: float, temperature_c: float = REFERENCE_C) -> float | None:
    """Alkalinity [meq/L] a feed of these totals [mmol/L] holds at a pH, closed to air; None outside the range."""
    found = feed_forms(totals, ph=ph, temperature_c=temperature_c)
    return None if found is None else 1e3 * float(found[0].alkalinity_eq_per_kg[0]) * found[1]


def water_ec_ms_per_cm(recipe: Recipe, water: WaterTotals) -> float | None:
    """EC of the recipe's water [mS/cm at 25 °C]: as measured where that is stated beside an analysis, else computed.

    A measured EC without an analysis is left out: what makes it is in no forecast of the feed either.

    recipe : its two waters count by share
    water : WaterTotals of the mixture, for a recipe that states no EC
    """
    used = [(one, part) for _, one, part in waters_of(recipe)]
    if not any(one.ec_ms_per_cm is not None and one.mg_per_l for one, _ in used):
        return ec_ms_per_cm(water.totals, water.alkalinity)
    found = [
        (one.ec_ms_per_cm if one.ec_ms_per_cm is not None and one.mg_per_l else analysed_ec_ms_per_cm(one), part)
        for one, part in used
    ]
    known = [(ec, part) for ec, part in found if ec is not None]
    return sum(ec * part for ec, part in known) if len(known) == len(found) else None


@lru_cache(maxsize=64)
def analysed_ec_ms_per_cm(water: Water) -> float | None:
    """EC that a water's analysis makes [mS/cm at 25 °C]; None outside the chemistry's range."""
    counted = water_totals(water)
    return ec_ms_per_cm(counted.totals, counted.alkalinity)


def wanted_ec_ms_per_cm(recipe: Recipe, water: WaterTotals) -> float | None:
    """The EC an aim asks of the feed [mS/cm at 25 °C]; None where it asks for none or the water's is not known."""
    if recipe.aim.ec_ms_per_cm is None or not recipe.aim.ec_is_rise_over_water:
        return recipe.aim.ec_ms_per_cm
    own = water_ec_ms_per_cm(recipe, water)
    return None if own is None else own + recipe.aim.ec_ms_per_cm


def scaled(aim: Aim, factor: float, ammonium_mg_per_l: float) -> Aim:
    """The aim with its macros multiplied, ammonium, phosphorus and traces held.

    Total nitrogen rises by its nitrate alone; ranges keep their share of the target.
    """
    targets = []
    for target in aim.targets:
        if target.nutrient == "N":
            held = min(ammonium_mg_per_l, target.mg_per_l)
            rise = (held + factor * (target.mg_per_l - held)) / target.mg_per_l if target.mg_per_l else 1.0
        else:
            rise = factor if target.nutrient in SCALED else 1.0
        low = None if target.low_mg_per_l is None else target.low_mg_per_l * rise
        high = None if target.high_mg_per_l is None else target.high_mg_per_l * rise
        changed = {"mg_per_l": target.mg_per_l * rise, "low_mg_per_l": low, "high_mg_per_l": high}
        targets.append(msgspec.structs.replace(target, **changed))
    return msgspec.structs.replace(aim, targets=tuple(targets))


def at_target_ec(recipe: Recipe, shelf: Shelf, water: WaterTotals) -> Blend:
    """Solve a recipe whose aim names an EC: find the factor on its macros by the secant rule, blend by blend.

    Where the EC cannot be reached, or the water's own is beyond the chemistry, the nearest blend found is the answer.
    """
    from core.blend.solve import solve_aim

    blend = solve_aim(recipe, recipe.aim, shelf, water)
    wanted = wanted_ec_ms_per_cm(recipe, water)
    if wanted is None:
        return blend
    ammonium = float(blend.nutrients_mg_per_l[ROW["NH4-N"]])
    factor, reached = 1.0, ec_ms_per_cm(blend.totals, blend.alkalinity)
    before: tuple[float, float] | None = None
    nearest, off = blend, math.inf
    for _ in range(ROUNDS):
        if reached is None:
            break
        if abs(reached - wanted) < off:
            nearest, off = blend, abs(reached - wanted)
        if off < CLOSE_MS_PER_CM:
            break
        slope = reached / factor if before is None else (reached - before[1]) / (factor - before[0])
        if slope <= 0.0:
            break
        before = (factor, reached)
        factor = float(np.clip(factor + (wanted - reached) / slope, LEAST, MOST))
        if factor == before[0]:
            break
        blend = solve_aim(recipe, scaled(recipe.aim, factor, ammonium), shelf, water)
        reached = ec_ms_per_cm(blend.totals, blend.alkalinity)
    return blend if reached is not None and abs(reached - wanted) < off else nearest
