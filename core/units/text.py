"""Numbers as people type them: either decimal mark, fractions, simple arithmetic; never a silent factor of ten.

One rule for marks: the point and the comma are both the decimal mark, so "12,5" and "12.5" are both 12.5. What half the
world reads as thousands is refused aloud: a second mark in one number, a comma before three digits as in "1,000", and
in a text whose commas are decimal marks a point before three. Spaces and apostrophes alone group digits: "1 234".
"""

from __future__ import annotations

import math
import re
import unicodedata
from typing import NamedTuple

from core.phrase import Phrase
from core.units.errors import AmbiguousText, UnitError, shown

LONGEST_TEXT = 100

_NUMBER = r"(?:\d{1,3}(?: \d{3})+(?!\d)|\d+|(?=[.,]\d))(?:[.,]\d*)*(?:[eE][+-]?\d{1,3}(?!\d))?"
_MIXED = re.compile(r"(?<![\d.,])(\d+) (\d{1,2}) ?/ ?(\d{1,2})(?![\d.,])")  # three digits would be grouping
_TERM = rf"(?:{_MIXED.pattern}|{_NUMBER})"
_EXPRESSION = re.compile(rf"{_TERM}(?: ?[*x/+] ?{_TERM})*")
_GROUPED = re.compile(r"\d \d{3}")
_DASHES = str.maketrans(dict.fromkeys("−–‒‐‑﹣－", "-") | dict.fromkeys("×·∙⋅", "*") | {"⁄": "/", "∕": "/", "÷": "/"})
_MARKS = str.maketrans({"٫": ".", "٬": " ", "º": "°", "˚": "°"})  # the Arabic mark for thousands only ever groups
_LOOSE_RAISED_DIGIT = re.compile(r"(?<![A-Za-zµμ⁻])[⁰¹²³⁴-⁹₀-₉]")  # "m³" and "NO₃" are units, "10²" must not be 102
_THOUSANDS = {mark: re.compile(rf"[1-9]\d{{0,2}}{re.escape(mark)}\d{{3}}") for mark in ",."}
_DECIMAL_COMMA = re.compile(r"\d+,\d+")
_APOSTROPHE = re.compile(r"(?<=\d)['’](?=\d{3}(?!\d))")


class NumberRead(NamedTuple):
    """A number at the start of a text, and what follows it; `grouped` tells that spaces were read as grouping."""

    value: float
    grouped: bool
    rest: str


def read_number(text: str) -> float:
    """Return the number a text says, such as "12,5", "1 1/2", "3*12.6", "½", "−4" or "1e-3".

    Raises
    ------
    AmbiguousText : two decimal marks ("1.234,5"), one that may part thousands ("1,000"), a dash that could be a range.
    UnitError : empty, not a number, not finite, divided by zero.
    """
    plain = normal(text)
    refuse_thousands(plain)
    found = leading_number(plain)
    if found.rest:
        raise UnitError(Phrase("{text} is not a number.", text=shown(text)))
    return found.value


def normal(text: str) -> str:
    """Return typed text with ASCII digits, marks, dashes and single spaces, compatibility letters replaced.

    Raises
    ------
    UnitError : empty, longer than any quantity, or with raised digits after a number.
    """
    if len(text) > LONGEST_TEXT:
        raise UnitError(Phrase("{text} is too long for a quantity.", text=shown(text)))
    if _LOOSE_RAISED_DIGIT.search(text):
        raise UnitError(Phrase("{text} holds a raised or lowered digit; write powers like 1e-3.", text=shown(text)))
    spelled = "".join(_spelled_fraction(letter) for letter in text)
    folded = unicodedata.normalize("NFKC", spelled.translate(_MARKS)).translate(_DASHES)
    plain = " ".join(_APOSTROPHE.sub(" ", "".join(map(_ascii_digit, folded))).split())
    if not plain:
        raise UnitError(Phrase("Nothing is typed."))
    return plain


def refuse_thousands(text: str, *, decimal_comma: bool = False) -> None:
    """Refuse a number that may be meant a thousand times as large; "0,475", "12,5" and "1.000" alone are no such.

    decimal_comma : commas are decimal marks where this text stands, so that a point may part thousands; those of the
        text itself are looked at in any case

    Raises
    ------
    AmbiguousText : with both ways to write it.
    """
    commas = decimal_comma or has_decimal_comma(text)
    for number in re.findall(_NUMBER, text):
        if _THOUSANDS[","].fullmatch(number) or (commas and _THOUSANDS["."].fullmatch(number)):
            sentence = Phrase("{text} can be read as thousands and as decimals", text=shown(number))
            raise AmbiguousText(sentence, _whole_or_decimals(number, "," if commas else "."))


