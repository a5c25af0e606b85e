"""How much iron stays with its chelate at a feed's pH, while other metals and iron hydroxide compete for it.

Each synthetic ligand binds each metal by its stability constant; protons compete for the ligand, and sulfate,
phosphate, carbonate, citrate and hydroxide for the metals. Iron that the ligand lets go settles as hydroxide and is
lost to roots: "fresh" is what falls out within days, "ferrihydrite" what it turns to within weeks.

Stability constants stand at ionic strength 0 (EDTA) or 0.1 mol/L and are brought to none by the Davies equation, by
which the 25.0 of iron EDTA at 0.1 become 27.6, 27.7 as tabulated. Ligands and chelates follow Davies in the feed, too,
metals and protons the feed's own activities. The constants hold for 25 degC: how they change with temperature is known
for EDTA only and left out. Left out too: iron(II), which oxidises in an aired feed; acid forms of the chelates of EDDHA
and HBED; zinc with EDDHA, for which no constant was found; the o,p isomers of technical EDDHA, which hold iron less
well.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources
from typing import Literal, NamedTuple

import numpy as np

from core.chemistry.components import COMPONENTS, REFERENCE_CHARGE
from core.chemistry.ligand_balance import LigandBalance
from core.chemistry.speciation import Speciation
from core.chemistry.species import CHELATORS, GAS_CONSTANT_KJ, all_species, species_index
from core.chemistry.system import LN10, Array, Rows
from core.chemistry.water import ZERO_CELSIUS_K, debye_hueckel

Hydroxide = Literal["fresh", "ferrihydrite"]

HYDROXIDES: dict[Hydroxide, float] = {"fresh": 4.891, "ferrihydrite": 3.191}
"""Log10 K at 25 degC of Fe(OH)3 + 3 H+ = Fe+3 + 3 H2O. Fresh: USGS PHREEQC phreeqc.dat 3.7.3, amorphous (READ).
Ferrihydrite: USEPA MINTEQA2 v4 (READ). Tables spread from 1.2 (crystalline) to 4.9: an order of magnitude at best."""

HYDROXIDE_ENTHALPY_KJ = -73.374
"""Enthalpy of that reaction [kJ/mol]: ferrihydrite, USEPA MINTEQA2 v4 (READ); taken for fresh hydroxide as well."""

METALS = ("Fe3", "Cu", "Zn", "Mn", "Ca", "Mg")
METAL_IONS = ("Fe+3", "Cu+2", "Zn+2", "Mn+2", "Ca+2", "Mg+2")
SYNTHETIC = tuple(name for name in COMPONENTS if name in CHELATORS)
MASTERS = {"P": "PO4-3", "S": "SO4-2", "C": "CO3-2", "Cl": "Cl-", "citrate": "Citrate-3"}
"""What metals are held by besides the synthetic ligands, and the ion their constants are written with."""

_TRACES, _HARD = slice(1, 4), slice(4, 6)
"""Among `METALS`: copper, zinc, manganese; calcium, magnesium."""

_METAL_ROWS = [COMPONENTS.index(name) for name in METALS]
_LIGAND_ROWS = [COMPONENTS.index(name) for name in SYNTHETIC]


@dataclass(frozen=True, eq=False)
class Chelation:
    """Where the iron and the ligands are in n solutions.

    `held` (metals, ligands, n) [mol/kg]: rows as `METALS`, columns as `SYNTHETIC`;
    `iron_chelated`, `iron_settled` (n,): shares of all ferric iron [-], NaN where there is none.
    """

    held: Array
    iron_chelated: Array
    iron_settled: Array


@dataclass(frozen=True, eq=False)
class _Complexes:
    """Stability constants (c,): protons, log beta at no ionic strength, z^2 of the complex less that of the ligand.

    `of_metal` (c, metals), `alone` (ligands, c), `held` (metals ligands, c): which metal, which count where.
    """

    protons: Array
    log_beta: Array
    charges: Array
    of_metal: Array
    alone: Array
    held: Array


@cache
def _complexes() -> _Complexes:
    text = resources.files("resources.thermodynamics").joinpath("feed_chelate_constants.csv").read_text("utf-8")
    rows = list(csv.DictReader(text.splitlines()))
    protons = np.array([float(row["protons"]) for row in rows])
    strength = np.array([float(row["ionic_strength_mol_per_l"]) for row in rows])
    of_ligand = np.array([float(REFERENCE_CHARGE[row["ligand"]]) for row in rows])
    of_metal = np.array([float(REFERENCE_CHARGE.get(row["metal"], 0)) for row in rows])
    charges = (of_ligand + of_metal + protons) ** 2 - of_ligand**2
    rise = debye_hueckel(25.0)[0] * (charges - of_metal**2 - protons) * _davies(strength)
    pairs = [(metal, ligand) for metal in METALS for ligand in SYNTHETIC]
    return _Complexes(
        protons=protons,
        log_beta=np.array([float(row["log_beta"]) for row in rows]) - rise,
        charges=charges,
        of_metal=np.array([[float(row["metal"] == metal) for metal in METALS] for row in rows]),
        alone=np.array([[float(row["ligand"] == one and not row["metal"]) for row in rows] for one in SYNTHETIC]),
        held=np.array([[float((row["metal"], row["ligand"]) == pair) for row in rows] for pair in pairs]),
    )


@dataclass(frozen=True, eq=False)
class _SideForms:
    """Forms of the metals without synthetic ligands: their rows, exponents of H+ and the masters, metal of each."""

    rows: Rows
    exponents: Array
    log_k_terms: Array
    of_metal: Array
    masters: Rows
    free: Rows


@cache
def _side_forms() -> _SideForms:
    listed = [
        (row, one)
        for row, one in enumerate(all_species())
        if one.contains.keys() & set(METALS) and not one.contains.keys() & (CHELATORS | {"NO3"})
    ]
    exponents = [[float(one.protons), *(float(one.contains.get(t, 0)) for t in MASTERS)] for _, one in listed]
    return _SideForms(
        rows=np.array([row for row, _ in listed], dtype=np.intp),
        exponents=np.array(exponents),
        log_k_terms=np.array([one.log_k_terms for _, one in listed]),
        of_metal=np.array([[float(metal in one.contains) for _, one in listed] for metal in METALS]),
        masters=np.array([species_index()[name] for name in ("H+", *MASTERS.values())], dtype=np.intp),
        free=np.array([species_index()[name] for name in METAL_IONS], dtype=np.intp),
    )


@lru_cache(maxsize=64)
def _side_log_k(temperature_c: float) -> Array:
    kelvin = temperature_c + ZERO_CELSIUS_K
    powers = np.array([1.0, kelvin, 1.0 / kelvin, np.log10(kelvin), kelvin**-2, kelvin**2])
    log_k: Array = (_side_forms().log_k_terms @ powers)[:, None]
    return log_k


def _side_coefficients(speciation: Speciation) -> Array:
    """Unchelated metal over its free ion, (metals, n)."""
    side = _side_forms()
    activity = np.maximum(speciation.log10_activity[side.masters], -300.0)
    gamma = speciation.log10_gamma
    log_form = _side_log_k(speciation.one_temperature_c) + side.exponents @ activity - gamma[side.rows]
    sums: Array = side.of_metal @ 10.0 ** np.minimum(log_form, 250.0) * 10.0 ** gamma[side.free]
    return sums


def _conditional(speciation: Speciation) -> tuple[Array, Array]:
    """Ligand not held by a metal over its bare form (ligands, n), and constants per bare form (metals, ligands, n)."""
    table = _complexes()
    log_gamma = speciation.log10_gamma[_side_forms().free]
    charged = debye_hueckel(25.0)[0] * _davies(speciation.ionic_strength_mol_per_kg)
    log_beta = table.log_beta[:, None] + table.of_metal @ log_gamma + table.charges[:, None] * charged
    beta = 10.0 ** (log_beta - table.protons[:, None] * speciation.ph)
    held = (table.held @ beta).reshape(len(METALS), len(SYNTHETIC), -1)
    return 1.0 + table.alone @ beta, held


def _davies(strength: Array) -> Array:
    root = np.sqrt(strength)
    term: Array = root / (1.0 + root) - 0.3 * strength
    return term


class Conditions(NamedTuple):
    """What decides who holds the iron in n solutions, whatever metals and ligands there are of.

    alone : (ligands, n) ndarray, ligand not held by a metal over its bare form [-]
    constants : (metals, ligands, n) ndarray, what is held over bare ligand times free metal [kg/mol]
    side : (metals, n) ndarray, unchelated metal over free metal [-]
    most_iron : (n,) ndarray, free ferric iron beside its hydroxide [mol/kg]
    """

    alone: Array
    constants: Array
    side: Array
    most_iron: Array


def conditions(speciation: Speciation, hydroxide: Hydroxide = "fresh") -> Conditions:
    """The conditions of a feed; arguments as `iron_chelation`."""
    alone, constants = _conditional(speciation)
    return Conditions(alone, constants, _side_coefficients(speciation), _iron_over_hydroxide(speciation, hydroxide))


def iron_chelation(
    speciation: Speciation, hydroxide: Hydroxide = "fresh", totals_mol_per_kg: Array | None = None
) -> Chelation:
    """Share metals and ligands out by their stability constants, iron hydroxide settling where it must.

    speciation : the feed with its pH; who holds the ligands there is not used
    hydroxide : which solid lets go of the iron, see `HYDROXIDES`
    totals_mol_per_kg : (components, n) ndarray [mol/kg], what metals and ligands there are in n cases of one feed whose
        pH and other ions stay as they are; None for the feed's own
    Valid for pH 4.5-9, ionic strength up to 0.1 mol/kg, about 25 degC.
    Source: feed_chelate_constants.csv.
    Example: EDTA keeps 75 % of its iron at pH 7 in a tomato feed at 20 degC, 97 % at pH 6.
    """
    totals = speciation.totals_mol_per_kg if totals_mol_per_kg is None else totals_mol_per_kg
    return shared_out(conditions(speciation, hydroxide), totals)


def shared_out(given: Conditions, totals_mol_per_kg: Array) -> Chelation:
    """As `iron_chelation`, conditions known; totals (components, n) ndarray [mol/kg]."""
    alone, constants, side, most_iron = given
    metals, ligands = totals_mol_per_kg[_METAL_ROWS], totals_mol_per_kg[_LIGAND_ROWS]
    held = np.zeros((*constants.shape[:2], metals.shape[1]))
    settled = np.full(metals.shape[1], np.nan)
    beside: dict[tuple[int, bytes, bytes], Array] = {}
    for column in range(len(settled)):
        use, at = np.flatnonzero(ligands[:, column]), 0 if len(most_iron) == 1 else column
        one = metals[:, column], side[:, at], alone[use, at], constants[:, use, at], ligands[use, column]
        # beside its hydroxide free iron is what it is, so cases that differ in iron alone are shared out once
        alike = at, ligands[:, column].tobytes(), metals[1:, column].tobytes()
        if alike not in beside:
            beside[alike] = _share_out(*one, float(most_iron[at]))
        held[:, use, column], settled[column] = _one(*one, float(most_iron[at]), beside[alike])
    with np.errstate(invalid="ignore"):
        return Chelation(held, held[0].sum(axis=0) / metals[0], settled / metals[0])


def iron_surely_held(given: Conditions, totals_mol_per_kg: Array) -> list[float]:
    """No less iron than this is held by ligands [mol/kg], in each of n cases of one feed; far quicker than all of it.

    given : of the one feed; totals_mol_per_kg : (components, n) ndarray [mol/kg]
    """
    alone, constants, side, most_iron = given
    fixed = alone[:, 0].tolist(), constants[:, :, 0].tolist(), side[:, 0].tolist(), float(most_iron[0])
    cases = zip(totals_mol_per_kg[_METAL_ROWS].T.tolist(), totals_mol_per_kg[_LIGAND_ROWS].T.tolist(), strict=True)
    return [_surely_held(*fixed, metals, ligands) for metals, ligands in cases]


def _surely_held(
    alone: list[float],
    constants: list[list[float]],
    side: list[float],
    most_iron: float,
    metals: list[float],
    ligands: list[float],
) -> float:
    """A lower bound of the iron that ligands hold [mol/kg], other metals taking all of them that they ever could.

    Beside hydroxide free iron is at its most. Calcium and magnesium are free at most as if no ligand held them; a trace
    metal is, too, or else takes no more of a ligand than there is of the metal. Without hydroxide all iron is held but
    for what goes with less free iron than that.
    """
    free = [metal / share for metal, share in zip(metals, side, strict=True)]
    held = 0.0
    for place, ligand in enumerate(ligands):
        if ligand > 0.0:
            iron = constants[0][place] * most_iron
            loads = [of_metal[place] * most for of_metal, most in zip(constants, free, strict=True)]
            others = alone[place] + sum(loads[_HARD])
            as_free = ligand / (others + sum(loads[_TRACES]) + iron)
            as_taken = (ligand - sum(metals[_TRACES])) / (others + iron)
            held += iron * max(as_free, as_taken)
    return max(min(held, metals[0] - most_iron * side[0]), 0.0)


def _iron_over_hydroxide(speciation: Speciation, hydroxide: Hydroxide) -> Array:
    """Free ferric iron beside its hydroxide, (n,) [mol/kg]."""
    kelvin = speciation.one_temperature_c + ZERO_CELSIUS_K
    rise = HYDROXIDE_ENTHALPY_KJ / (GAS_CONSTANT_KJ * LN10) * (1.0 / (ZERO_CELSIUS_K + 25.0) - 1.0 / kelvin)
    log_k = HYDROXIDES[hydroxide] + rise
    iron: Array = 10.0 ** (log_k - 3.0 * speciation.ph - speciation.log10_gamma[species_index()["Fe+3"]])
    return iron


def _one(
    metals: Array, side: Array, alone: Array, constants: Array, ligands: Array, most_iron: float, beside: Array
) -> tuple[Array, float]:
    """One solution: what each ligand holds of each metal [mol/kg], and the iron that settles [mol/kg].

    beside : (metals, ligands) what they would hold beside iron hydroxide
    """
    settled = float(metals[0] - beside[0].sum() - most_iron * side[0])
    if settled >= 0.0:
        return beside, settled
    return _share_out(metals, side, alone, constants, ligands, None), 0.0


def _share_out(metals: Array, side: Array, alone: Array, constants: Array, ligands: Array, iron: float | None) -> Array:
    """Share metals out to ligands, (metals, ligands) [mol/kg].

    `iron` is free ferric iron [mol/kg] where its hydroxide holds it; None where all of it is dissolved.
    """
    if not len(ligands):
        return np.zeros_like(constants)
    first = 0 if iron is None else 1
    linear = alone + (iron or 0.0) * constants[0]
    balance = LigandBalance(linear.tolist(), ligands.tolist(), constants[first:].tolist(), metals[first:], side[first:])
    bare = np.exp(balance.solved())
    free = metals / (side + constants @ bare)
    if iron is not None:
        free[0] = iron
    held: Array = constants * bare * free[:, None]
    return held
