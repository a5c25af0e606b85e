"""Units of concentration: "mg/L as P2O5", "mg NO3/L", "mmol/L", "meq/L", "ppm as CaCO3", "8 °dH"."""

from __future__ import annotations

import re

from core.phrase import Phrase
from core.units import substances
from core.units.errors import AmbiguousText, UnitError, shown
from core.units.factors import Unit, by_spelling, folded

MASS_PER_LITRE = by_spelling(
    (
        Unit("mg/L", 1.0, ("ppm", "g/m3", "g/m³", "mg/dm3", "mg l-1", "mg.l-1", "mg/litre", "mg/liter")),
        Unit("µg/L", 1e-3, ("ppb", "ug/l", "mg/m3", "µg l-1", "mcg/l")),
        Unit("g/L", 1e3, ("g/dm3", "kg/m3", "g l-1")),
    )
)
MOLES = by_spelling(
    (
        Unit("mmol/L", 1.0, ("mol/m3", "mmol/dm3", "mmol l-1", "mmol")),
        Unit("µmol/L", 1e-3, ("umol/l", "mmol/m3", "µmol l-1")),
        Unit("mol/L", 1e3, ("mol/dm3", "mol l-1")),
    )
)
EQUIVALENTS = by_spelling(
    (
        Unit("meq/L", 1.0, ("me/l", "mval/l", "meq l-1", "mmol(+)/l", "mmolc/l", "eq/m3", "meq", "mval")),
        Unit("µeq/L", 1e-3, ("ueq/l",)),
    )
)
DEGREES = by_spelling(
    (
        Unit(
            "°dH",
            substances.MEQ_PER_DEGREE["°dH"],
            ("dh", "°d", "dgh", "gh", "dkh", "°dkh", "kh", "°kh", "°dgh", "°gh"),
        ),
        Unit("°fH", substances.MEQ_PER_DEGREE["°fH"], ("fh", "°f", "°ff", "°tf", "dfh")),
        Unit("°eH", substances.MEQ_PER_DEGREE["°eH"], ("eh", "°e", "°clark", "clark", "clark degrees")),
    )
)
_BASES = {
    name.casefold(): name for name in (*substances.FORMULAS, *substances.ELEMENT, *set(substances.ELEMENT.values()))
}
_SPLIT_UNIT = re.compile(r"(?P<mass>[µumk]?g) ?(?P<basis>[a-z][a-z0-9-]*) ?(?P<per>/ ?(?:l|m3|dm3))")
_WITH_BASIS = re.compile(r"(?P<unit>.+?)(?: as | of | \(|\(| )(?P<basis>[a-z][a-z0-9-]*)\)?")
_TITRATED_TO = re.compile(r"[ (]+ks ?4[.,]3\)?$")
_PHOSPHATE_VALENCE = {"H2PO4": 1, "HPO4": 2, "PO4": 3}
ALKALINITY, HARDNESS = "alkalinity", "hardness"
"""As substances: alkalinity itself, and calcium and magnesium together, both counted in meq/L."""
_IN_DEGREES = ("Ca", "Mg", *substances.ALKALINITY, ALKALINITY, HARDNESS)
_HARDNESS_AS = ("CaCO3", "CaO")


def concentration_unit(text: str, substance: str, phosphate_valence: int | None) -> Unit:
    """Return the unit with its factor to mg/L of the substance (to meq/L for alkalinity and hardness).

    Raises
    ------
    AmbiguousText : phosphate equivalents without a valence, alkalinity or hardness in mg/L without a basis.
    UnitError : no such unit, or a basis that does not hold the substance.
    """
    unit, basis = _split(_plain(folded(text), substance))
    if unit in MASS_PER_LITRE:
        return _mass(MASS_PER_LITRE[unit], basis, substance)
    if unit in MOLES:
        return _moles(MOLES[unit], basis, substance)
    if unit in EQUIVALENTS:
        return _equivalents(EQUIVALENTS[unit], basis, substance, phosphate_valence)
    if unit in DEGREES and basis is None and substance in _IN_DEGREES:
        return _equivalents(DEGREES[unit], None, substance, None)
    raise UnitError(
        Phrase(
            "{text} is no unit for {substance}; type mg/L, mmol/L or meq/L, with “as” for another form.",
            text=shown(text),
            substance=substance,
        )
    )


def _plain(text: str, substance: str) -> str:
    """A folded unit without a space after its degree sign, and without the pH a laboratory titrated alkalinity to."""
    plain = text.replace("° ", "°")
    return _TITRATED_TO.sub("", plain) if substance in (*substances.ALKALINITY, ALKALINITY) else plain


def _split(text: str) -> tuple[str, str | None]:
    """Split "mg no3/l" and "mg/l as no3" into the unit and the basis' proper name."""
    inside = _SPLIT_UNIT.fullmatch(text)
    if inside and inside["basis"] in _BASES:
        return inside["mass"] + inside["per"].replace(" ", ""), _BASES[inside["basis"]]
    behind = _WITH_BASIS.fullmatch(text)
    if behind and behind["basis"] in _BASES:
        return behind["unit"].replace(" /", "/").replace("/ ", "/"), _BASES[behind["basis"]]
    return text.replace(" /", "/").replace("/ ", "/"), None


def _mass(unit: Unit, basis: str | None, substance: str) -> Unit:
    if substance == ALKALINITY:
        if basis not in substances.ALKALINITY:
            readings = tuple(f"{unit.label} as {name}" for name in substances.ALKALINITY)
            raise AmbiguousText(Phrase("{unit} of alkalinity needs its basis", unit=unit.label), readings)
        return Unit(f"{unit.label} as {basis}", unit.factor / substances.milligrams_per_milliequivalent(basis))
    if substance == HARDNESS:
        if basis not in _HARDNESS_AS:
            readings = tuple(f"{unit.label} as {name}" for name in _HARDNESS_AS)
            raise AmbiguousText(Phrase("{unit} of hardness needs its basis", unit=unit.label), readings)
        return Unit(f"{unit.label} as {basis}", 2.0 * unit.factor / substances.molar_mass(basis))
    if basis is None:
        return unit
    factor = substances.milligrams_per_milligram_of(basis, substance)
    return Unit(_label(unit, basis, substance), unit.factor * factor)


def _moles(unit: Unit, basis: str | None, substance: str) -> Unit:
    if substance == ALKALINITY:  # laboratories print acid capacity in mmol/L of acid, which is meq/L
        return unit
    if substance == HARDNESS:  # moles of calcium and magnesium, each of two charges
        return Unit(unit.label, 2.0 * unit.factor)
    stated = basis or substance
    factor = substances.milligrams_per_milligram_of(stated, substance) * substances.molar_mass(stated)
    return Unit(_label(unit, basis, substance), unit.factor * factor)


def _equivalents(unit: Unit, basis: str | None, substance: str, phosphate_valence: int | None) -> Unit:
    if substance in (ALKALINITY, HARDNESS):
        return unit
    if basis is not None:
        substances.milligrams_per_milligram_of(basis, substance)  # refuses a basis that is something else
    valence = _PHOSPHATE_VALENCE.get(basis or "", phosphate_valence)
    factor = substances.milligrams_per_milliequivalent(substance, valence)
    return Unit(_label(unit, basis, substance), unit.factor * factor)


def _label(unit: Unit, basis: str | None, substance: str) -> str:
    same = basis is None or basis in (substance, substances.ELEMENT.get(substance))
    return unit.label if same else f"{unit.label} as {basis}"
