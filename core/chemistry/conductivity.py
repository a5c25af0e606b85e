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
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from importlib import resources
from typing import Any

import numpy as np

from core.chemistry.density import kg_water_per_l_at
from core.chemistry.speciation import Speciation, speciate
from core.chemistry.species import all_species
from core.chemistry.system import Array, product, weighted
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
class _Table:
    """Limiting conductivities of all species at 25 degC and their doubt, (species, 1) [S cm2/mol], 0 for molecules.

    `warming` (species, 4): share of the former per t^2, t and 1, and of water's fluidity over that at 25 degC;
    `charge` (species, 1): size of the charge; `cation`, `anion` (species, 1): 1 for such.
    """

    at_25_c: Array
    doubt: Array
    warming: Array
    charge: Array
    cation: Array
    anion: Array


@cache
def _table() -> _Table:
    text = resources.files("resources.thermodynamics").joinpath("feed_conductivity.csv").read_text(encoding="utf-8")
    rows = {row["species"]: row for row in csv.DictReader(text.splitlines())}
    charge = np.array([[float(one.charge)] for one in all_species()])
    told = np.zeros((len(charge), 6))
    for place, one in enumerate(all_species()):
        if one.charge:
            row = rows[one.name]
            told[place] = *(float(row[name] or 0.0) for name in _COLUMNS), not row["l0"]
    own = told[:, 2:5] @ np.array([[625.0], [25.0], [1.0]])
    return _Table(
        at_25_c=told[:, 0:1],
        doubt=told[:, 1:2],
        warming=np.hstack([told[:, 2:5] / np.where(own == 0.0, 1.0, own), told[:, 5:]]),
        charge=np.abs(charge),
        cation=(charge > 0.0).astype(np.float64),
        anion=(charge < 0.0).astype(np.float64),
    )


_COLUMNS = ("lambda0_s_cm2_per_mol_25c", "plus_minus", "l2", "l1", "l0")


@dataclass(frozen=True, eq=False)
class _Ions:
    """What the equation needs to know at one temperature, w = n = 1, or at those of n solutions, w = 4.

    `slowed` (species, w + 1): what `warmth` (w, n) turns into limiting conductivities [S cm2/mol], by the ion's own
    polynomial or as water's fluidity, then squared charges; `sums` (5 + 2 w, species): number and charge of cations
    and of anions, twice the ionic strength, what `warmth` turns into the conductivity of cations and of anions;
    `relaxation`, `drag`, `cloud`: number or (n,).
    """

    slowed: Array
    warmth: Array
    sums: Array
    relaxation: Array | float
    drag: Array | float
    cloud: Array | float


def _ions(at_c: Array | float) -> _Ions:
    if isinstance(at_c, np.ndarray):
        return _ions_of(_table().at_25_c * _table().warming, _warmth(at_c), at_c)
    return _ions_at(float(at_c))


@lru_cache(maxsize=32)
def _ions_at(at_c: float) -> _Ions:
    ions = _ions_of(_table().at_25_c * (_table().warming @ _warmth(np.array([at_c]))), np.ones((1, 1)), at_c)
    return replace(ions, relaxation=float(ions.relaxation), drag=float(ions.drag), cloud=float(ions.cloud))


def _warmth(at_c: Array) -> Array:
    return np.array([at_c**2, at_c, np.ones_like(at_c), viscosity_mpa_s(25.0) / viscosity_mpa_s(at_c)])


def _ions_of(limiting: Array, warmth: Array, at_c: Array | float) -> _Ions:
    table = _table()
    number_and_charge = np.hstack([table.cation, table.cation * table.charge, table.anion, table.anion * table.charge])
    permitted = relative_permittivity(at_c) * (at_c + ZERO_CELSIUS_K)
    return _Ions(
        slowed=np.hstack([limiting, table.charge**2]),
        warmth=warmth,
        sums=np.hstack([number_and_charge, table.charge**2, table.cation * limiting, table.anion * limiting]).T.copy(),
        relaxation=2.801e6 / permitted**1.5,
        drag=41.25 / (viscosity_mpa_s(at_c) * 0.01 * permitted**0.5),
        cloud=50.2916 / permitted**0.5 * ION_SIZE_ANGSTROM,
    )


