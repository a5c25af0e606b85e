"""What a solution is made of: the totals every other module counts in, and their charges.

A total is the sum over all forms of one thing that is neither made nor lost in solution. Charges are those
of the reference form, the one that counts as "no alkalinity"; so the alkalinity of anything electrically
neutral is the charge its totals carry in their reference forms (Stumm & Morgan 1996, chapter 4).
"""

from __future__ import annotations

REFERENCE_CHARGE: dict[str, int] = {
    "Ca": 2, "Mg": 2, "K": 1, "Na": 1, "NH4": 1,
    "Fe": 2, "Fe3": 3, "Mn": 2, "Zn": 2, "Cu": 2,
    "NO3": -1, "P": -1, "S": -2, "Cl": -1, "Mo": -2,
    "C": 0, "B": 0, "Si": 0, "urea": 0,
    "citrate": -3, "EDTA": -4, "DTPA": -5, "EDDHA": -4, "HBED": -4,
    "inert+": 1, "inert-": -1,
}  # fmt: skip
"""Total -> charge of its reference form: P as H2PO4-, S as SO4-2, C as CO2, B as B(OH)3, Si as Si(OH)4,
Mo as MoO4-2, Fe as Fe+2, Fe3 as Fe+3, ligands fully deprotonated. "inert+" and "inert-" are ions of no known
kind, counted per equivalent: what a label or a water report leaves unsaid."""

COMPONENTS: tuple[str, ...] = tuple(REFERENCE_CHARGE)
"""The fixed order of every array of totals."""
