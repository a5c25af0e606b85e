"""From a unit's spelling to the unit, for each kind of quantity; what has several meanings is asked back."""

from __future__ import annotations

from functools import cache
from typing import Literal, NamedTuple

from core.phrase import Phrase
from core.units import factors
from core.units.concentration import concentration_unit
from core.units.errors import AmbiguousText, UnitError, shown
from core.units.factors import Unit, folded

Kind = Literal["mass", "volume", "concentration", "alkalinity", "hardness", "ec", "temperature", "percent", "dilution"]

OUR_UNIT: dict[Kind, str] = {
    "mass": "g", "volume": "L", "concentration": "mg/L", "alkalinity": "meq/L", "hardness": "meq/L", "ec": "mS/cm",
    "temperature": "°C", "percent": "%", "dilution": "x",
}  # fmt: skip
"""Kind -> the fixed unit its value is in. Dilution is litres of finished feed per litre of concentrate."""

_KIND_WORDS: dict[Kind, str] = {
    "mass": Phrase("mass"), "volume": Phrase("volume"), "ec": Phrase("conductivity"),
    "temperature": Phrase("temperature"), "percent": Phrase("share"), "dilution": Phrase("dilution"),
}  # fmt: skip


class Context(NamedTuple):
    """What a text alone does not say: the substance, whose gallons, how phosphate is counted; None is not known."""

    of: str | None = None
    us_units: bool | None = None
    phosphate_valence: int | None = None


def find_unit(spelling: str, kind: Kind, context: Context) -> Unit:
    """Return the unit a folded spelling stands for.

    Raises
    ------
    AmbiguousText : a name of several units.
    UnitError : no such unit for this kind.
    """
    if kind in ("concentration", "alkalinity", "hardness"):
        substance = context.of if kind == "concentration" else kind
        if substance is None:
            raise UnitError(Phrase("A concentration needs the substance it is of."))
        return concentration_unit(spelling, substance, context.phosphate_valence)
    if kind == "volume":
        spelling = factors.volume_words(spelling)
    known = _units_of(kind).get(spelling) or _two_sized(spelling, kind, context)
    if known is None and kind == "dilution":
        known = _volume_per_volume(spelling, context)
    return known or _other(spelling, kind)


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
        raise AmbiguousText(Phrase("{text} is of two sizes", text=shown(spelling)), (american, other))
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
        raise AmbiguousText(Phrase("{text} has several meanings", text=shown(spelling)), readings)
    if kind in ("mass", "volume"):
        from core.units.other_units import other_unit  # loads the library behind it, about half a second

        other = other_unit(spelling, "gram" if kind == "mass" else "liter")
        if other is not None:
            return other
    raise UnitError(Phrase("{text} is no unit of {kind} known here.", text=shown(spelling), kind=_KIND_WORDS[kind]))
