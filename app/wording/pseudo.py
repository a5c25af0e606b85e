"""A language nobody speaks, for tests and pictures: every text is two fifths longer and marked letter by letter.

What is not in it has come past the wording; what it cuts, a real language will cut.
"""

from __future__ import annotations

import re
from gettext import NullTranslations
from math import ceil

ACCENTED = str.maketrans("aeiouyAEIOUY", "áéíóúýÁÉÍÓÚÝ")
LONGER_BY = 0.4
ELEMENTS = frozenset({"Ca", "Cu", "Fe", "Mo", "Na", "Si"})
"""Symbols that are written with a vowel; capitals alone, such as EC and EDTA, are symbols too."""

_KEPT = re.compile(r"(\{[^}]*\}|\*\.\w+|<[^>]+>|&\w+;|https?://\S+)")
"""Blanks, file endings, tags: what a translator must not touch."""
_WORD = re.compile(r"[A-Za-z]{2,}|\ba\b")
_VOWEL = re.compile("[áéíóúýÁÉÍÓÚÝ]")


class Pseudo(NullTranslations):
    """Makes its texts on the fly from the English ones."""

    def gettext(self, message: str) -> str:
        """Return the text with its blanks as they were, everything else accented and longer."""
        parts = _KEPT.split(message)
        return "".join(part if number % 2 else _WORD.sub(_stretched, part) for number, part in enumerate(parts))


def _stretched(found: re.Match[str]) -> str:
    """Return a word accented, its last vowel drawn out; without a vowel it is a symbol, such as "mL", and stays."""
    if found.group().isupper() or found.group() in ELEMENTS:
        return found.group()
    word = found.group().translate(ACCENTED)
    vowels = list(_VOWEL.finditer(word))
    if not vowels:
        return word
    last = vowels[-1]
    return word[: last.end()] + last.group().lower() * ceil(LONGER_BY * len(word)) + word[last.end() :]