def has_decimal_comma(text: str) -> bool:
    """Tell whether a text holds a number whose comma can only be a decimal mark."""
    numbers = re.findall(_NUMBER, text)
    return any(_DECIMAL_COMMA.fullmatch(one) and not _THOUSANDS[","].fullmatch(one) for one in numbers)


def _whole_or_decimals(number: str, mark: str) -> tuple[str, str]:
    """Return "1,000" as 1000 and as 1.0, each read without a question."""
    head, last = re.split("[.,]", number)
    decimals = last.rstrip("0") or "0"
    if mark == "," and len(decimals) == len(last):
        decimals += "0"
    return head + last, f"{head}{mark}{decimals}"


def leading_number(text: str) -> NumberRead:
    """Read the number or the simple arithmetic at the start of a text made `normal`."""
    sign = -1.0 if text.startswith("-") else 1.0
    unsigned = text[1:].lstrip() if text[0] in "+-" else text
    found = _EXPRESSION.match(unsigned)
    if found is None:
        raise UnitError(_why_no_number(text))
    rest = unsigned[found.end() :].strip()
    _refuse_second_number(text, found.group(), rest)
    value = sign * _evaluated(found.group())
    if not math.isfinite(value):
        raise UnitError(Phrase("{text} is too large a number.", text=shown(text)))
    return NumberRead(value + 0.0, bool(_GROUPED.search(found.group())), rest)


def _why_no_number(text: str) -> str:
    if text[0] in "<>≤≥~":
        return Phrase("{text} gives a bound, not a number; leave it out or type the number itself.", text=shown(text))
    return Phrase("{text} does not begin with a number.", text=shown(text))


def _refuse_second_number(text: str, number: str, rest: str) -> None:
    if re.match(r"- ?[\d.,]", rest):
        raise AmbiguousText(Phrase("{text} could be a range or a subtraction", text=shown(text)), ())
    if re.match(r"[\d.,*/+]", rest):
        raise UnitError(Phrase("{text} cannot be read after {number}.", text=shown(text), number=shown(number)))


def _evaluated(expression: str) -> float:
    """Return sums of products; a mixed number binds closest."""
    return sum(_product(part) for part in re.split(r"(?<![eE])\+", expression))


def _product(text: str) -> float:
    """Return a product of factors and divisors, left to right, such as "3*12.6" or "1 1/2 * 2"."""
    pieces = re.split(r" ?([*x/]) ?", _MIXED.sub(_closed_fraction, text.strip()))
    value = _single(pieces[0])
    for mark, piece in zip(pieces[1::2], pieces[2::2], strict=True):
        value = _divided(value, _single(piece)) if mark == "/" else value * _single(piece)
    return value


def _closed_fraction(mixed: re.Match[str]) -> str:
    whole, part, of = (int(digits) for digits in mixed.groups())
    return repr(whole + _divided(part, of))


def _divided(value: float, divisor: float) -> float:
    if divisor == 0:
        raise UnitError(Phrase("Nothing can be divided by zero."))
    return value / divisor


def _single(number: str) -> float:
    marks = re.findall(r"[.,]", number)
    if len(marks) > 1:
        raise AmbiguousText(Phrase("{text} has more than one decimal mark", text=shown(number)), _readings(number))
    return float(number.replace(",", ".").replace(" ", ""))


def _readings(number: str) -> tuple[str, ...]:
    """Return what a number with several marks could say: all grouping, or the last one the decimal mark."""
    head, last = re.split(r"[.,](?=[^.,]*$)", number)
    whole = re.sub(r"[., ]", "", head)
    marks = set(re.findall(r"[.,]", number))
    as_decimal = f"{whole}.{last}" if last else whole
    return (as_decimal,) if len(marks) == 2 else (f"{whole}{last}",)


def _spelled_fraction(letter: str) -> str:
    """Return "½" as " 1/2", so that "1½" is one and a half and not eleven halves."""
    parts = unicodedata.decomposition(letter)
    if not parts.startswith("<fraction>"):
        return letter
    return " " + unicodedata.normalize("NFKC", letter).replace("⁄", "/")


def _ascii_digit(letter: str) -> str:
    return letter if letter.isascii() else str(unicodedata.decimal(letter, letter))
