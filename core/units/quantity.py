"""Typed text to a quantity: the value in our fixed unit, and in plain words what was understood."""

from __future__ import annotations

import math
import re
from functools import cache
from typing import Literal, NamedTuple

from core.units import factors
from core.units.concentration import ALKALINITY, concentration_unit
from core.units.errors import AmbiguousText, UnitError, shown
from core.units.factors import Unit, folded
from core.units.formats import plain_number
from core.units.text import leading_number, normal

Kind = Literal["mass", "volume", "concentration", "alkalinity", "ec", "temperature", "percent", "dilution"]

OUR_UNIT: dict[Kind, str] = {
    "mass": "g", "volume": "L", "concentration": "mg/L", "alkalinity": "meq/L", "ec": "mS/cm", "temperature": "°C",
    "percent": "%", "dilution": "x",
}  # fmt: skip
"""Kind -> the fixed unit its value is in. Dilution is litres of finished feed per litre of concentrate."""


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


class Context(NamedTuple):
    """What a text alone does not say: the substance, whose gallons, how phosphate is counted; None is not known."""

    of: str | None = None
    us_units: bool | None = None
    phosphate_valence: int | None = None


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


def find_unit(spelling: str, kind: Kind, context: Context) -> Unit:
    """Return the unit a folded spelling stands for.

    Raises
    ------
    AmbiguousText : a name of several units.
    UnitError : no such unit for this kind.
    """
    if kind in ("concentration", "alkalinity"):
        substance = ALKALINITY if kind == "alkalinity" else context.of
        if substance is None:
            raise UnitError("A concentration needs the substance it is of.")
        return concentration_unit(spelling, substance, context.phosphate_valence)
    if kind == "volume":
        spelling = factors.volume_words(spelling)
    known = _units_of(kind).get(spelling) or _two_sized(spelling, kind, context)
    if known is None and kind == "dilution":
        known = _volume_per_volume(spelling, context)
    return known or _other(spelling, kind)


def _read_parts(plain: str, kind: Kind, default_unit: str, context: Context) -> Understood:
    """Read "number unit", or for mass and volume several of them in a row, each smaller than the one before."""
    parts: list[tuple[float, Unit]] = []
    grouped, rest = False, plain
    while rest:
        found = leading_number(rest)
        spelling, rest = _cut_unit(found.rest, kind)
        if not spelling and parts:
            raise UnitError(f"{shown(plain)} ends in a number without a unit.")
        if not spelling or spelling.startswith("as "):
            spelling = f"{default_unit} {spelling}".strip()
        parts.append((found.value, find_unit(folded(spelling), kind, context)))
        grouped = grouped or found.grouped
    if any(late.factor >= early.factor for (_, early), (_, late) in zip(parts, parts[1:], strict=False)):
        raise UnitError(f"{shown(plain)} does not go from the larger unit to the smaller.")
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
        raise UnitError(f"{shown(plain)} is no dilution; write it like 1:100.")
    if one.value > many.value > 0:
        turned = plain_number(one.value / many.value)
        raise AmbiguousText(f"{shown(plain)} puts the concentrate on the larger side", (f"1:{turned}",))
    ratio = many.value / one.value
    return Understood("dilution", ratio, ((ratio, OUR_UNIT["dilution"]),), many.grouped)


def _check_sign(text: str, understood: Understood) -> None:
    if not math.isfinite(understood.value):
        raise UnitError(f"{shown(text)} is too large.")
    if understood.kind != "temperature" and any(number < 0 for number, _ in understood.parts):
        raise UnitError(f"{shown(text)} is below zero, which no amount can be.")
    if understood.kind == "dilution" and understood.value == 0:
        raise UnitError(f"{shown(text)} is no dilution; write it like 1:100.")


@cache
def _units_of(kind: Kind) -> dict[str, Unit]:
    units: dict[Kind, tuple[Unit, ...]] = {
        "mass": factors.MASS_G,
        "volume": factors.VOLUME_L,
        "ec": factors.EC_MS_PER_CM,
        "temperature": (factors.CELSIUS, factors.FAHRENHEIT),
        "percent": factors.PERCENT,
        "dilution": factors.DILUTION,
    }
    return factors.by_spelling(units[kind])


def _two_sized(spelling: str, kind: Kind, context: Context) -> Unit | None:
    """Return the US or the other unit of a shared name, as the user's preference says."""
    if kind != "volume" or spelling not in factors.TWO_SIZED:
        return None
    american, other = factors.TWO_SIZED[spelling]
    if context.us_units is None:
        raise AmbiguousText(f"{shown(spelling)} is of two sizes", (american, other))
    return _units_of(kind)[folded(american if context.us_units else other)]


def _volume_per_volume(spelling: str, context: Context) -> Unit | None:
    """Return "mL/L" or "tsp per gal" as a dilution: the feed's volume over the concentrate's."""
    concentrate, found, feed = spelling.replace(" per ", "/").partition("/")
    if not found:
        return None
    given, into = (find_unit(part.strip(), "volume", context) for part in (concentrate, feed))
    return Unit(f"{given.label}/{into.label}", -into.factor / given.factor)


def _other(spelling: str, kind: Kind) -> Unit:
    readings = factors.AMBIGUOUS.get((kind, spelling))
    if readings:
        raise AmbiguousText(f"{shown(spelling)} has several meanings", readings)
    if kind in ("mass", "volume"):
        from core.units.other_units import other_unit  # loads the library behind it, about half a second

        other = other_unit(spelling, "gram" if kind == "mass" else "liter")
        if other is not None:
            return other
    raise UnitError(f"{shown(spelling)} is no unit of {_KIND_WORDS[kind]} known here.")


_KIND_WORDS: dict[Kind, str] = {
    "mass": "mass", "volume": "volume", "ec": "conductivity", "temperature": "temperature", "percent": "share",
    "dilution": "dilution",
}  # fmt: skip


def _to_ours(number: float, kind: Kind, unit: Unit) -> float:
    if unit == factors.FAHRENHEIT:
        return (number - 32) * unit.factor
    if kind == "dilution" and unit.factor < 0:
        return -unit.factor / number if number else 0.0
    return number * unit.factor


def _from_ours(value: float, kind: Kind, unit: Unit) -> float:
    if unit == factors.FAHRENHEIT:
        return value / unit.factor + 32
    if kind == "dilution" and unit.factor < 0:
        return -unit.factor / value
    return value / unit.factor
