"""How much water a litre of dilute solution holds, so that mg/L become mol/kg of water without a silent slip."""

from __future__ import annotations

import csv
from functools import cache
from importlib import resources

import numpy as np

from core.chemistry.components import COMPONENTS
from core.chemistry.system import Array, weighted
from core.chemistry.water import density_kg_per_l


@cache
def _volumes() -> Array:
    """Volume each total takes up [L/mol], (components,)."""
    text = resources.files("resources.thermodynamics").joinpath("feed_volumes.csv").read_text(encoding="utf-8")
    table = {row["component"]: float(row["volume_cm3_per_mol"]) for row in csv.DictReader(text.splitlines())}
    return np.array([table[name] for name in COMPONENTS]) / 1000.0


def kg_water_per_l(totals_mol_per_l: Array, temperature_c: Array | float = 25.0) -> Array:
    """Water in a litre of solution, (n,) or scalar array [kg/L].

    totals_mol_per_l : (components, n) or (components,) ndarray [mol/L], rows as `components.COMPONENTS`
    temperature_c : float or (n,) ndarray [degC], 0-40; the ions' volumes are those at 25 degC
    Valid for ionic strength up to 0.2 mol/L, to 0.1 %.
    Source: partial molal volumes, feed_volumes.csv; density of water, Kell 1975.
    """
    return density_kg_per_l(temperature_c) * (1.0 - weighted(_volumes(), np.asarray(totals_mol_per_l)))


def kg_water_per_l_at(totals_mol_per_kg: Array, temperature_c: Array | float = 25.0) -> Array:
    """Water in a litre of solution of known molality, (n,) or scalar array [kg/L]; see `kg_water_per_l`."""
    density = density_kg_per_l(temperature_c)
    return density / (1.0 + density * weighted(_volumes(), totals_mol_per_kg))
