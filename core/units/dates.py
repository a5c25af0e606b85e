"""Dates as people write them, kept as year-month-day: ISO, or day.month.year with dots; never guessed."""

from __future__ import annotations

import re
from datetime import datetime

from core.phrase import Phrase
from core.units.errors import AmbiguousText, UnitError, shown

_ISO = re.compile(r"(?P<year>\d{4})-(?P<month>\d\d)-(?P<day>\d\d)", re.ASCII)
_DOTTED = re.compile(r"(?P<day>\d{1,2})\. ?(?P<month>\d{1,2})\. ?(?P<year>\d{4})", re.ASCII)
_SLASHED = re.compile(r"(?P<first>\d{1,2})/(?P<second>\d{1,2})/(?P<year>\d{4})", re.ASCII)
_TIME = re.compile(r"(?P<date>.*?)(?:[ T]+(?P<hour>\d{1,2}):(?P<minute>\d\d))?", re.ASCII)


def read_date(text: str) -> str:
    """Return a typed day as "2026-06-01".

    Raises
    ------
    UnitError : it is no day that there is.
    AmbiguousText : day and month may be either way round, as in 3/5/2026.
    """
    typed = text.strip()
    found = _ISO.fullmatch(typed) or _DOTTED.fullmatch(typed)
    if found is not None:
        return _day(text, *(int(found[name]) for name in ("year", "month", "day")))
    slashed = _SLASHED.fullmatch(typed)
    if slashed is None:
        raise _no_date(text)
    year, first, second = (int(slashed[name]) for name in ("year", "first", "second"))
    if first > 12 or second > 12 or first == second:
        day, month = (first, second) if first > 12 else (second, first)
        return _day(text, year, month, day)
    either = tuple(f"{year:04d}-{month:02d}-{day:02d}" for day, month in ((first, second), (second, first)))
    raise AmbiguousText(Phrase("{text} leaves open which is the month", text=shown(typed)), either)


def read_moment(text: str) -> str:
    """Return a typed day, or a day with its time, as "2026-06-01" or "2026-06-01T08:30".

    Raises
    ------
    UnitError, AmbiguousText : as `read_date`, and for a time that there is not.
    """
    found = _TIME.fullmatch(text.strip())
    if found is None or found["hour"] is None:
        return read_date(text)
    hour, minute = int(found["hour"]), int(found["minute"])
    if hour > 23 or minute > 59:
        raise _no_date(text)
    return f"{read_date(found['date'])}T{hour:02d}:{minute:02d}"


def _day(text: str, year: int, month: int, day: int) -> str:
    try:
        return datetime(year, month, day).date().isoformat()  # noqa: DTZ001 - a day on the wall, in no time zone
    except ValueError:
        raise _no_date(text) from None


def _no_date(text: str) -> UnitError:
    template = "{text} is no date; write it as 2026-06-01, or 1.6.2026 with the day first"
    return UnitError(Phrase(template, text=shown(text.strip())))
