"""From totals to nutrients: what a grower calls N, P, K out of what a solution is counted in."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from core.catalog import ATOMIC_WEIGHTS
from core.chemistry.components import COMPONENTS, REFERENCE_CHARGE
from core.recipe.records import NUTRIENTS

Array = NDArray[np.float64]

ATOMS: dict[str, dict[str, tuple[str, int]]] = {
    "N": {"NO3": ("N", 1), "NH4": ("N", 1), "urea": ("N", 2)},
    "NO3-N": {"NO3": ("N", 1)},
    "NH4-N": {"NH4": ("N", 1)},
    "urea-N": {"urea": ("N", 2)},
    "Fe": {"Fe": ("Fe", 1), "Fe3": ("Fe", 1)},
} | {name: {name: (name, 1)} for name in ("P", "K", "Ca", "Mg", "S", "Mn", "Zn", "B", "Cu", "Mo", "Si", "Na", "Cl")}
"""Nutrient -> totals that hold it, with element and atoms of it per total. Nitrogen bound in a chelate's
ligand is no nutrient, so no ligand stands here."""


def _mg_per_mmol() -> Array:
    table = np.zeros((len(NUTRIENTS), len(COMPONENTS)))
    for nutrient, parts in ATOMS.items():
        for component, (element, atoms) in parts.items():
            table[NUTRIENTS.index(nutrient), COMPONENTS.index(component)] = atoms * ATOMIC_WEIGHTS[element]
    return table


MG_PER_MMOL: Array = _mg_per_mmol()
"""(n_nutrients, n_components) [mg of nutrient per mmol of total]."""

CHARGE: Array = np.array([REFERENCE_CHARGE[name] for name in COMPONENTS], dtype=float)
"""(n_components,) [eq/mol] charge of each total's reference form."""

ROW: dict[str, int] = {name: row for row, name in enumerate(NUTRIENTS)}
COLUMN: dict[str, int] = {name: column for column, name in enumerate(COMPONENTS)}


def read_only(*arrays: Array) -> None:
    """Make arrays that are kept and shared unwritable, so that nobody changes what others were given."""
    for array in arrays:
        array.setflags(write=False)


read_only(MG_PER_MMOL, CHARGE)


def nutrients_mg_per_l(totals_mmol_per_l: Array) -> Array:
    """Nutrients of a solution.

    Parameters
    ----------
    totals_mmol_per_l : (n_components,) or (n_components, n) ndarray [mmol/L]

    Returns
    -------
    (n_nutrients,) or (n_nutrients, n) ndarray [mg/L]
    """
    return MG_PER_MMOL @ totals_mmol_per_l


def close_with_inert(totals: Array, alkalinity: float) -> float:
    """Add, in place, the inert ions that make a list of totals electrically neutral; return the gap found.

    Parameters
    ----------
    totals : (n_components,) ndarray [mmol per anything]
    alkalinity : float [meq per the same]

    Returns
    -------
    float [meq per the same] : charge the listed ions leave over; positive when anions are missing.
    """
    gap = float(CHARGE @ totals) - alkalinity
    totals[COLUMN["inert-"]] += max(gap, 0.0)
    totals[COLUMN["inert+"]] += max(-gap, 0.0)
    return gap
