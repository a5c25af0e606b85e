"""Concentrations in every basis a report prints: element, oxide, ion, moles, equivalents, as CaCO3, hardness degrees.

Everything follows from atomic weights and charges; nothing is a typed-in factor. Two routes: bases that hold the same
element count its atoms (P2O5 -> P), and equivalents exchange charge for charge (CaCO3, degrees, meq/L).
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from core.catalog import molar_mass_g_per_mol
from core.phrase import Phrase
from core.units.errors import AmbiguousText, UnitError

FORMULAS: dict[str, dict[str, float]] = {
    "P2O5": {"P": 2, "O": 5}, "K2O": {"K": 2, "O": 1}, "CaO": {"Ca": 1, "O": 1}, "MgO": {"Mg": 1, "O": 1},
    "SO3": {"S": 1, "O": 3}, "SiO2": {"Si": 1, "O": 2}, "Na2O": {"Na": 2, "O": 1},
    "NO3": {"N": 1, "O": 3}, "NO2": {"N": 1, "O": 2}, "NH4": {"N": 1, "H": 4}, "NH3": {"N": 1, "H": 3},
    "PO4": {"P": 1, "O": 4}, "HPO4": {"H": 1, "P": 1, "O": 4}, "H2PO4": {"H": 2, "P": 1, "O": 4},
    "SO4": {"S": 1, "O": 4}, "HCO3": {"H": 1, "C": 1, "O": 3}, "CO3": {"C": 1, "O": 3},
    "CaCO3": {"Ca": 1, "C": 1, "O": 3},
}  # fmt: skip
"""Formulas a concentration may be stated as, and their atoms."""

ELEMENT: dict[str, str] = {
    "N": "N", "NO3-N": "N", "NH4-N": "N", "urea-N": "N", "P": "P", "K": "K", "Ca": "Ca", "Mg": "Mg", "S": "S",
    "Fe": "Fe", "Mn": "Mn", "Zn": "Zn", "B": "B", "Cu": "Cu", "Mo": "Mo", "Si": "Si", "Na": "Na", "Cl": "Cl",
}  # fmt: skip
"""Nutrient -> the element it is counted as."""

ALKALINITY = ("HCO3", "CO3", "CaCO3")
"""Statements of alkalinity; they exchange by equivalents, not by carbon."""

CHARGE: dict[str, int] = {
    "NO3-N": 1, "NH4-N": 1, "K": 1, "Na": 1, "Cl": 1, "Ca": 2, "Mg": 2, "S": 2, "Mn": 2, "Zn": 2, "Cu": 2,
    "HCO3": 1, "CO3": 2, "CaCO3": 2,
}  # fmt: skip
"""Charge of one mole in a feed (S as sulfate); P depends on pH, Fe on its form, B and Si carry none worth counting."""

_ONLY_FOR = {"NO3": ("N", "NO3-N"), "NO2": ("N",), "NH4": ("N", "NH4-N"), "NH3": ("N", "NH4-N")}
"""Nitrogen ions that are one of its forms and not another."""

MEQ_PER_DEGREE: dict[str, float] = {
    "°dH": 2 * 10.0 / molar_mass_g_per_mol(FORMULAS["CaO"]),
    "°fH": 2 * 10.0 / molar_mass_g_per_mol(FORMULAS["CaCO3"]),
    "°eH": 2 * (1000 * 0.06479891 / 4.54609) / molar_mass_g_per_mol(FORMULAS["CaCO3"]),
}
"""Hardness degrees in meq/L, by their definitions: German 10 mg/L CaO, French 10 mg/L CaCO3, English (Clark) a grain
(64.79891 mg) of CaCO3 per imperial gallon. How known: MEMORY of the definitions, the factors DERIVED."""


@cache
def molar_mass(substance: str) -> float:
    """Return grams per mole of a nutrient (its element) or of a formula [g/mol]."""
    atoms: Mapping[str, float] = FORMULAS.get(substance, {ELEMENT.get(substance, substance): 1})
    return molar_mass_g_per_mol(atoms)


def milligrams_per_milliequivalent(substance: str, phosphate_valence: int | None = None) -> float:
    """Return mg/L of the substance in 1 meq/L of it.

    Parameters
    ----------
    phosphate_valence : 1 counts P as H2PO4-, 3 as PO4-3; reports use both.

    Raises
    ------
    AmbiguousText : phosphate without its valence.
    UnitError : a substance without one charge.
    """
    if substance == "P":
        if phosphate_valence is None:
            raise AmbiguousText(Phrase("meq/L of phosphate counts P in two ways"), ("meq/L H2PO4", "meq/L PO4"))
        return molar_mass("P") / phosphate_valence
    if substance == "N":
        raise UnitError(Phrase("meq/L of total N has no meaning; type NO3-N and NH4-N apart."))
    if substance not in CHARGE:
        raise UnitError(
            Phrase(
                "{substance} has no one charge, so meq/L cannot be used for it; type mg/L or mmol/L.",
                substance=substance,
            )
        )
    return molar_mass(substance) / CHARGE[substance]


def milligrams_per_milligram_of(basis: str, substance: str) -> float:
    """Return mg of the substance in 1 mg of it stated as `basis`, such as 0.4364 for P in P2O5.

    Raises
    ------
    UnitError : the basis does not hold the substance.
    """
    if basis == substance or basis == ELEMENT.get(substance):
        return 1.0
    if substance in ALKALINITY or basis == "CaCO3":
        return _by_equivalents(basis, substance)
    element = ELEMENT[substance]
    atoms = FORMULAS.get(basis, {}).get(element, 0)
    if not atoms or substance not in _ONLY_FOR.get(basis, (substance,)):
        raise UnitError(Phrase("{substance} cannot be stated as {basis}.", substance=substance, basis=basis))
    return atoms * molar_mass(element) / molar_mass(basis)


def _by_equivalents(basis: str, substance: str) -> float:
    if basis not in ALKALINITY:
        raise UnitError(Phrase("{substance} cannot be stated as {basis}.", substance=substance, basis=basis))
    return milligrams_per_milliequivalent(substance) / milligrams_per_milliequivalent(basis)
