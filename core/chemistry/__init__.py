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
        share_neutralised,
        titrate,
        vector_of,
    )
    from core.chemistry.components import COMPONENTS, REFERENCE_CHARGE
    from core.chemistry.conductivity import Conductivity, conductivity_by_ion, conductivity_ms_per_cm
    from core.chemistry.density import kg_water_per_l, kg_water_per_l_at
    from core.chemistry.equilibrium import NotConverged
    from core.chemistry.solids import saturation_indices
    from core.chemistry.solution import SolutionError, solution
    from core.chemistry.speciation import AIR_CO2_ATM, OutOfRange, Speciation, charge_of, speciate
    from core.chemistry.species import species_index, species_names
    from core.chemistry.temperature import factor_to_25_c

_HOMES = {
    "COMPONENTS": "components",
    "REFERENCE_CHARGE": "components",
    "AIR_CO2_ATM": "speciation",
    "OutOfRange": "speciation",
    "Speciation": "speciation",
    "charge_of": "speciation",
    "speciate": "speciation",
    "species_index": "species",
    "species_names": "species",
    "Conductivity": "conductivity",
    "conductivity_by_ion": "conductivity",
    "conductivity_ms_per_cm": "conductivity",
    "kg_water_per_l": "density",
    "kg_water_per_l_at": "density",
    "saturation_indices": "solids",
    "ACIDS_AND_BASES": "acidity",
    "carbonate_from": "acidity",
    "equivalents_per_mol": "acidity",
    "ph_closed_and_aired": "acidity",
    "protons_gained_per_mol": "acidity",
    "share_neutralised": "acidity",
    "titrate": "acidity",
    "vector_of": "acidity",
    "NotConverged": "equilibrium",
    "SolutionError": "solution",
    "factor_to_25_c": "temperature",
}

__all__ = list(_HOMES)  # noqa: PLE0605


def __getattr__(name: str) -> Any:
    home = _HOMES.get(name)
    if home is None:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    value = getattr(import_module(f"{__name__}.{home}"), name)
    globals()[name] = value
    return value
