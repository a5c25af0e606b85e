"""How much alkalinity the feed keeps, and which acids or bases may see to it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from core.blend.nutrients import ROW, Array
from core.blend.shelf import Shelf, Source
from core.chemistry.components import REFERENCE_CHARGE
from core.recipe.records import Aim

USUAL_RESIDUAL_MEQ_PER_L = 0.5
"""Alkalinity left in the feed when the aim says nothing (greenhouse practice, trade page on nitric acid; READ:
"leave 0.5 meq/L")."""

FORMULA_PH = (4.5, 7.0)
"""Range of pH in which acids are counted; below it every acid counts as by its formula."""


@dataclass(frozen=True, eq=False)
class AlkalinityRow:
    """The alkalinity row of one solve.

    Attributes
    ----------
    coefficients : (n_sources,) ndarray [meq per mg]
    exactly, at_most : float or None [meq/L], the row's right-hand side; both None for no row
    excluded : shelf columns that must not be used
    goal : float or None [meq/L], what the feed should keep
    notes : codes of what could not be done as asked
    """

    coefficients: Array
    exactly: float | None
    at_most: float | None
    excluded: frozenset[int]
    goal: float | None
    notes: tuple[str, ...] = ()


def is_base(source: Source) -> bool:
    """True for hydroxides, carbonates, lime and silicate: what only ever serves alkalinity."""
    return source.kind == "base"


def is_acid(source: Source) -> bool:
    """True for acids."""
    return source.kind == "acid"


def residual_goal(aim: Aim, water_alkalinity: float, *, acid_on_shelf: bool) -> float | None:
    """Alkalinity the feed should keep [meq/L]: the aim's, else at most the usual residual where there is an acid."""
    if aim.residual_alkalinity_meq_per_l is not None:
        return aim.residual_alkalinity_meq_per_l
    return min(water_alkalinity, USUAL_RESIDUAL_MEQ_PER_L) if acid_on_shelf else None


def counting_ph(aim: Aim, goal: float | None, carbon_mmol_per_l: float) -> float:
    """The pH at which acids are counted: the aim's, else where this water stands with its alkalinity brought down.

    Closed carbonate balance, pK1 6.35 at 25 °C (Plummer & Busenberg 1982, READ): pH = pK1 + log(HCO3/CO2).
    """
    if aim.ph is not None:
        return aim.ph
    free_co2 = carbon_mmol_per_l - (goal or 0.0)
    if not goal or goal <= 0.0 or free_co2 <= 0.0:
        return FORMULA_PH[0]
    return min(max(6.35 + math.log10(goal / free_co2), FORMULA_PH[0]), FORMULA_PH[1])


@lru_cache(maxsize=256)
def _equivalents(acid: str, ph: float) -> float:
    from core.chemistry import equivalents_per_mol

    return float(equivalents_per_mol(acid, ph)[0])


NEUTRAL_MEQ_PER_MG = 1e-9
"""Less than this is round-off of a neutral product's charges; real acids and bases bring 1e-3 and more."""


def _coefficients(shelf: Shelf, ph: float) -> Array:
    """Alkalinity per mg; phosphoric and citric acid as much of it as they give at this pH."""
    coefficients = np.where(np.abs(shelf.alkalinity) < NEUTRAL_MEQ_PER_MG, 0.0, shelf.alkalinity)
    for index, source in enumerate(shelf.sources):
        if source.salt is not None and source.salt.kind == "acid":
            formula_equivalents = -sum(REFERENCE_CHARGE[ion] * n for ion, n in source.salt.ions.items())
            coefficients[index] *= _equivalents(source.salt.id, round(ph, 3)) / formula_equivalents
    return coefficients


def alkalinity_row(
    aim: Aim, shelf: Shelf, water_alkalinity: float, base_alkalinity: float, ph: float, *, has_targets: bool
) -> AlkalinityRow:
    """Decide the alkalinity row.

    Acid and base never work together, bases only where the aim asks for more than the water has, acids only where
    the water has more than the aim wants to keep.

    Parameters
    ----------
    water_alkalinity, base_alkalinity : float [meq/L], of the water, and of the water with the fixed amounts
    ph : float [-], where acids count
    has_targets : bool, False for a recipe of exact amounts only, which is left alone unless the aim names a residual
    """
    urea_allowed = aim.urea or any(t.nutrient == "urea-N" and t.mg_per_l > 0.0 for t in aim.targets)
    acids = frozenset(
        i
        for i, s in enumerate(shelf.sources)
        if is_acid(s) and s.entry.exactly_mg_per_l is None and (urea_allowed or s.brings[ROW["urea-N"]] == 0.0)
    )
    bases = frozenset(i for i, s in enumerate(shelf.sources) if is_base(s) and s.entry.exactly_mg_per_l is None)
    goal = residual_goal(aim, water_alkalinity, acid_on_shelf=bool(acids))
    coefficients = _coefficients(shelf, ph)
    if goal is None or (not has_targets and aim.residual_alkalinity_meq_per_l is None):
        return AlkalinityRow(coefficients, None, None, acids | bases, goal)
    if base_alkalinity > goal:
        if acids:
            return AlkalinityRow(coefficients, goal, None, bases, goal)
        none_at_all = not any(is_acid(s) and s.entry.exactly_mg_per_l is not None for s in shelf.sources)
        return AlkalinityRow(coefficients, None, base_alkalinity, bases, goal, ("no-acid",) if none_at_all else ())
    if bases and aim.residual_alkalinity_meq_per_l is not None and goal > base_alkalinity:
        return AlkalinityRow(coefficients, goal, None, acids, goal)
    return AlkalinityRow(coefficients, None, max(goal, base_alkalinity), acids | bases, goal)
