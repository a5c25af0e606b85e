"""The text of a number as people type it, on its way in and out of a field."""

from __future__ import annotations

import re
from decimal import Decimal

from app.wording import surfaces as say

_NUMBER = re.compile(r"[0-9]*[.,]?[0-9]*")


def read_number(text: str) -> float:
    """Return the number a person typed; point and comma are both decimal marks, there is no grouping.

    Raises
    ------
    ValueError : one sentence for people; "1.234,5" is refused rather than guessed.
    """
    bare = text.strip()
    if bare.startswith(("-", "\N{MINUS SIGN}")):
        raise ValueError(say.below_zero())
    if sum(map(bare.count, ".,")) > 1:
        raise ValueError(say.two_marks())
    if not _NUMBER.fullmatch(bare) or not any(figure in bare for figure in "0123456789"):
        raise ValueError(say.no_number())
    return float(bare.replace(",", "."))


def shortest(value: float) -> str:
    """Return the shortest text that reads back as this very number, without an exponent: 0.05, 128, 1234567."""
    text = format(Decimal(repr(value)), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text
