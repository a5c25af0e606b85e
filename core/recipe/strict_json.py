"""Bytes to plain values, strictly: every kind of damage ends in one RecipeError, never in a crash or a guess."""

from __future__ import annotations

import codecs
import json
import math
import re
import unicodedata
from typing import Any

from core.recipe.errors import Path, RecipeError, quoted

MAX_BYTES = 1_000_000
MAX_DEPTH = 20
MAX_MEMBERS = 200
MAX_TEXT = 200
SMALLEST_NUMBER = 1e-9
"""Anything smaller but not zero is a slip: no amount, price or reading of this trade is below a billionth."""

_NEXT_BRACKET = re.compile(r'(?:[^"\[\]{}]++|"(?:[^"\\]++|\\.)*+"?)*+([\[\]{}]?)', re.DOTALL)
"""The next bracket outside strings, or the end: possessive and never failing, so that it reads no letter twice."""
_STEP = {"[": 1, "{": 1, "]": -1, "}": -1, "": 0}
_FORBIDDEN_CATEGORIES = frozenset({"Cc", "Cs", "Zl", "Zp"})
_BIDI_CONTROLS = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


class _Object(dict[str, Any]):
    """A JSON object that remembers a name it was given twice."""

    repeated: str | None = None


def parse(data: bytes) -> Any:
    """Return the JSON value of a UTF-8 file, its texts, numbers and sizes checked.

    Raises
    ------
    RecipeError : too large, not UTF-8, not JSON, nested too deep, or a value `check_values` refuses.
    """
    text = _decoded(data)
    _check_depth(text)
    try:
        value = json.loads(text, object_pairs_hook=_object, parse_float=_float, parse_int=_int, parse_constant=float)
    except json.JSONDecodeError as error:
        raise RecipeError(
            f"is not valid JSON at line {error.lineno}, column {error.colno}: {error.msg}",
            "look there for a missing comma, quotation mark or bracket",
        ) from None
    check_values(value)
    return value


def check_values(value: Any, path: Path = ()) -> None:
    """Refuse texts, numbers and sizes no recipe may hold, wherever they stand in plain JSON values.

    Raises
    ------
    RecipeError : a name given twice, a text too long or with control characters, a number not finite, too many members.
    """
    if isinstance(value, str):
        _check_text(value, path)
    elif isinstance(value, float):
        _check_number(value, path)
    elif isinstance(value, dict):
        _check_object(value, path)
    elif isinstance(value, list | tuple):
        _check_size(len(value), path)
        for index, member in enumerate(value):
            check_values(member, (*path, index))


def _decoded(data: bytes) -> str:
    if len(data) > MAX_BYTES:
        raise too_large(len(data))
    if not data.strip():
        raise RecipeError("is empty", "choose a recipe file, or go back to an older copy of this one")
    try:
        return data.removeprefix(codecs.BOM_UTF8).decode("utf-8")
    except UnicodeDecodeError as error:
        raise RecipeError(
            f"is not UTF-8 text (byte {error.start + 1} cannot be read)", "choose a recipe file saved as UTF-8"
        ) from None


def too_large(size_bytes: int) -> RecipeError:
    """Return the refusal of a file of this size."""
    return RecipeError(
        f"is {size_bytes / 1e6:.1f} MB, and a recipe is at most {MAX_BYTES / 1e6:.0f} MB", "choose a recipe file"
    )


def _check_depth(text: str) -> None:
    """Count brackets outside strings, without recursion, before anything recursive sees the text."""
    depth = 0
    for found in _NEXT_BRACKET.finditer(text):
        depth += _STEP[found[1]]
        if depth > MAX_DEPTH:
            line = text.count("\n", 0, found.end()) + 1
            raise RecipeError(f"is nested more than {MAX_DEPTH} deep at line {line}", "look there for stray brackets")


def _object(pairs: list[tuple[str, Any]]) -> _Object:
    made = _Object()
    for name, value in pairs:
        if name in made:
            made.repeated = name
        made[name] = value
    return made


def _float(text: str) -> float:
    return float(text) + 0.0  # -0.0 becomes 0.0


def _int(text: str) -> int | float:
    return int(text) if len(text) <= 15 else float(text)  # never meets int's limit of digits


def _check_object(value: dict[str, Any], path: Path) -> None:
    repeated = getattr(value, "repeated", None)
    if repeated is not None:
        raise RecipeError(f"holds the name {quoted(repeated)} twice", "keep one of the two", path)
    _check_size(len(value), path)
    for name, member in value.items():
        _check_text(name, path)
        check_values(member, (*path, name))


def _check_size(count: int, path: Path) -> None:
    if count > MAX_MEMBERS:
        raise RecipeError(f"has {count} entries, and at most {MAX_MEMBERS} are read", "take some out", path)


def _check_number(number: float, path: Path) -> None:
    if not math.isfinite(number):
        raise RecipeError("is not a finite number", "write an ordinary number", path)
    if 0 < abs(number) < SMALLEST_NUMBER:
        raise RecipeError(f"is {number:g}, too small to be meant", "write 0 or an ordinary number", path)


def _check_text(text: str, path: Path) -> None:
    if len(text) > MAX_TEXT:
        raise RecipeError(
            f"holds a text of {len(text)} characters, and at most {MAX_TEXT} are read: {quoted(text)}",
            "shorten it",
            path,
        )
    for letter in text:
        if unicodedata.category(letter) in _FORBIDDEN_CATEGORIES or letter in _BIDI_CONTROLS:
            raise RecipeError(
                f"holds the invisible control character U+{ord(letter):04X} in {quoted(text)}",
                "type the text anew",
                path,
            )
