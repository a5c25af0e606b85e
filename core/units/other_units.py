"""Rarer units of mass and volume, converted by the pint library; the only module that loads it, when first needed.

The library is asked by exact name and only for names of one size: left to itself it reads "Mg" as megagram, "quarter"
as 12.7 kg and "barrel" as one of several barrels.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING, Any

from core.units.factors import Unit

if TYPE_CHECKING:
    import pint

_ONE_SIZED = re.compile(
    r"grains?|stones?|carats?|pennyweights?|troy (?:ounces?|pounds?)|(?:short|long) (?:tons?|hundredweights?)"
    r"|cubic (?:inch|foot|yard|centimeter)s?|acre foot"
    r"|(?:nano|micro|milli|centi|deci|deca|hecto|kilo|mega)(?:gram|liter)s?"
)
_SPELLED = {
    "inches": "inch",
    "feet": "foot",
    "ft": "foot",
    "in": "inch",
    "yd": "yard",
    "cu": "cubic",
    "oz": "ounce",
    "lb": "pound",
}


def other_unit(words: str, ours: str) -> Unit | None:
    """Return a rarer unit with its factor to `ours` ("gram" or "liter"), or None if it is none we would ask for.

    Parameters
    ----------
    words : as typed, folded, such as "grains", "troy oz", "cubic feet", "short tons", "centilitres".
    """
    american = words.replace("metre", "meter").replace("litre", "liter").replace("gramme", "gram")
    name = " ".join(_SPELLED.get(word, word) for word in american.split())
    if not _ONE_SIZED.fullmatch(name):
        return None
    amount = _registry().Quantity(1.0, name.replace(" ", "_"))
    return Unit(words, float(amount.to(ours).magnitude)) if amount.is_compatible_with(ours) else None


@cache
def _registry() -> pint.UnitRegistry[Any]:
    import pint

    return pint.UnitRegistry()
