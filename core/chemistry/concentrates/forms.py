"""From totals to forms: chelates take their metal, acid goes to sulfate and phosphate, the rest stands as ions."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from core.chemistry.components import COMPONENTS
from core.chemistry.concentrates.filling import CHARGES
from core.chemistry.concentrates.floats import Floats
from core.chemistry.concentrates.species import INDEX, SPECIES

TRACE_MOL_PER_KG = 1e-30
"""Stands for nothing, so that logarithms exist."""

_AT = {name: place for place, name in enumerate(COMPONENTS)}
_LIGANDS = np.array([_AT[name] for name in ("EDTA", "DTPA", "EDDHA", "HBED")])
_BINDING_ORDER = ("Fe3", "Cu", "Zn", "Fe", "Mn", "Ca", "Mg")
"""Metals in the order chelating ligands take them (stability constants, Martell & Smith, NIST 46)."""
_PLAIN = {"K": "K+", "Na": "Na+", "NH4": "NH4+", "NO3": "NO3-", "Cl": "Cl-", "B": "B(OH)3", "urea": "urea"}
_METALS = {"Mg": "Mg+2", "Ca": "Ca+2", "Fe": "Fe+2", "Mn": "Mn+2", "Zn": "Zn+2", "Cu": "Cu+2"}
_UNKNOWN = {"inert+": ("+", 1.0), "Fe3": ("+", 3.0), "inert-": ("-", 1.0), "Mo": ("-", 2.0)}
_NEUTRAL = ("C", "citrate", "Si")
_METAL_ROWS = np.array([_AT[name] for name in _BINDING_ORDER])


def _stands_as() -> Floats:
    """How totals stand in the tank before their acid is shared out, (n_species, n_components) [mol/mol]."""
    table = np.zeros((len(SPECIES), len(COMPONENTS)))
    for total, form in (_PLAIN | _METALS | {"S": "SO4-2", "P": "H2PO4-"} | dict.fromkeys(_NEUTRAL, "other")).items():
        table[INDEX[form], _AT[total]] = 1.0
    for total, (form, charge) in _UNKNOWN.items():
        table[INDEX[form], _AT[total]] = charge
    return table


_STANDS_AS = _stands_as()
_OF_LIGANDS = np.zeros((2, len(COMPONENTS)))
_OF_LIGANDS[0, _LIGANDS], _OF_LIGANDS[1, _LIGANDS] = 1.0, CHARGES[_LIGANDS]
"""Sum of the ligands, and the charge they carry."""


class Forms(NamedTuple):
    """Tanks before their acid is shared out, per kg of water.

    molality : (n_species, n_tanks) ndarray [mol/kg], sulfur as SO4-2, phosphorus as H2PO4-; the rest (n_tanks,)
    ndarrays [mol/kg]: `acid` strong acid (base where negative) to share out, `carbon`, `citrate`, `silicon` totals.
    Any of them may have one more axis in front, by temperature.
    """

    molality: Floats
    acid: Floats
    carbon: Floats
    citrate: Floats
    silicon: Floats


def share_out(totals_mol_per_kg: Floats) -> Forms:
    """Forms of tanks whose totals are known.

    totals_mol_per_kg : (n_components, n_tanks) ndarray [mol/kg water], COMPONENTS order, 0 or above.
    """
    free, bound_charge = _chelate(totals_mol_per_kg)
    molality = _STANDS_AS @ free + TRACE_MOL_PER_KG
    if bound_charge is not None:
        molality[INDEX["+"]] += np.maximum(bound_charge, 0.0)
        molality[INDEX["-"]] += np.maximum(-bound_charge, 0.0)
    carbon, citrate, silicon = (free[_AT[name]] for name in _NEUTRAL)
    return Forms(molality, -(CHARGES @ totals_mol_per_kg), carbon, citrate, silicon)


def _chelate(totals: Floats) -> tuple[Floats, Floats | None]:
    """Totals with the chelated metal taken out, and the charge the chelates carry [eq/kg]; None without any."""
    ligand, charge = _OF_LIGANDS @ totals
    if not ligand.any():
        return totals, None
    metals = totals[_METAL_ROWS]
    asked = np.cumsum(metals, axis=0)
    taken = np.minimum(metals, np.maximum(ligand - (asked - metals), 0.0))
    free = totals.copy()
    free[_METAL_ROWS] = metals - taken
    return free, charge + CHARGES[_METAL_ROWS] @ taken
