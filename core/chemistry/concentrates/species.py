"""The forms that stand in a concentrate, in the fixed order of every array of molalities."""

from __future__ import annotations

import numpy as np

CATIONS = ("H+", "Na+", "K+", "NH4+", "Mg+2", "Ca+2", "Fe+2", "Mn+2", "Zn+2", "Cu+2", "+")
ANIONS = ("NO3-", "Cl-", "SO4-2", "HSO4-", "H2PO4-", "HPO4-2", "-")
NEUTRALS = ("H3PO4", "B(OH)3", "urea", "other")
"""Uncharged forms; they only dilute the water's activity. "other" is silica, carbon dioxide, citric acid."""

IONS = CATIONS + ANIONS
"""Ions with Pitzer parameters; "+" and "-" are monovalent ions of no known kind."""
SPECIES = IONS + NEUTRALS
INDEX = {name: number for number, name in enumerate(SPECIES)}


def charge_of(name: str) -> int:
    """Charge written at the end of an ion's name [-]: "Ca+2" is 2, "NO3-" is -1, a neutral is 0."""
    for sign, factor in (("+", 1), ("-", -1)):
        _, found, number = name.rpartition(sign)
        if found:
            return factor * int(number or 1)
    return 0


CHARGE = np.array([charge_of(name) for name in IONS], dtype=float)
"""(n_ions,) ndarray [-]."""
