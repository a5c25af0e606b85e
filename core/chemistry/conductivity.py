"""Electrical conductivity of a feed from its ions, with the share of each ion and an honest band.

Each ion starts from its limiting conductivity and is slowed by the drag of its counter-ions and by their cloud
lagging behind (Debye, Hueckel, Onsager; Falkenhagen's product form for a finite ion size):

    lambda_i = (lambda0_i - B2 |z_i| r) (1 - B1 r),   r = sqrt I / (1 + B a sqrt I),   a = 4 angstrom
    B1 = 2.801e6 |z+ z-| q / ((eps T)^1.5 (1 + sqrt q)),   B2 = 41.25 / (eta (eps T)^0.5)
    q = |z+ z-| / (|z+| + |z-|) * (l+ + l-) / (|z+| l- + |z-| l+)

with I and B per litre, lambda per equivalent, eta in poise. For a mixture z+ and z- are the mean charges of the
cations and of the anions, by number, l+ and l- their mean conductivities, by equivalents. The full theory of
mixtures (Onsager & Fuoss 1932) reads about 1 % lower on feeds; measured single salts cannot tell them apart.
Source: Robinson & Stokes 1959, chapter 7; Falkenhagen 1971. Valid for ionic strength up to 0.1 mol/kg.
"""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from typing import Any

import numpy as np

from core.chemistry.density import kg_water_per_l_at
from core.chemistry.speciation import Speciation, speciate
from core.chemistry.species import all_species
from core.chemistry.system import Array, Rows
from core.chemistry.water import ZERO_CELSIUS_K, relative_permittivity, viscosity_mpa_s

ION_SIZE_ANGSTROM = 4.0
"""One size for all ions in the conductivity equation; activities use each ion's own."""

MODEL_BAND_PERCENT = 2.0
"""How far the model may be off for an exactly known composition."""

BEYOND_BAND_PERCENT = 5.0
"""The same above an ionic strength of 0.1 mol/kg."""


@dataclass(frozen=True, eq=False)
class Conductivity:
    """Conductivity of n solutions: [mS/cm], each species' share of it (species, n), and the model band +- [%]."""

    ec_ms_per_cm: Array
    share: Array
    band_percent: Array


@dataclass(frozen=True, eq=False)
class _Ions:
    """Charged species at a temperature, and the sums over them that the equation needs.

    `rows` (ions,): in the full list; `charge`, `limiting`, `doubt` (ions, 1): size of the charge, limiting
    conductivity and its doubt [S cm2/mol]; `sums` (7, species): number, charge and conductivity of cations, of
    anions, and twice the ionic strength.
    """

    rows: Rows
    charge: Array
    limiting: Array
    doubt: Array
    sums: Array
    relaxation: float
    drag: float
    cloud: float


@lru_cache(maxsize=32)
def _ions(at_c: float) -> _Ions:
    text = resources.files("resources.thermodynamics").joinpath("feed_conductivity.csv").read_text(encoding="utf-8")
    table = {row["species"]: row for row in csv.DictReader(text.splitlines())}
    charged = [(row, one) for row, one in enumerate(all_species()) if one.charge]
    rows = np.array([row for row, _ in charged], dtype=np.intp)
    charge = np.array([float(abs(one.charge)) for _, one in charged])
    limiting = np.array([_limiting(table[one.name], at_c) for _, one in charged])
    cation = np.array([float(one.charge > 0) for _, one in charged])
    triple = np.array([np.ones_like(charge), charge, limiting])
    sums = np.zeros((7, len(all_species())))
    sums[:, rows] = np.vstack([triple * cation, triple * (1.0 - cation), charge**2])
    product = relative_permittivity(at_c) * (at_c + ZERO_CELSIUS_K)
    return _Ions(
        rows=rows,
        charge=charge[:, None],
        limiting=limiting[:, None],
        doubt=np.array([[float(table[one.name]["plus_minus"] or 0.0)] for _, one in charged]),
        sums=sums,
        relaxation=2.801e6 / product**1.5,
        drag=41.25 / (viscosity_mpa_s(at_c) * 0.01 * math.sqrt(product)),
        cloud=50.2916 / math.sqrt(product) * ION_SIZE_ANGSTROM,
    )


