"""The errors of typed text: one sentence each, and for ambiguous text the readings it could have."""

from __future__ import annotations

LONGEST_SHOWN = 40


class UnitError(ValueError):
    """Typed text that cannot be read as the quantity asked for; `str()` is one sentence."""


class AmbiguousText(UnitError):
    """Typed text with more than one honest reading; it is never guessed.

    `readings` are numbers or units that would be read without a question, such as ("US gal", "imp gal").
    """

    def __init__(self, sentence: str, readings: tuple[str, ...]) -> None:
        super().__init__(sentence, readings)
        self.readings = readings

    def __str__(self) -> str:
        sentence: str = self.args[0]
        return f"{sentence}; did you mean {' or '.join(self.readings)}?" if self.readings else f"{sentence}."


def shown(text: str) -> str:
    """Return typed text fit for a sentence: shortened, unprintable characters as "?", in quotation marks."""
    short = text if len(text) <= LONGEST_SHOWN else text[:LONGEST_SHOWN] + "…"
    return '"' + "".join(letter if letter.isprintable() else "?" for letter in short) + '"'
