"""Saturation indices of the solids that do settle from feeds.

Hydroxyapatite and MnHPO4 are left out on purpose: by their constants every working feed is far above saturation,
yet nothing settles, so they would only cry wolf.
"""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources

import numpy as np

from core.chemistry.speciation import Speciation
from core.chemistry.species import GAS_CONSTANT_KJ, species_index, species_names
from core.chemistry.system import Array, Rows
from core.chemistry.water import ZERO_CELSIUS_K


@dataclass(frozen=True)
class Solid:
    """A solid: the ions it dissolves to, the water it frees, A1..A4 of log10 of its solubility product."""

    name: str
    ions: dict[str, int]
    water: int
    log_k_terms: tuple[float, ...]


@cache
def solids() -> tuple[Solid, ...]:
    """Solids in table order."""
    text = resources.files("resources.thermodynamics").joinpath("feed_solids.csv").read_text(encoding="utf-8")
    return tuple(_solid(row) for row in csv.DictReader(text.splitlines()))


def _solid(row: dict[str, str]) -> Solid:
    parts = {name: int(count) for name, _, count in (item.rpartition("=") for item in row["dissolves_to"].split(";"))}
    water = parts.pop("H2O", 0)
    if row["log_k_of_temperature"]:
        terms = [float(text) for text in row["log_k_of_temperature"].split()]
        terms += [0.0] * (4 - len(terms))
    else:
        enthalpy = float(row["enthalpy_kj_per_mol"] or 0.0) / (GAS_CONSTANT_KJ * math.log(10.0))
        terms = [float(row["log_k_25c"]) + enthalpy / (ZERO_CELSIUS_K + 25.0), 0.0, -enthalpy, 0.0]
    return Solid(row["solid"], parts, water, tuple(terms))


def log10_solubility_product(solid: Solid, temperature_c: float) -> float:
    """Log10 of the solubility product at a temperature [degC]."""
    kelvin = temperature_c + ZERO_CELSIUS_K
    a1, a2, a3, a4 = solid.log_k_terms
    return a1 + a2 * kelvin + a3 / kelvin + a4 * math.log10(kelvin)


@lru_cache(maxsize=64)
def _table(temperature_c: float) -> tuple[Rows, Array, Array, Array]:
    """Species that matter (s,), ion counts (solids, s), water counts (solids, 1) and log10 Ksp (solids, 1)."""
    counts = np.zeros((len(solids()), len(species_names())))
    for row, solid in enumerate(solids()):
        for ion, count in solid.ions.items():
            counts[row, species_index()[ion]] = count
    used = np.flatnonzero(counts.any(axis=0))
    water = np.array([[float(solid.water)] for solid in solids()])
    products = np.array([[log10_solubility_product(solid, temperature_c)] for solid in solids()])
    return used, counts[:, used], water, products


def saturation_indices(speciation: Speciation) -> dict[str, Array]:
    """Log10 of ion activity product over solubility product, by solid, each (n,); -inf where an ion is missing.

    speciation : at the temperature the question is asked for
    Source: feed_solids.csv; activity of water 1 - 0.017 sum m (Garrels & Christ 1965, as in PHREEQC).
    """
    used, counts, water, products = _table(speciation.one_temperature_c)
    activity = np.maximum(speciation.log10_activity[used], -1e6)
    log_water = np.log10(1.0 - 0.017 * speciation.molality.sum(axis=0))
    index = counts @ activity + water * log_water - products
    index[index < -1e5] = -np.inf
    return {solid.name: row for solid, row in zip(solids(), index, strict=True)}
