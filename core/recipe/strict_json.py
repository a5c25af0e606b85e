"""Bytes to plain values, strictly: every kind of damage ends in one RecipeError, never in a crash or a guess."""

from __future__ import annotations

import codecs
import json
import math
import re
import unicodedata
from typing import Any

from core.phrase import Phrase
from core.recipe.errors import DamagedFile, Path, RecipeError, quoted
from core.recipe.kinds import RECIPE, FileKind

MAX_BYTES = RECIPE.most_bytes
MAX_DEPTH = 20
MAX_MEMBERS = RECIPE.most_members
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


def parse(data: bytes, kind: FileKind = RECIPE) -> Any:
    """Return the JSON value of a UTF-8 file, its texts, numbers and sizes checked.

    Parameters
    ----------
    data : the whole file.
    kind : what it should be, which says how large it may be.

    Raises
    ------
    RecipeError : too large, not UTF-8, not JSON, nested too deep, or a value `check_values` refuses.
    """
    text = _decoded(data, kind)
    _check_depth(text)
    try:
        value = json.loads(text, object_pairs_hook=_object, parse_float=_float, parse_int=_int, parse_constant=float)
    except json.JSONDecodeError as error:
        raise DamagedFile(
            Phrase(
                "is not valid JSON at line {line}, column {column}: {reason}",
                line=error.lineno,
                column=error.colno,
                reason=error.msg,
            ),
            "look there for a missing comma, quotation mark or bracket",
        ) from None
    check_values(value, most_members=kind.most_members)
    return value


def check_values(value: Any, path: Path = (), most_members: int = MAX_MEMBERS) -> None:
    """Refuse texts, numbers and sizes no file of ours may hold, wherever they stand in plain JSON values.

    Raises
    ------
    RecipeError : a name given twice, a text too long or with control characters, a number not finite, too many members.
    """
    if isinstance(value, str):
        _check_text(value, path)
    elif isinstance(value, float):
        _check_number(value, path)
    elif isinstance(value, dict):
        _check_object(value, path, most_members)
    elif isinstance(value, list | tuple):
        _check_size(len(value), path, most_members)
        for index, member in enumerate(value):
            check_values(member, (*path, index), most_members)


def _decoded(data: bytes, kind: FileKind) -> str:
    if len(data) > kind.most_bytes:
        raise too_large(len(data), kind)
    if not data.strip():
        raise DamagedFile("is empty", kind.choose_older)
    try:
        return data.removeprefix(codecs.BOM_UTF8).decode("utf-8")
    except UnicodeDecodeError as error:
        raise DamagedFile(
            Phrase("is not UTF-8 text (byte {byte} cannot be read)", byte=error.start + 1),
            kind.choose_utf8,
        ) from None


def too_large(size_bytes: int, kind: FileKind = RECIPE) -> RecipeError:
    """Return the refusal of a file of this size."""
    return RecipeError(Phrase(kind.too_large, size=size_bytes / 1e6, most=kind.most_bytes / 1e6), kind.choose)


def _check_depth(text: str) -> None:
    """Count brackets outside strings, without recursion, before anything recursive sees the text."""
    depth = 0
    for found in _NEXT_BRACKET.finditer(text):
        depth += _STEP[found[1]]
        if depth > MAX_DEPTH:
            line = text.count("\n", 0, found.end()) + 1
            raise DamagedFile(
                Phrase("is nested more than {most} deep at line {line}", most=MAX_DEPTH, line=line),
                "look there for stray brackets",
            )


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


def _check_object(value: dict[str, Any], path: Path, most_members: int) -> None:
    repeated = getattr(value, "repeated", None)
    if repeated is not None:
        raise RecipeError(Phrase("holds the name {name} twice", name=quoted(repeated)), "keep one of the two", path)
    _check_size(len(value), path, most_members)
    for name, member in value.items():
        _check_text(name, path)
        check_values(member, (*path, name), most_members)


def _check_size(count: int, path: Path, most: int) -> None:
    if count > most:
        raise RecipeError(
            Phrase("has {count} entries, and at most {most} are read", count=count, most=most),
            "take some out",
            path,
        )


def _check_number(number: float, path: Path) -> None:
    if not math.isfinite(number):
        raise RecipeError("is not a finite number", "write an ordinary number", path)
    if 0 < abs(number) < SMALLEST_NUMBER:
        raise RecipeError(
            Phrase("is {number:g}, too small to be meant", number=number), "write 0 or an ordinary number", path
        )


def _check_text(text: str, path: Path) -> None:
    if len(text) > MAX_TEXT:
        raise RecipeError(
            Phrase(
                "holds a text of {count} characters, and at most {most} are read: {text}",
                count=len(text),
                most=MAX_TEXT,
                text=quoted(text),
            ),
            "shorten it",
            path,
        )
    if text.isprintable():  # holds nothing of the forbidden, and is found out at once
        return
    for letter in text:
        if unicodedata.category(letter) in _FORBIDDEN_CATEGORIES or letter in _BIDI_CONTROLS:
            raise RecipeError(
                Phrase(
                    "holds the invisible control character U+{code:04X} in {text}", code=ord(letter), text=quoted(text)
                ),
                "type the text anew",
                path,
            )
