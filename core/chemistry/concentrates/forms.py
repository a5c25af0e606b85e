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
_LIGANDS = [_AT[name] for name in ("EDTA", "DTPA", "EDDHA", "HBED")]
_BINDING_ORDER = ("Fe3", "Cu", "Zn", "Fe", "Mn", "Ca", "Mg")
"""Metals in the order chelating ligands take them (stability constants, Martell & Smith, NIST 46)."""
_PLAIN = {"K": "K+", "Na": "Na+", "NH4": "NH4+", "NO3": "NO3-", "Cl": "Cl-", "B": "B(OH)3", "urea": "urea"}
_METALS = {"Mg": "Mg+2", "Ca": "Ca+2", "Fe": "Fe+2", "Mn": "Mn+2", "Zn": "Zn+2", "Cu": "Cu+2"}


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
    molality = np.full((len(SPECIES), totals_mol_per_kg.shape[1]), TRACE_MOL_PER_KG)
    for total, form in (_PLAIN | _METALS).items():
        molality[INDEX[form]] += free[_AT[total]]
    molality[INDEX["SO4-2"]] += free[_AT["S"]]
    molality[INDEX["H2PO4-"]] += free[_AT["P"]]
    molality[INDEX["+"]] += free[_AT["inert+"]] + 3.0 * free[_AT["Fe3"]] + np.maximum(bound_charge, 0.0)
    molality[INDEX["-"]] += free[_AT["inert-"]] + 2.0 * free[_AT["Mo"]] + np.maximum(-bound_charge, 0.0)
    carbon, citrate, silicon = (free[_AT[name]] for name in ("C", "citrate", "Si"))
    molality[INDEX["other"]] += carbon + citrate + silicon
    return Forms(molality, -(CHARGES @ totals_mol_per_kg), carbon, citrate, silicon)


def _chelate(totals: Floats) -> tuple[Floats, Floats]:
    """Totals with the chelated metal taken out, and the charge the chelates carry [eq/kg]."""
    ligand = totals[_LIGANDS].sum(axis=0)
    charge = CHARGES[_LIGANDS] @ totals[_LIGANDS]
    if not ligand.any():
        return totals, charge
    free = totals.copy()
    for name in _BINDING_ORDER:
        taken = np.minimum(free[_AT[name]], ligand)
        free[_AT[name]] -= taken
        ligand = ligand - taken
        charge = charge + CHARGES[_AT[name]] * taken
    return free, charge