def _sums(ions: _Ions, speciation: Speciation, water: Array) -> Array:
    """The seven sums of the equation, (7, n) [per litre]."""
    sums = product(ions.sums, speciation.molality)
    sums *= water
    if len(ions.warmth) == 1:
        return sums
    carried = sums[5:].reshape(2, len(ions.warmth), -1) * ions.warmth
    return np.vstack([sums[:5], carried.sum(axis=1)])


def conductivity_ms_per_cm(speciation: Speciation, at_c: Array | float = 25.0) -> Array:
    """Conductivity of a solution brought to a temperature, (n,) [mS/cm].

    speciation : the solution; speciated anew, its protons and carbon kept, if it was speciated at another temperature
    at_c : float or (n,) ndarray [degC], 0-40, temperature of the solution when it is measured; meters refer to 25
    Source: see the module; 0.01 mol/L KCl 1.415 against 1.412 measured.
    """
    speciation = _brought_to(speciation, at_c)
    ions = _ions(at_c)
    sums = _sums(ions, speciation, kg_water_per_l_at(speciation.totals_mol_per_kg, at_c))
    return _conductivity(ions, sums)[0]


def conductivity_by_ion(speciation: Speciation, at_c: Array | float = 25.0) -> Conductivity:
    """Conductivity with each species' share and the model band; arguments as `conductivity_ms_per_cm`."""
    speciation = _brought_to(speciation, at_c)
    ions = _ions(at_c)
    water = kg_water_per_l_at(speciation.totals_mol_per_kg, at_c)
    sums = _sums(ions, speciation, water)
    ec, reach, relaxing = _conductivity(ions, sums)
    rows = len(ions.warmth)
    slowed = np.empty((rows + 1, len(ec)))
    slowed[:rows], slowed[rows] = ions.warmth, -ions.drag * reach
    share = product(ions.slowed, slowed)
    share *= speciation.molality
    share *= relaxing * water / ec
    unknown = 100.0 * weighted(_table().doubt[:, 0], speciation.molality) * water / ec
    model = np.where(speciation.beyond_range, BEYOND_BAND_PERCENT, MODEL_BAND_PERCENT)
    return Conductivity(ec, share, np.hypot(model, unknown))


def _brought_to(speciation: Speciation, at_c: Array | float) -> Speciation:
    """The same solutions at another temperature."""
    own = speciation.temperature_c
    if own is at_c or (isinstance(own, float) and isinstance(at_c, float) and own == at_c) or np.array_equal(own, at_c):
        return speciation
    paired = bool(speciation.of("KNO3").any() or speciation.of("CaNO3+").any())
    return speciate(
        speciation.totals_mol_per_kg,
        at_c,
        alkalinity_eq_per_kg=speciation.alkalinity_eq_per_kg,
        nitrate_pairs=paired,
    )


def _conductivity(ions: _Ions, sums: Array) -> tuple[Array, Any, Any]:
    """Sum over the ions of the module's equation (n,), its r and its 1 - B1 r, from the seven sums."""
    plain: Any = sums[:, 0].tolist() if sums.shape[1] == 1 else sums  # numbers are quicker than arrays of one
    cations, positive, anions, negative, squares, l_cations, l_anions = plain
    root = (0.5 * squares) ** 0.5
    zp, lp, zn, ln = positive / cations, l_cations / positive, negative / anions, l_anions / negative
    charges = zp * zn
    q = charges / (zp + zn) * (lp + ln) / (zp * ln + zn * lp)
    reach = root / (1.0 + ions.cloud * root)
    relaxing = 1.0 - ions.relaxation * charges * q / (1.0 + q**0.5) * reach
    ec = (l_cations + l_anions - ions.drag * reach * squares) * relaxing
    return (np.array([ec]) if sums.shape[1] == 1 else ec), reach, relaxing
