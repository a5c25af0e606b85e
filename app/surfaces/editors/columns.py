"""Columns from and for a spreadsheet: names with numbers, a line each; what is not understood is told, not guessed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from app.wording import nutrient_word
from app.wording.refusals import refusal
from core.recipe.records import NUTRIENTS, Target

LONGEST_PASTE = 20_000
_CELLS = re.compile(r"\t|;|:|=| {2,}|\|")
_UNIT_IN_NAME = re.compile(r"^(?P<name>[^(\[]+?)[ ,]*[(\[](?P<unit>[^)\]]+)[)\]]$")
_NAME_THEN_NUMBER = re.compile(r"^(?P<name>[A-Za-z][A-Za-z0-9₀-₉+⁺⁻-]*(?: [A-Za-z]+)*) +(?P<number>[\d.,½].*)$")
_SUBSCRIPTS = str.maketrans("₀₁₂₃₄₅₆₇₈₉", "0123456789")

FORMS = {
    "P2O5": ("P", "P2O5"), "K2O": ("K", "K2O"), "CaO": ("Ca", "CaO"), "MgO": ("Mg", "MgO"), "SO3": ("S", "SO3"),
    "SO4": ("S", "SO4"), "SO4-S": ("S", ""), "S-SO4": ("S", ""), "PO4": ("P", "PO4"), "PO4-P": ("P", ""),
    "P-PO4": ("P", ""), "H2PO4": ("P", "H2PO4"), "NO3": ("NO3-N", "NO3"), "NH4": ("NH4-N", "NH4"),
    "N-NO3": ("NO3-N", ""), "N-NH4": ("NH4-N", ""), "SiO2": ("Si", "SiO2"), "Na2O": ("Na", "Na2O"),
    "total N": ("N", ""), "Ntot": ("N", ""), "sulphur": ("S", ""), "sulphate": ("S", "SO4"), "sulfate": ("S", "SO4"),
    "nitrate": ("NO3-N", "NO3"), "ammonium": ("NH4-N", "NH4"), "urea": ("urea-N", ""), "molybdenum": ("Mo", ""),
}  # fmt: skip
"""Names a column may use beside our own -> nutrient, and the form its numbers then are of."""

WATER_NAMES = (*NUTRIENTS, "HCO3", "CO3", "CaCO3", "pH", "EC")
"""What a water report may name."""

WATER_FORMS = {
    "bicarbonate": ("HCO3", ""), "hydrogen carbonate": ("HCO3", ""), "carbonate": ("CO3", ""),
    "alkalinity": ("HCO3", ""), "conductivity": ("EC", ""),
}  # fmt: skip


class Pasted(NamedTuple):
    """What a pasted column says [mg/L as element], and the lines that were not understood, each with the reason."""

    mg_per_l: dict[str, float]
    unread: tuple[tuple[str, str], ...]


def is_column(text: str) -> bool:
    """Tell whether pasted text is a column rather than one quantity."""
    return "\n" in text.strip() or "\t" in text.strip()


def read_column(
    text: str,
    from_row: str | None = None,
    names: tuple[str, ...] = NUTRIENTS,
    units: Mapping[str, str] | None = None,
) -> Pasted:
    """Read pasted text.

    Parameters
    ----------
    text : a line per nutrient, name and number parted by a tab, semicolon, colon or spaces; or numbers alone.
    from_row : the nutrient the first number belongs to where there are no names.
    names : what may be named, in the order of the rows.
    units : name -> the unit numbers without names are in; left out is mg/L.
    """
    lines = [line.strip() for line in text[:LONGEST_PASTE].splitlines() if line.strip()]
    if from_row is not None and lines and all(_is_number(line) for line in lines):
        rows = names[names.index(from_row) :]
        heads = [f"{name} ({units[name]})" if units and name in units else name for name in rows]
        lines = [f"{head}\t{line}" for head, line in zip(heads, lines, strict=False)]
    mg_per_l: dict[str, float] = {}
    unread = []
    from core.units import has_decimal_comma

    commas = any(has_decimal_comma(line) for line in lines)
    for line in lines:
        try:
            nutrient, value = _read_line(line, names, decimal_comma=commas)
        except ValueError as error:
            unread.append((line, refusal(error)))
            continue
        if nutrient in mg_per_l:
            unread.append((line, _twice(nutrient)))
        elif value is not None:
            mg_per_l[nutrient] = value
    return Pasted(mg_per_l, tuple(unread))


def column_text(targets: Iterable[Target]) -> str:
    """Return targets as a column for a spreadsheet: symbol, tab, mg/L."""
    return pairs_text((target.nutrient, target.mg_per_l) for target in targets)


def pairs_text(pairs: Iterable[tuple[str, float]]) -> str:
    """Return names and numbers as a column for a spreadsheet."""
    from app.widgets.reading import shortest

    return "".join(f"{name}\t{shortest(number)}\n" for name, number in pairs)


def _read_line(line: str, names: tuple[str, ...], *, decimal_comma: bool) -> tuple[str, float | None]:
    cells = [cell.strip() for cell in _CELLS.split(line) if cell.strip()]
    cells = cells or [line]
    if len(cells) == 1:
        apart = _NAME_THEN_NUMBER.match(cells[0])
        cells = [apart["name"], apart["number"]] if apart else cells
    unit = ""
    with_unit = _UNIT_IN_NAME.match(cells[0])
    if with_unit:
        cells[0], unit = with_unit["name"], with_unit["unit"]
    nutrient, form = _nutrient(cells[0], names)
    from core.units import refuse_thousands

    if len(cells) < 2:
        return nutrient, None  # a name without a number wants nothing
    number = cells[1] if not (len(cells) > 2 and _is_number(cells[1])) else f"{cells[1]} {cells[2]}"
    if len(cells) > 2 and _is_number(cells[2]):
        number = cells[1]
    refuse_thousands(number, decimal_comma=decimal_comma)
    return nutrient, _quantity(number, nutrient, f"{unit or 'mg/L'} as {form}" if form else unit)


def _quantity(text: str, nutrient: str, unit: str) -> float:
    from core.units import read_number, read_quantity

    if nutrient == "pH":
        return read_number(text)
    if nutrient == "EC":
        return read_quantity(text, "ec", unit or "mS/cm").value
    return read_quantity(text, "concentration", unit or "mg/L", of=nutrient).value


def _nutrient(name: str, names: tuple[str, ...]) -> tuple[str, str]:
    from app.wording import editors_aim as of_aim
    from core.units import UnitError

    plain = name.translate(_SUBSCRIPTS).strip(" -")
    for ours in names:
        if plain == ours or plain.casefold() in (nutrient_word(ours).casefold(), ours.casefold()):
            return ours, ""
    forms = FORMS if names is NUTRIENTS else {**FORMS, **WATER_FORMS}
    for known, meaning in forms.items():
        if plain.casefold() == known.casefold():
            return meaning
    raise UnitError(of_aim.no_nutrient(name))


def _is_number(text: str) -> bool:
    from core.units import AmbiguousText, read_number

    try:
        read_number(text)
    except AmbiguousText:  # a number all the same, to be refused as one
        return True
    except ValueError:
        return False
    return True


def _twice(nutrient: str) -> str:
    from app.wording import editors_aim as of_aim

    return of_aim.twice_in_column(nutrient)
