"""How much water a litre of filled concentrate holds, and what the litre weighs."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

import numpy as np

from core.chemistry.components import COMPONENTS, REFERENCE_CHARGE
from core.chemistry.concentrates.floats import Floats
from core.chemistry.concentrates.resource import volume_table
from core.chemistry.water import density_kg_per_l

FILLED_AT_C = 20.0
_HYDROGEN_KG_PER_MOL = 0.001008
_PHOSPHORUS, _SULFUR = COMPONENTS.index("P"), COMPONENTS.index("S")
CHARGES = np.array([REFERENCE_CHARGE[name] for name in COMPONENTS], dtype=float)
"""(n_components,) ndarray [-] of the reference forms."""
_SQUARED = CHARGES**2


class Filling(NamedTuple):
    """Water and density of filled concentrates, each a (n_tanks,) ndarray [kg/L]."""

    water_kg_per_l: Floats
    density_kg_per_l: Floats


@cache
def _volumes() -> tuple[Floats, Floats, Floats]:
    """Molar masses [kg/mol], limiting volumes [L/mol] and their slopes, in COMPONENTS order."""
    rows = {row.component: row for row in volume_table().components}
    in_order = [rows[name] for name in COMPONENTS]
    columns = ([row.molar_mass_g_per_mol, row.v0_cm3_per_mol, row.slope] for row in in_order)
    mass, volume, slope = np.array(list(columns)).T / 1000.0
    return mass, volume, slope


def fill(contents_mol_per_l: Floats) -> Filling:
    """Water and density of tanks filled to volume at 20 degC, crystal water of the salts counted as water.

    contents_mol_per_l : (n_components, n_tanks) ndarray [mol per litre of filled concentrate].
    Valid to 9 mol/L ionic strength; single salts within 0.4 % of the litre.
    Source: Laliberte 2009, J. Chem. Eng. Data 54, 1725, single salts, taken apart into ions.
    """
    mass, volume, slope = _volumes()
    charge_excess = CHARGES @ contents_mol_per_l
    root = np.sqrt(0.5 * (_SQUARED @ contents_mol_per_l))
    bindable = contents_mol_per_l[_PHOSPHORUS] + contents_mol_per_l[_SULFUR]
    protons = np.minimum(np.maximum(-charge_excess, -contents_mol_per_l[_PHOSPHORUS]), bindable)
    taken = volume @ contents_mol_per_l + root * (slope @ contents_mol_per_l)
    taken += protons * volume_table().bound_proton_cm3_per_mol / 1000.0
    water = density_kg_per_l(FILLED_AT_C) * (1.0 - taken)
    density = water + mass @ contents_mol_per_l - charge_excess * _HYDROGEN_KG_PER_MOL
    return Filling(water, density)
