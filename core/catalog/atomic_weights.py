"""Atomic weights of the elements a feed can hold.

Source: IUPAC Commission on Isotopic Abundances and Atomic Weights, Standard atomic weights of the elements 2021,
abridged to five significant digits (Prohaska et al. 2022, Pure Appl. Chem. 94:573, table 3).
"""

from __future__ import annotations

from collections.abc import Mapping

ATOMIC_WEIGHTS: dict[str, float] = {
    "H": 1.0080, "B": 10.81, "C": 12.011, "N": 14.007, "O": 15.999, "Na": 22.990, "Mg": 24.305, "Si": 28.085,
    "P": 30.974, "S": 32.06, "Cl": 35.45, "K": 39.098, "Ca": 40.078, "Mn": 54.938, "Fe": 55.845, "Cu": 63.546,
    "Zn": 65.38, "Mo": 95.95,
}  # fmt: skip
"""Element -> standard atomic weight [g/mol]."""

WATER_G_PER_MOL = 2 * ATOMIC_WEIGHTS["H"] + ATOMIC_WEIGHTS["O"]
"""Molar mass of water [g/mol]."""


def molar_mass_g_per_mol(elements: Mapping[str, float]) -> float:
    """Return the molar mass [g/mol] of a formula unit given as element -> count; KeyError for an unknown element."""
    return sum(ATOMIC_WEIGHTS[element] * count for element, count in elements.items())
