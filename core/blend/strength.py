"""The strength of a feed: its EC and alkalinity by the chemistry, and an aim scaled to a target EC."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
import numpy as np

from core.blend.nutrients import ROW, Array
from core.chemistry import OutOfRange, conductivity_ms_per_cm, kg_water_per_l, speciate
from core.recipe.records import Aim, Recipe

if TYPE_CHECKING:
    from core.blend.shelf import Shelf
    from core.blend.solve import Blend
    from core.blend.waters import WaterTotals

SCALED = ("NO3-N", "K", "Ca", "Mg", "S")
"""What rises and falls with EC; ammonium, phosphorus and traces stay (Sonneveld, Voogt & Spaans 1999, Acta
Horticulturae 481:331, abstract READ)."""

ROUNDS = 6
CLOSE_MS_PER_CM = 1e-3
LEAST, MOST = 0.02, 20.0
"""Range of factors tried; a target EC outside it is not this crop's recipe any more."""


def ec_ms_per_cm(totals: Array, alkalinity: float) -> float | None:
    """EC of a feed at 25 °C [mS/cm], None outside the chemistry's range.

    Parameters
    ----------
    totals : (n_components,) ndarray [mmol/L]
    alkalinity : float [meq/L]
    """
    column = totals[:, None] * 1e-3
    per_kg = 1.0 / kg_water_per_l(column)
    try:
        found = speciate(column * per_kg, 25.0, alkalinity_eq_per_kg=alkalinity * 1e-3 * per_kg)
    except OutOfRange:
        return None
    return float(conductivity_ms_per_cm(found)[0])


def alkalinity_at_ph(totals: Array, ph: float) -> float | None:
    """Alkalinity [meq/L] a feed of these totals [mmol/L] holds at a pH, closed to air; None outside the range."""
    column = totals[:, None] * 1e-3
    water = kg_water_per_l(column)
    try:
        found = speciate(column / water, 25.0, ph=ph)
    except OutOfRange:
        return None
    return float((found.alkalinity_eq_per_kg * water)[0]) * 1e3


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

    A target stated as a rise counts from the water's own EC. Where the EC cannot be reached the nearest blend found
    is the answer.
    """
    from core.blend.solve import solve_aim

    wanted = recipe.aim.ec_ms_per_cm or 0.0
    if recipe.aim.ec_is_rise_over_water:
        wanted += ec_ms_per_cm(water.totals, water.alkalinity) or 0.0
    blend = solve_aim(recipe, recipe.aim, shelf, water)
    ammonium = float(blend.nutrients_mg_per_l[ROW["NH4-N"]])
    factor, reached = 1.0, ec_ms_per_cm(blend.totals, blend.alkalinity)
    before: tuple[float, float] | None = None
    for _ in range(ROUNDS):
        if reached is None or abs(reached - wanted) < CLOSE_MS_PER_CM:
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
    return blend
