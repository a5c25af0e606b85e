"""Chemistry of the dilute feed: ions and pairs, conductivity, acidity, solids. Arrays in, arrays out.

Names are loaded when first asked for, so that importing this package costs nothing.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from core.chemistry.acidity import (
        ACIDS_AND_BASES,
        carbonate_from,
        equivalents_per_mol,
        ph_closed_and_aired,
        protons_gained_per_mol,
        protons_held_per_mol,
        share_neutralised,
        titrate,
        vector_of,
    )
    from core.chemistry.components import COMPONENTS, REFERENCE_CHARGE
    from core.chemistry.conductivity import Conductivity, conductivity_by_ion, conductivity_ms_per_cm
    from core.chemistry.density import kg_water_per_l, kg_water_per_l_at
    from core.chemistry.errors import NotConverged, OutOfRange
    from core.chemistry.solids import saturation_indices
    from core.chemistry.solution import SolutionError, solve_solution
    from core.chemistry.speciation import AIR_CO2_ATM, Speciation, charge_of, speciate
    from core.chemistry.species import species_index, species_names
    from core.chemistry.temperature import factor_to_25_c

__all__ = [
    "ACIDS_AND_BASES",
    "AIR_CO2_ATM",
    "COMPONENTS",
    "REFERENCE_CHARGE",
    "Conductivity",
    "NotConverged",
    "OutOfRange",
    "SolutionError",
    "Speciation",
    "carbonate_from",
    "charge_of",
    "conductivity_by_ion",
    "conductivity_ms_per_cm",
    "equivalents_per_mol",
    "factor_to_25_c",
    "kg_water_per_l",
    "kg_water_per_l_at",
    "ph_closed_and_aired",
    "protons_gained_per_mol",
    "protons_held_per_mol",
    "saturation_indices",
    "share_neutralised",
    "solve_solution",
    "speciate",
    "species_index",
    "species_names",
    "titrate",
    "vector_of",
]

_MODULES = {
    "acidity": "ACIDS_AND_BASES carbonate_from equivalents_per_mol ph_closed_and_aired protons_gained_per_mol "
    "protons_held_per_mol share_neutralised titrate vector_of",
    "components": "COMPONENTS REFERENCE_CHARGE",
    "conductivity": "Conductivity conductivity_by_ion conductivity_ms_per_cm",
    "density": "kg_water_per_l kg_water_per_l_at",
    "errors": "NotConverged OutOfRange",
    "solids": "saturation_indices",
    "solution": "SolutionError solve_solution",
    "speciation": "AIR_CO2_ATM Speciation charge_of speciate",
    "species": "species_index species_names",
    "temperature": "factor_to_25_c",
}
_HOME = {name: module for module, names in _MODULES.items() for name in names.split()}


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    value = getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
    globals()[name] = value
    return value
