"""Feeds made up for the tests of the chemistry."""

from __future__ import annotations

import numpy as np

from core.chemistry import COMPONENTS

ROW = {name: row for row, name in enumerate(COMPONENTS)}

MOST_MMOL_PER_KG = {
    "Ca": 8.0, "Mg": 4.0, "K": 14.0, "Na": 6.0, "NH4": 4.0, "NO3": 22.0, "P": 3.0, "S": 6.0, "Cl": 6.0, "C": 6.0,
    "B": 0.1, "Si": 1.5, "Fe": 0.05, "Mn": 0.04, "Zn": 0.03, "Cu": 0.005, "Mo": 0.002,
}  # fmt: skip
"""Upper ends for random feeds of the ions an independent engine knows as well."""

RARE_MMOL_PER_KG = {
    "Fe3": 0.08, "EDTA": 0.08, "DTPA": 0.05, "EDDHA": 0.03, "HBED": 0.03, "citrate": 1.0, "urea": 3.0,
    "inert+": 2.0, "inert-": 2.0,
}  # fmt: skip

TOMATO = {"NH4": 1.2, "K": 9.5, "Ca": 5.4, "Mg": 2.4, "NO3": 16.0, "P": 1.5, "S": 4.4}
"""A rockwool tomato feed [mmol/kg]."""


def column(mmol_per_kg: dict[str, float]) -> np.ndarray:
    """Totals by name as a column [mol/kg]."""
    totals = np.zeros(len(COMPONENTS))
    for name, amount in mmol_per_kg.items():
        totals[ROW[name]] = amount / 1000.0
    return totals


def random_feeds(seed: int, count: int, most: dict[str, float], *, present: float = 1.0) -> np.ndarray:
    """Random totals (components, count) [mol/kg]; each is left out with probability 1 - present."""
    rng = np.random.default_rng(seed)
    totals = np.zeros((len(COMPONENTS), count))
    for name, amount in most.items():
        totals[ROW[name]] = amount / 1000.0 * rng.uniform(0.01, 1.0, count) * (rng.random(count) < present)
    return totals
