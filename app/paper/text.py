"""Text on paper: what strangers wrote is made harmless once, and every number gets the reader's decimal mark."""

from __future__ import annotations

import re

HARD_SPACE = "\N{NO-BREAK SPACE}"
_HELD_POINT = "\ue000"
"""Stands for a point inside a name until the page is drawn; a private character cannot come from outside, as
`foreign` writes it out."""

_DECIMAL_POINT = re.compile(r"(?<=\d)\.(?=\d)")
_UNIT_SPACE = re.compile(r"(?<=\d) (?=(?:%|°[CF]|[km]?g|[mk]?L|oz|lb|fl|US|[mµ]S|meq)(?![a-z]))")
_RIGHT_TO_LEFT = re.compile("[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufeff\U00010800-\U00010fff\U0001e800-\U0001efff]+")


def foreign(text: str) -> str:
    """Return text from outside (a title, a name) with unprintable characters written out and its points held.

    Control, bidirectional and invisible characters become visible escapes, so that none can hide, move or imitate a
    number; a point in a name is never taken for a decimal mark.
    """
    return _visible(" ".join(text.split())).replace(".", _HELD_POINT)


def shown(text: str, decimal_mark: str = ".") -> str:
    """Return a finished text as it is printed: the decimal mark in, held points back, nothing unprintable."""
    marked = _DECIMAL_POINT.sub(decimal_mark, text).replace(_HELD_POINT, ".")
    return "".join(letter if letter.isprintable() or letter == HARD_SPACE else _escape(letter) for letter in marked)


def unbroken(text: str) -> str:
    """Return the text with numbers held to their units, so that no line ends between them."""
    return _UNIT_SPACE.sub(HARD_SPACE, text)


def isolated(text: str, before: str, after: str) -> str:
    """Return the text with right-to-left runs set between two marks, so that numbers beside them stay in place."""
    return _RIGHT_TO_LEFT.sub(lambda run: f"{before}{run.group()}{after}", text)


def _visible(text: str) -> str:
    return "".join(letter if letter.isprintable() else _escape(letter) for letter in text)


def _escape(letter: str) -> str:
    return letter.encode("unicode_escape").decode("ascii")
