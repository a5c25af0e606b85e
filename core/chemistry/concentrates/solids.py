"""What may come out of a concentrate, and how far from it a tank is.

A salt is measured against its own saturated solution at the same temperature, so single salts saturate exactly where
the handbook says; a mineral against its solubility product.
"""

from __future__ import annotations

from functools import cache, lru_cache
from typing import NamedTuple

import numpy as np

from core.chemistry.concentrates.equilibrium import Model, Rest, model, settle
from core.chemistry.concentrates.floats import Floats
from core.chemistry.concentrates.forms import TRACE_MOL_PER_KG, Forms
from core.chemistry.concentrates.monotone import interpolate
from core.chemistry.concentrates.resource import SolidRow, solid_table
from core.chemistry.concentrates.species import CHARGE, INDEX, IONS, SPECIES
from core.chemistry.water import ZERO_CELSIUS_K

ABSENT = -99.0
"""Saturation index of a solid one of whose ions the tank has none of."""

_LN10 = float(np.log(10.0))
_GAS_J_PER_MOL_K = 8.314462
_TINY = 1e-12


@cache
def solids() -> tuple[SolidRow, ...]:
    """The candidates, in the order of every array of solids."""
    return solid_table().solids


@cache
def _by_id() -> dict[str, SolidRow]:
    return {row.id: row for row in solids()}


class Makeup(NamedTuple):
    """Stoichiometry of the candidates: `ions` (n_solids, n_species), `water` (n_solids, 1), `family` (n_solids,)."""

    ions: Floats
    water: Floats
    family: np.ndarray[tuple[int, ...], np.dtype[np.str_]]


class Reference(NamedTuple):
    """Where solids saturate: ln of ion products by activities and by molalities, (2, n_temperatures, n_solids, 1)."""

    model: Model
    ln_products: Floats


@cache
def makeup() -> Makeup:
    """Stoichiometry as arrays."""
    rows = solids()
    ions = np.zeros((len(rows), len(SPECIES)))
    for place, row in enumerate(rows):
        for name, count in row.ions.items():
            ions[place, INDEX[name]] = count
    water = np.array([[float(row.water)] for row in rows])
    return Makeup(ions, water, np.array([row.family for row in rows]))


def saturation_mol_per_kg(solid: str, temperature_c: float) -> float | None:
    """Solubility of a pure solid in water [mol/kg], None for one known by its solubility product.

    solid : str, an id of `solids()`, else KeyError; temperature_c : float [degC], held within the tabulated range.
    Source: with the row; monotone cubic between tabulated mass per cents.
    """
    table = _by_id()[solid].saturation
    if table is None:
        return None
    percent = interpolate(temperature_c, table.temperature_c, table.mass_percent)
    return 1000.0 * percent / (100.0 - percent) / table.molar_mass_g_per_mol


def _log_k(row: SolidRow, temperature_c: float) -> float:
    t = temperature_c + ZERO_CELSIUS_K
    if row.log_k is not None:
        a, b, c, d = row.log_k
        return float(a + b * t + c / t + d * np.log10(t))
    warmed = (1.0 / 298.15 - 1.0 / t) * 1000.0 / (_GAS_J_PER_MOL_K * _LN10)
    return (row.log_k_25c or 0.0) + row.enthalpy_kj_per_mol * warmed


def _pure(temperature_c: float) -> Floats:
    """(n_species, n_solids) ndarray of the pure saturated solutions [mol/kg]; minerals stand as 1 mol/kg, unused."""
    columns = [saturation_mol_per_kg(row.id, temperature_c) or 1.0 for row in solids()]
    pure: Floats = np.maximum(makeup().ions.T, 0.0) * np.array(columns) + TRACE_MOL_PER_KG
    return pure


@lru_cache(maxsize=64)
def reference(temperatures_c: tuple[float, ...]) -> Reference:
    """Saturation of every candidate at some temperatures [degC]; raises ValueError where there is none."""
    if not temperatures_c:
        raise ValueError("at least one temperature is needed")
    given = model(temperatures_c)
    pure = np.array([_pure(t) for t in temperatures_c])
    none = np.zeros(pure.shape[2])
    acid = np.maximum(-(CHARGE @ pure[:, : len(IONS)]), 0.0)
    products = np.diagonal(_products(settle(Forms(pure, acid, none, none, none), given)), axis1=2, axis2=3).copy()
    for place, row in enumerate(solids()):
        if row.family in ("mineral", "phosphate"):
            products[0, :, place] = [_log_k(row, t) * _LN10 for t in temperatures_c]
    return Reference(given, products[..., None])


def _products(rest: Rest) -> Floats:
    """Logarithms of the ion products by activities and by molalities, (2, n_temperatures, n_solids, n_tanks)."""
    ions, water, _ = makeup()
    products: Floats = ions @ rest.logs
    products[0] += water * rest.ln_water[:, None]
    return products


def saturation(rest: Rest, at: Reference) -> tuple[Floats, Floats]:
    """Saturation index by activities and log10 of the concentration product over its saturated value.

    Returns two (n_temperatures, n_solids, n_tanks) ndarrays [-]; ABSENT where an ion is missing; the second is
    nan for solids without a measured solubility.
    """
    over = _products(rest)
    over -= at.ln_products
    over /= _LN10
    missing = _needed() @ (rest.molality < _TINY) > 0.0
    index, ratio = np.where(missing, ABSENT, over)
    return index, np.where(_unmeasured(), np.nan, ratio)


@cache
def _needed() -> Floats:
    """(n_solids, n_species) ndarray: 1 where a solid is made of a species."""
    return (makeup().ions > 0.0).astype(float)


@cache
def _unmeasured() -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
    return np.array([[row.saturation is None] for row in solids()])
