"""What a person typed, as the program understood it; the reading itself is done by `core.units`."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from typing import NamedTuple

from app.wording import surfaces as say

OUR_UNIT = "mg/L"

_NUMBER_AND_BASIS = re.compile(r"(?P<number>.*?[\d½¼¾]) *(?P<basis>[A-Za-z][A-Za-z0-9₀-₉-]*)")
_SUBSCRIPTS = str.maketrans("₀₁₂₃₄₅₆₇₈₉", "0123456789")
_LIKE_THOUSANDS = re.compile(r"[1-9]\d{0,2}\.\d{3}(?![\d.,])")


class Reading(NamedTuple):
    """A typed quantity in the field's own unit; `echo` is what was understood where that is not what was typed."""

    value: float
    echo: str = ""


Reader = Callable[[str], Reading]
"""Raises `core.units.UnitError`, a ValueError whose text is one sentence for people."""


def read_plain(text: str) -> Reading:
    """Return a bare number; nothing a field takes is below zero."""
    from core.units import UnitError, read_number  # first needed when somebody types

    value = read_number(text)
    if value < 0:
        raise UnitError(say.below_zero())
    return Reading(value)


def concentration_of(substance: str) -> Reader:
    """Return a reader of a nutrient's concentration, in mg/L or any unit that is named: "120 K2O" is of the oxide."""

    def read(text: str) -> Reading:
        from core.units import UnitError, read_quantity

        try:
            understood = read_quantity(text, "concentration", OUR_UNIT, of=substance)
        except UnitError:
            spelled = with_basis(text)
            if spelled is None:
                raise
            understood = read_quantity(spelled, "concentration", OUR_UNIT, of=substance)
        typed_plainly = understood.unit == OUR_UNIT and not understood.grouped
        return Reading(understood.value, "" if typed_plainly else understood.echo())

    return read


def with_basis(text: str) -> str | None:
    """Return "48 SO4" as "48 mg/L as SO4"; None where that is not how it was typed."""
    found = _NUMBER_AND_BASIS.fullmatch(text.strip())
    if found is None:
        return None
    return f"{found['number']} {OUR_UNIT} as {found['basis'].translate(_SUBSCRIPTS)}"


def looks_grouped(text: str) -> bool:
    """Return whether a number may be meant to have a mark for thousands: "1.500" is read as 1.5, "1,500" refused."""
    return _LIKE_THOUSANDS.match(text.strip()) is not None


def shortest(value: float) -> str:
    """Return the shortest text that reads back as this very number, without an exponent: 0.05, 128, 1234567."""
    text = format(Decimal(repr(value)), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text
