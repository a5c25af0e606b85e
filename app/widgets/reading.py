"""What a person typed, as the program understood it; the reading itself is done by `core.units`."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import NamedTuple

from app.wording import surfaces as say

OUR_UNIT = "mg/L"


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
    """Return a reader of a nutrient's concentration, in mg/L or any unit that is named."""

    def read(text: str) -> Reading:
        from core.units import read_quantity

        understood = read_quantity(text, "concentration", OUR_UNIT, of=substance)
        typed_plainly = understood.unit == OUR_UNIT and not understood.grouped
        return Reading(understood.value, "" if typed_plainly else understood.echo())

    return read


def shortest(value: float) -> str:
    """Return the shortest text that reads back as this very number, without an exponent: 0.05, 128, 1234567."""
    text = format(Decimal(repr(value)), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text
