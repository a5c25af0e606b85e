"""The logbook as a kind of file: its mark, its bounds and its schema steps."""

from __future__ import annotations

from core.phrase import Phrase
from core.recipe.kinds import FileKind
from core.recipe.migrations import Step

SCHEMA = 1
"""The newest schema this program reads, and the only one it writes."""

STEPS: dict[int, Step] = {}
"""Schema number -> the step that lifts a document from it to the next."""

LOGBOOK = FileKind(
    format="saltwright-log",
    most_bytes=20_000_000,
    most_members=50_000,
    too_large=Phrase("is {size:.0f} MB, and a logbook is at most {most:.0f} MB"),
    choose=Phrase("choose a logbook file"),
    choose_older=Phrase("choose a logbook file, or go back to an older copy of this one"),
    choose_utf8=Phrase("choose a logbook file saved as UTF-8"),
    no_such=Phrase("is JSON but no logbook"),
    another_format=Phrase("is JSON but no logbook, it names another format"),
    no_format=Phrase("is JSON but no logbook, it names no format"),
    choose_format=Phrase('choose a logbook file; it says "format": "saltwright-log" at its top'),
)

TABLE = LOGBOOK._replace(
    too_large=Phrase("is {size:.0f} MB, and a table is at most {most:.0f} MB"),
    choose=Phrase("choose a table, a CSV file"),
)
"""A diary as a table, of which a logbook's bounds hold."""
