"""Dates as people type them; one that could be two days is asked back, never guessed."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.units import AmbiguousText, UnitError, read_date, read_moment


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("2026-11-22", "2026-11-22"), ("22.11.2026", "2026-11-22"), ("3.5.2026", "2026-05-03"),
        (" 03.05.2026 ", "2026-05-03"), ("3. 5. 2026", "2026-05-03"), ("22/11/2026", "2026-11-22"),
        ("11/22/2026", "2026-11-22"), ("5/5/2026", "2026-05-05"),
        ("22.11.2026 8:00", "2026-11-22T08:00"), ("2026-11-22 08:00", "2026-11-22T08:00"),
        ("2026-11-22T8:05", "2026-11-22T08:05"), ("22.11.2026  18:45", "2026-11-22T18:45"),
    ],
)  # fmt: skip
def test_what_is_read(typed: str, kept: str) -> None:
    assert read_moment(typed) == kept


@pytest.mark.parametrize(
    "typed",
    ["", "tomorrow", "22.11.26", "31.2.2026", "5.22.2026", "2026-13-01", "2026-02-30", "20260601", "22.11.2026 8",
     "8:00", "22.11.2026 25:00", "22.11.2026 8:61", "٢٠٢٦-٠٦-٠١", "13/13/2026", "0.1.2026"],
)  # fmt: skip
def test_what_is_no_date(typed: str) -> None:
    with pytest.raises(UnitError, match=r"is no date; write it as 2026-06-01, or 1\.6\.2026 with the day first"):
        read_moment(typed)


def test_day_and_month_either_way_round_are_asked_back_in_one_sentence() -> None:
    with pytest.raises(AmbiguousText) as caught:
        read_moment("3/5/2026 8:00")
    assert str(caught.value) == '"3/5/2026" leaves open which is the month; did you mean 2026-05-03 or 2026-03-05?'


@settings(max_examples=60)
@given(st.dates(min_value=date(1000, 1, 1)))
def test_every_day_is_read_back_from_dots_and_from_iso(day: date) -> None:
    assert read_date(f"{day.day}.{day.month}.{day.year}") == read_date(day.isoformat()) == day.isoformat()
