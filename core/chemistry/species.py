"""The ions, pairs and molecules of a feed, read once from the table of constants."""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass
from functools import cache
from importlib import resources

from core.chemistry.components import REFERENCE_CHARGE
from core.chemistry.water import ZERO_CELSIUS_K

GAS_CONSTANT_KJ = 8.314462618e-3
"""Molar gas constant [kJ/mol/K], CODATA 2018."""

LIGANDS = ("S", "P", "C", "citrate", "Cl", "NO3")
"""Totals whose ions pair with several cations: these are the unknowns of the solver."""

CHELATORS = frozenset({"EDTA", "DTPA", "EDDHA", "HBED"})
"""Synthetic ligands: what they hold is settled before the rest, by order of strength."""

NITRATE_PAIRS = frozenset({"KNO3", "CaNO3+"})
"""Pairs that are only counted when asked for."""


@dataclass(frozen=True)
class Species:
    """One dissolved form: its charge, what it is made of and its constants.

    `contains`: amount of each total [mol/mol]; `protons`: H+ taken up when formed from the master ions;
    `protons_gained`: protons beyond the reference forms of what it contains (its part of minus the alkalinity);
    `log_k_terms`: A1..A6 of log10 K = A1 + A2 T + A3/T + A4 log10 T + A5/T^2 + A6 T^2, T in kelvin, formation from
    the master ions; `ion_size_angstrom` None: Davies equation for an ion, 0.1 I for a molecule.
    """

    name: str
    charge: int
    contains: dict[str, int]
    protons: int
    protons_gained: int
    log_k_terms: tuple[float, ...]
    ion_size_angstrom: float | None
    b_kg_per_mol: float


@dataclass(frozen=True)
class Chelate:
    """A metal held by a synthetic ligand (or the ligand left alone, `metal` empty), in order of strength."""

    name: str
    charge: int
    metal: str
    ligand: str


def _rows(name: str) -> list[dict[str, str]]:
    text = resources.files("resources.thermodynamics").joinpath(name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def _own_terms(row: dict[str, str]) -> tuple[float, ...]:
    """Coefficients A1..A6 of a row, from its fitted polynomial or from log K and enthalpy at 25 degC."""
    if row["log_k_of_temperature"]:
        given = [float(text) for text in row["log_k_of_temperature"].split()]
        return tuple(given + [0.0] * (6 - len(given)))
    enthalpy = float(row["enthalpy_kj_per_mol"] or 0.0) / (GAS_CONSTANT_KJ * math.log(10.0))
    return (float(row["log_k_25c"]) + enthalpy / (ZERO_CELSIUS_K + 25.0), 0.0, -enthalpy, 0.0, 0.0, 0.0)


def _parts(text: str) -> dict[str, int]:
    return {name: int(count) for name, _, count in (item.rpartition("=") for item in text.split(";"))}


def _species(row: dict[str, str], known: dict[str, Species]) -> Species:
    """Build one species; what it is formed from must stand above it in the table."""
    name, charge, terms = row["species"], int(row["charge"]), _own_terms(row)
    contains: dict[str, int] = {row["component"]: 1} if row["component"] else {}
    protons = 0
    for part, count in _parts(row["formed_from"]).items():
        if part == name:
            continue
        if part == "H+":
            protons += count
            continue
        other = known[part]
        protons += count * other.protons
        terms = tuple(own + count * more for own, more in zip(terms, other.log_k_terms, strict=True))
        for total, amount in other.contains.items():
            contains[total] = contains.get(total, 0) + count * amount
    protons = 1 if name == "H+" else protons
    gained = charge - sum(REFERENCE_CHARGE[total] * amount for total, amount in contains.items())
    size = float(row["ion_size_angstrom"]) if row["ion_size_angstrom"] else None
    return Species(name, charge, contains, protons, gained, terms, size, float(row["b_kg_per_mol"] or 0.0))


@cache
def chelates() -> tuple[Chelate, ...]:
    """Chelates in the order in which metals claim ligands, strongest first."""
    rows = _rows("feed_chelates.csv")
    return tuple(Chelate(row["species"], int(row["charge"]), row["metal"], row["ligand"]) for row in rows)


@cache
def all_species() -> tuple[Species, ...]:
    """Every species in table order, chelates last."""
    known: dict[str, Species] = {}
    for row in _rows("feed_species.csv"):
        known[row["species"]] = _species(row, known)
    for chelate in chelates():
        contains = {part: 1 for part in (chelate.metal, chelate.ligand) if part}
        gained = chelate.charge - sum(REFERENCE_CHARGE[part] for part in contains)
        known[chelate.name] = Species(chelate.name, chelate.charge, contains, 0, gained, (0.0,) * 6, None, 0.0)
    return tuple(known.values())


@cache
def species_names() -> tuple[str, ...]:
    """Names in the order of every array of species."""
    return tuple(species.name for species in all_species())


@cache
def species_index() -> dict[str, int]:
    """Row of a species in every array of species."""
    return {name: row for row, name in enumerate(species_names())}
