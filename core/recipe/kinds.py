"""The kinds of file this program keeps, and what the strict reader must know of each."""

from __future__ import annotations

from typing import NamedTuple

from core.phrase import Phrase


class FileKind(NamedTuple):
    """One kind of file: its mark, its bounds, and what is said of a file that is none.

    `too_large` has the blanks size and most [MB]; the others are whole.
    """

    format: str
    most_bytes: int
    most_members: int
    too_large: str
    choose: str
    choose_older: str
    choose_utf8: str
    no_such: str
    another_format: str
    no_format: str
    choose_format: str


RECIPE = FileKind(
    format="saltwright-recipe",
    most_bytes=1_000_000,
    most_members=200,
    too_large=Phrase("is {size:.1f} MB, and a recipe is at most {most:.0f} MB"),
    choose=Phrase("choose a recipe file"),
    choose_older=Phrase("choose a recipe file, or go back to an older copy of this one"),
    choose_utf8=Phrase("choose a recipe file saved as UTF-8"),
    no_such=Phrase("is JSON but no recipe"),
    another_format=Phrase("is JSON but no recipe, it names another format"),
    no_format=Phrase("is JSON but no recipe, it names no format"),
    choose_format=Phrase('choose a recipe file; it says "format": "saltwright-recipe" at its top'),
)
