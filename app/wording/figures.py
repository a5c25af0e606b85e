"""Figures and names as the window prints them: no idle zeros, units behind, hydrates short."""

from __future__ import annotations

import re
from functools import cache

from app.wording.language import gettext as _
from app.wording.numbers import format_short

DASH = "\N{EN DASH}"

SUBSCRIPTS = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")

HYDRATES = {
    "monohydrate": "1-hydrate",
    "dihydrate": "2-hydrate",
    "trihydrate": "3-hydrate",
    "tetrahydrate": "4-hydrate",
    "pentahydrate": "5-hydrate",
    "hexahydrate": "6-hydrate",
    "heptahydrate": "7-hydrate",
    "decahydrate": "10-hydrate",
}

_NAME_PARTS = re.compile(r"^(?P<main>.+?)(?P<rest>(?: (?:\w*hydrate)| \(.*|, .*)*)$")


def symbol(name: str) -> str:
    """Return a nutrient or ion as it is printed: "NH4-N" -> "NH₄-N", "SO4" -> "SO₄"."""
    return name.translate(SUBSCRIPTS)


@cache
def name_parts(name: str) -> tuple[str, str]:
    """Return a product's name in two: what it is, and which grade or hydrate: ("Magnesium sulfate", "7-hydrate")."""
    found = _NAME_PARTS.match(name)
    if found is None:
        return name, ""
    rest = found["rest"].strip(" ,")
    for long, short in HYDRATES.items():
        rest = re.sub(rf"\b{long}\b", short, rest)
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


def millilitres_per_1000_litres(ml_per_1000_l: float) -> str:
    """Return how much of a liquid goes into 1000 L of feed, the way acid is measured out."""
    return _("{number} mL/1000 L").format(number=format_short(ml_per_1000_l))


def milligrams_per_litre(mg_per_l: float) -> str:
    """Return a concentration with its unit."""
    return _("{number} mg/L").format(number=format_short(mg_per_l))


def strength(percent: float) -> str:
    """Return the strength of an acid as its container prints it."""
    return _("{percent} %").format(percent=format_short(percent, 4))


def tank_volume(volume_l: float) -> str:
    """Return how much one tank holds."""
    return _("{volume} L tank").format(volume=format_short(volume_l, 4))