def _limiting(row: dict[str, str], at_c: float) -> float:
    """Limiting conductivity [S cm2/mol] at a temperature: by the ion's own polynomial, else as water's fluidity."""
    at_25 = float(row["lambda0_s_cm2_per_mol_25c"])
    if not row["l0"]:
        return at_25 * viscosity_mpa_s(25.0) / viscosity_mpa_s(at_c)
    l2, l1, l0 = float(row["l2"]), float(row["l1"]), float(row["l0"])
    return at_25 * (l2 * at_c**2 + l1 * at_c + l0) / (l2 * 625.0 + l1 * 25.0 + l0)


def conductivity_ms_per_cm(speciation: Speciation, at_c: float = 25.0) -> Array:
    """Conductivity of a solution brought to a temperature, (n,) [mS/cm].

    speciation : the solution; speciated anew, its protons and carbon kept, if it was speciated at another temperature
    at_c : float [degC], 0-40, temperature of the solution when it is measured; 25 is what meters are referred to
    Source: see the module; 0.01 mol/L KCl 1.415 against 1.412 measured.
    """
    speciation = _brought_to(speciation, at_c)
    ions = _ions(float(at_c))
    sums = ions.sums.dot(speciation.molality) * kg_water_per_l_at(speciation.totals_mol_per_kg, at_c)
    if sums.shape[1] == 1:
        return np.array([_conductivity(ions, sums[:, 0].tolist())])
    ec: Array = _conductivity(ions, sums)
    return ec


def conductivity_by_ion(speciation: Speciation, at_c: float = 25.0) -> Conductivity:
    """Conductivity with each species' share and the model band; arguments as `conductivity_ms_per_cm`."""
    speciation = _brought_to(speciation, at_c)
    ions = _ions(float(at_c))
    water = kg_water_per_l_at(speciation.totals_mol_per_kg, at_c)
    molar = speciation.molality[ions.rows] * water
    reach, slowing = _slowing(ions, ions.sums.dot(speciation.molality) * water)
    parts = (ions.limiting - ions.drag * reach * ions.charge**2) * (1.0 - slowing * reach) * molar
    ec = parts.sum(axis=0)
    share = np.zeros_like(speciation.molality)
    share[ions.rows] = parts / ec
    model = np.where(speciation.beyond_range, BEYOND_BAND_PERCENT, MODEL_BAND_PERCENT)
    unknown = 100.0 * (ions.doubt * molar).sum(axis=0) / ec
    return Conductivity(ec, share, np.hypot(model, unknown))


def _brought_to(speciation: Speciation, at_c: float) -> Speciation:
    """The same solutions at another temperature."""
    if speciation.temperature_c == at_c:
        return speciation
    paired = bool(speciation.of("KNO3").any() or speciation.of("CaNO3+").any())
    return speciate(
        speciation.totals_mol_per_kg,
        at_c,
        alkalinity_eq_per_kg=speciation.alkalinity_eq_per_kg,
        nitrate_pairs=paired,
    )


def _conductivity(ions: _Ions, sums: Any) -> Any:
    """Sum over the ions of the module's equation, for seven sums [per litre] that are numbers or (n,) arrays."""
    reach, slowing = _slowing(ions, sums)
    return (sums[2] + sums[5] - ions.drag * reach * sums[6]) * (1.0 - slowing * reach)


def _slowing(ions: _Ions, sums: Any) -> tuple[Any, Any]:
    """Return r and B1 of the module's equation."""
    root = (0.5 * sums[6]) ** 0.5
    zp, lp, zn, ln = sums[1] / sums[0], sums[2] / sums[1], sums[4] / sums[3], sums[5] / sums[4]
    product = zp * zn
    q = product / (zp + zn) * (lp + ln) / (zp * ln + zn * lp)
    return root / (1.0 + ions.cloud * root), ions.relaxation * product * q / (1.0 + q**0.5)
