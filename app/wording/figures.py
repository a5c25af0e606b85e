"""Figures and names as the window prints them: no idle zeros, units behind, hydrates short."""

from __future__ import annotations

import re
from functools import cache

from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.numbers import format_short

DASH = "\N{EN DASH}"

SUBSCRIPTS = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")

HYDRATES = {
    marked("monohydrate"): marked("1-hydrate"),
    marked("dihydrate"): marked("2-hydrate"),
    marked("trihydrate"): marked("3-hydrate"),
    marked("tetrahydrate"): marked("4-hydrate"),
    marked("pentahydrate"): marked("5-hydrate"),
    marked("hexahydrate"): marked("6-hydrate"),
    marked("heptahydrate"): marked("7-hydrate"),
    marked("decahydrate"): marked("10-hydrate"),
}

_NAME_PARTS = r"^(?P<main>.+?)(?P<rest>(?: (?:\w*hydrate|{hydrates})| \(.*|, .*)*)$"


def symbol(name: str) -> str:
    """Return a nutrient or ion as it is printed: "NH4-N" -> "NH₄-N", "SO4" -> "SO₄"."""
    return _("urea-N") if name == "urea-N" else name.translate(SUBSCRIPTS)


@cache
def name_parts(name: str) -> tuple[str, str]:
    """Return a product's name in two: what it is, and which grade or hydrate: ("Magnesium sulfate", "7-hydrate")."""
    short = {_(long): _(brief) for long, brief in HYDRATES.items()}
    found = re.match(_NAME_PARTS.format(hydrates="|".join(map(re.escape, short))), name)
    if found is None:
        return name, ""
    rest = found["rest"].strip(" ,")
    for long, brief in short.items():
        rest = re.sub(rf"\b{re.escape(long)}\b", brief, rest)
    return found["main"], rest.split(" (")[0].strip("()")


def within(name: str) -> str:
    """Return a product's name as it stands within a sentence: "Potassium nitrate" -> "potassium nitrate"."""
    return name[:1].lower() + name[1:] if name[1:2].islower() else name


def capital(text: str) -> str:
    """Return the text with its first letter large."""
    return text[:1].upper() + text[1:]


def millilitres(text: str) -> str:
    """Return a volume with its unit."""
    return _("{number} mL").format(number=text)


def strength(percent: float) -> str:
    """Return the strength of an acid as its container prints it."""
    return _("{percent} %").format(percent=format_short(percent, 4))


def tank_volume(volume_l: float) -> str:
    """Return how much one tank holds."""
    return _("{volume} L tank").format(volume=format_short(volume_l, 4))
