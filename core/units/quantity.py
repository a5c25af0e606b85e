"""Typed text to a quantity: the value in our fixed unit, and in plain words what was understood."""

from __future__ import annotations

import math
import re
from typing import Literal, NamedTuple

from core.phrase import Phrase
from core.units.errors import AmbiguousText, UnitError, shown
from core.units.factors import FAHRENHEIT, Unit, folded
from core.units.formats import plain_number
from core.units.lookup import OUR_UNIT, Context, Kind, find_unit
from core.units.text import leading_number, normal, refuse_thousands


class Understood(NamedTuple):
    """A quantity as it was understood.

    `value` is in `OUR_UNIT[kind]`. `parts` are the typed numbers with their full unit names, such as
    ((7.0, "lb"), (14.0, "oz")). `grouped` tells that spaces were read as grouping digits in threes.
    """

    kind: Kind
    value: float
    parts: tuple[tuple[float, str], ...]
    grouped: bool = False

    @property
    def unit(self) -> str:
        """The unit's full name; of a compound the last one's."""
        return self.parts[-1][1]

    def echo(self, decimal_mark: str = ".") -> str:
        """Return what was understood, such as "7 lb 14 oz" or "2 US gal"."""
        words = " ".join(f"{plain_number(number, decimal_mark)} {unit}" for number, unit in self.parts)
        return f"1:{words.removesuffix(' x')}" if self.unit == OUR_UNIT["dilution"] else words


def read_quantity(
    text: str,
    kind: Kind,
    default_unit: str,
    *,
    of: str | None = None,
    us_units: bool | None = None,
    phosphate_valence: Literal[1, 3] | None = None,
) -> Understood:
    """Read a typed quantity.

    Parameters
    ----------
    text : as typed, such as "7 lb 14 oz", "12,5", "3*12.6 oz", "3.2 meq/L", "1:100".
    kind : what the field holds; the value comes back in `OUR_UNIT[kind]`.
    default_unit : the unit of a number typed alone.
    of : the nutrient, HCO3, CO3 or CaCO3 a concentration is of.
    us_units : True reads "gal", "qt", "pt", "fl oz" as US, False as imperial, None refuses them as ambiguous.
    phosphate_valence : charges counted per P in meq/L; None refuses it as ambiguous.

    Raises
    ------
    AmbiguousText : the text has several honest readings; they are listed, none is taken.
    UnitError : not a number, no such unit for this kind, or below zero where nothing can be.
    """
    context = Context(of, us_units, phosphate_valence)
    plain = normal(text)
    refuse_thousands(plain)
    understood = _read_ratio(plain) if kind == "dilution" else None
    if understood is None:
        understood = _read_parts(plain, kind, default_unit, context)
    _check_sign(text, understood)
    return understood


def value_in(value: float, kind: Kind, unit: str, context: Context | None = None) -> float:
    """Return a value given in our fixed unit in another one, the inverse of `read_quantity`.

    Raises
    ------
    UnitError : as `read_quantity`, for the unit.
    """
    return _from_ours(value, kind, find_unit(folded(unit), kind, context or Context()))


def _read_parts(plain: str, kind: Kind, default_unit: str, context: Context) -> Understood:
    """Read "number unit", or for mass and volume several of them in a row, each smaller than the one before."""
    parts: list[tuple[float, Unit]] = []
    grouped, rest = False, plain
    while rest:
        found = leading_number(rest)
        spelling, rest = _cut_unit(found.rest, kind)
        if not spelling and parts:
            raise UnitError(Phrase("{text} ends in a number without a unit.", text=shown(plain)))
        if not spelling or spelling.startswith("as "):
            spelling = f"{default_unit} {spelling}".strip()
        parts.append((found.value, find_unit(folded(spelling), kind, context)))
        grouped = grouped or found.grouped
    if any(late.factor >= early.factor for (_, early), (_, late) in zip(parts, parts[1:], strict=False)):
        raise UnitError(Phrase("{text} does not go from the larger unit to the smaller.", text=shown(plain)))
    value = sum(_to_ours(number, kind, unit) for number, unit in parts)
    return Understood(kind, value, tuple((number, unit.label) for number, unit in parts), grouped)


def _cut_unit(rest: str, kind: Kind) -> tuple[str, str]:
    """Split what follows a number into its unit and the next number; only mass and volume come in several parts."""
    if kind not in ("mass", "volume"):
        return rest, ""
    found = re.match(r"(?P<unit>(?:[^\d.,+]|\.(?!\d)|(?<=[mM])3(?![\d.,]))*)(?:\+|,|and )? ?(?P<next>.*)", rest)
    assert found is not None, "every part of the pattern may be empty"
    return found["unit"].removesuffix(" and ").strip(), found["next"]


def _read_ratio(plain: str) -> Understood | None:
    """Read "1:100", "1 in 100", "1 to 100"."""
    found = re.fullmatch(r"(?P<one>[\d.,]+) ?(?::|in|to) ?(?P<many>[\d., ]+)", plain.casefold())
    if found is None:
        return None
    one, many = leading_number(found["one"]), leading_number(found["many"])
    if one.rest or many.rest or one.value == 0:
        raise UnitError(Phrase("{text} is no dilution; write it like 1:100.", text=shown(plain)))
    if one.value > many.value > 0:
        turned = plain_number(one.value / many.value)
        raise AmbiguousText(
            Phrase("{text} puts the concentrate on the larger side", text=shown(plain)), (f"1:{turned}",)
        )
    ratio = many.value / one.value
    return Understood("dilution", ratio, ((ratio, OUR_UNIT["dilution"]),), many.grouped)


def _check_sign(text: str, understood: Understood) -> None:
    if not math.isfinite(understood.value):
        raise UnitError(Phrase("{text} is too large.", text=shown(text)))
    if understood.kind != "temperature" and any(number < 0 for number, _ in understood.parts):
        raise UnitError(Phrase("{text} is below zero, which no amount can be.", text=shown(text)))
    if understood.kind == "dilution" and understood.value == 0:
        raise UnitError(Phrase("{text} is no dilution; write it like 1:100.", text=shown(text)))


def _to_ours(number: float, kind: Kind, unit: Unit) -> float:
    if unit == FAHRENHEIT:
        return (number - 32) * unit.factor
    if kind == "dilution" and unit.factor < 0:
        return -unit.factor / number if number else 0.0
    return number * unit.factor


def _from_ours(value: float, kind: Kind, unit: Unit) -> float:
    if unit == FAHRENHEIT:
        return value / unit.factor + 32
    if kind == "dilution" and unit.factor < 0:
        return -unit.factor / value
    return value / unit.factor
