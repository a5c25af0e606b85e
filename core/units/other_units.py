"""Units outside our own tables, asked of the pint library; the only module that loads it, when first needed."""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING, Any

from core.units.factors import Unit

if TYPE_CHECKING:
    import pint

_WORD = re.compile(r"[a-z]{4,30}(?: [a-z]{2,30})?")
_TWO_SIZED = frozenset(
    {
        "barrel",
        "barrels",
        "bushel",
        "bushels",
        "gill",
        "gills",
        "peck",
        "pecks",
        "hundredweight",
        "dram",
        "drams",
        "quintal",
        "quintals",
    }
)
"""Names of several sizes by country, of which the library would pick one in silence."""


@cache
def _registry() -> pint.UnitRegistry[Any]:
    import pint

    return pint.UnitRegistry()


def other_unit(word: str, ours: str) -> Unit | None:
    """Return a plain-word unit ("grain", "stone", "cubic inch") with its factor to `ours`, or None.

    Only whole words are asked for: the library reads symbols such as "Mg" as megagram, which nobody here means.
    """
    if not _WORD.fullmatch(word) or word in _TWO_SIZED:
        return None
    from pint.errors import PintError

    try:
        amount = _registry().Quantity(1.0, word.replace(" ", "_"))
        return Unit(word, float(amount.to(ours).magnitude))
    except (PintError, AttributeError, TypeError, ValueError):  # what the library raises for words it does not know
        return None
