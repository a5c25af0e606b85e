"""The columns of a diary as a table: which field of an entry each is, and the unit in its name."""

from __future__ import annotations

from typing import NamedTuple

from core.logbook.records import Entry
from core.phrase import Phrase
from core.recipe.checks import TANK_LETTERS
from core.recipe.errors import RecipeError, quoted
from core.recipe.records import NUTRIENTS
from core.recipe.shape import close_match
from core.units import value_in

TEXTS = ("at", "batch_id", "meter", "note")
PLAIN = ("drained_l", "water_l", "level_l", "ec_ms_per_cm", "ph", "temperature_c")
CONTENT, POURED, ACID = "_mg_per_l", "_ml", "acid_"

_SCALES = {
    "ec_us_per_cm": "µS/cm", "ec_cf": "CF", "ec_ppm_500": "ppm-500", "ec_ppm_640": "ppm-640", "ec_ppm_700": "ppm-700",
}  # fmt: skip
EC_SCALES = {column: value_in(1.0, "ec", scale) for column, scale in _SCALES.items()}
"""Columns of EC on another scale -> what that scale shows at 1 mS/cm."""

TRUTHS = {"yes": True, "true": True, "1": True, "no": False, "false": False, "0": False, "": False}


class Column(NamedTuple):
    """One column: the entry's field, the name within it for groups, and what a number is divided by."""

    name: str
    field: str
    key: str = ""
    divisor: float = 1.0


def column_of(name: str) -> Column:
    """Return the column of a heading; spaces around it and capitals do not matter.

    Raises
    ------
    RecipeError : it is none.
    """
    known = _known()
    spelled = name.strip()
    folded = {one.casefold(): one for one in known}
    if spelled.casefold() in folded:
        return known[folded[spelled.casefold()]]
    if spelled.casefold().startswith(ACID) and spelled.endswith(POURED):
        return Column(spelled, "acid_ml", spelled[len(ACID) : -len(POURED)])
    what = Phrase("has a column {name}, which is none of a diary", name=quoted(name))
    mend = close_match(spelled, known) or Phrase(
        "name it like one of these: {names}", names=", ".join((*TEXTS, *PLAIN))
    )
    raise RecipeError(what, mend)


def columns_for(entries: tuple[Entry, ...]) -> tuple[Column, ...]:
    """Return the columns that hold these entries: the readings always, the rest where something stands in it."""
    used = {
        name for name in ("fresh", "drained_l", "batch_id", "meter", "note") if any(getattr(e, name) for e in entries)
    }
    used |= {"at", "water_l", "level_l", "ec_ms_per_cm", "ph", "temperature_c"}
    used |= {name + POURED for entry in entries for name in entry.parts_ml}
    used |= {name + CONTENT for entry in entries for name in entry.analysis_mg_per_l}
    used |= {"HCO3" + CONTENT for entry in entries if entry.hco3_mg_per_l is not None}
    acids = dict.fromkeys(name for entry in entries for name in entry.acid_ml)
    made: list[Column] = []
    for name, column in _known().items():
        if name == "level_l":
            made += [Column(f"{ACID}{acid}{POURED}", "acid_ml", acid) for acid in acids]
        if name in used and name not in EC_SCALES:
            made.append(column)
    return tuple(made)


def _known() -> dict[str, Column]:
    """Every column but those of acids, in the order they are written in."""
    columns = [
        Column("at", "at"),
        Column("fresh", "fresh"),
        Column("drained_l", "drained_l"),
        Column("water_l", "water_l"),
        Column("batch_id", "batch_id"),
        *(Column(letter + POURED, "parts_ml", letter) for letter in TANK_LETTERS),
        Column("level_l", "level_l"),
        Column("ec_ms_per_cm", "ec_ms_per_cm"),
        *(Column(name, "ec_ms_per_cm", "", at_one) for name, at_one in EC_SCALES.items()),
        Column("ph", "ph"),
        Column("temperature_c", "temperature_c"),
        *(Column(name + CONTENT, "analysis_mg_per_l", name) for name in NUTRIENTS),
        Column("HCO3" + CONTENT, "hco3_mg_per_l"),
        Column("meter", "meter"),
        Column("note", "note"),
    ]
    return {column.name: column for column in columns}
