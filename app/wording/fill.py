"""Fill the blanks of a sentence: every value is put into words by what its name says it is."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from itertools import combinations
from typing import Any

from app.wording.language import gettext as _
from app.wording.numbers import format_decimals, format_short
from app.wording.words import (
    because_short,
    catalog_words,
    crop_in_sentence,
    joined,
    nutrient_word,
    salt_in_sentence,
    solid_word,
    tank_title,
    water_word,
    why_ph_missed,
)

WORD_OF: dict[str, Callable[[str], str]] = {
    "nutrient": nutrient_word,
    "salt": salt_in_sentence,
    "entry_id": salt_in_sentence,
    "content": tank_title,
    "solid": solid_word,
    "which_water": water_word,
    "crop": crop_in_sentence,
    "why": why_ph_missed,
    "result": catalog_words,
    "because": because_short,
}
"""Blank -> who finds its word. A list of them stands under the plural: "nutrients", "salts" ..."""

PLURALS = {
    "nutrients": "nutrient",
    "salts": "salt",
    "other_salts": "salt",
    "entry_ids": "entry_id",
    "contents": "content",
    "solids": "solid",
}

UNIT_OF = (
    ("_mg_per_l", "mg/L"),
    ("_meq_per_l", "meq/L"),
    ("_ms_per_cm", "mS/cm"),
    ("_ml_per_l", "mL/L"),
    ("percent", "%"),
    ("_c", "°C"),
    ("_kg", "kg"),
    ("_g", "g"),
    ("_l", "L"),
)
"""How a blank ends -> its unit; the longer endings stand before those they end in."""


class _Blanks(dict[str, str]):
    """The filled blanks of one sentence; what the data leaves out shows as a question mark, never as a number."""

    def __missing__(self, name: str) -> str:
        return "?"


def fill(template: str, data: Mapping[str, Any]) -> str:
    """Return the sentence with each blank in words, its first letter large."""
    words = {name: in_words(name, value) for name, value in data.items()}
    text = template.format_map(_Blanks(_apart(words, data)))
    return text[:1].upper() + text[1:] if template.startswith("{") else text


def _apart(words: dict[str, str], data: Mapping[str, Any]) -> dict[str, str]:
    """The words with more digits for figures that differ but read the same: "125 where 125 is wanted" says nothing."""
    for one, other in combinations([name for name in words if isinstance(data[name], float)], 2):
        ending = _ending(one)
        for digits in range(4, 7):
            if data[one] == data[other] or words[one] != words[other] or ending is None or ending != _ending(other):
                break
            words |= {name: _with_unit(format_short(data[name], digits), ending[1]) for name in (one, other)}
    return words


def _ending(name: str) -> tuple[str, str] | None:
    """How a blank of a measured figure ends, and its unit; None for ratios, pH and bare numbers."""
    return next((pair for pair in UNIT_OF if name.endswith(pair[0]) and pair[0] not in ("percent", "_c")), None)


def _with_unit(number: str, unit: str) -> str:
    return _("{number} {unit}").format(number=number, unit=unit)


def in_words(name: str, value: Any) -> str:
    """Return one value in words: ("target_mg_per_l", 128.0) -> "128 mg/L", ("nutrient", "K") -> "potassium"."""
    if value in (None, (), []):
        return "?"
    if name in PLURALS:
        return joined([in_words(PLURALS[name], one) for one in value])
    if isinstance(value, str):
        return WORD_OF[name](value) if name in WORD_OF else value
    if isinstance(value, (list, tuple)):
        return joined([in_words(name, one) for one in value])
    return _number(name, float(value))


def _number(name: str, value: float) -> str:
    if name == "ratio" or name.endswith("_ratio") or name.startswith("ratio_"):
        return f"1:{float(f'{value:.3g}'):g}"
    if name == "ph" or name.startswith("ph_") or name.endswith("_ph"):
        return format_decimals(value, 1)
    for ending, unit in UNIT_OF:
        if name.endswith(ending):
            return _with_unit(_digits(ending, value), unit)
    return f"{value:g}"


def _digits(ending: str, value: float) -> str:
    if ending == "_c":
        return f"{value:g}"
    return format_short(value, 2 if ending == "percent" else 3)
