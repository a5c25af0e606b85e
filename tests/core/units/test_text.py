"""Numbers as people type them: either mark, fractions, arithmetic, foreign digits; never ten times too much."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.units import AmbiguousText, UnitError, read_number, read_quantity
from core.units.text import leading_number, normal


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("12.5", 12.5),
        ("12,5", 12.5),
        ("0,0475", 0.0475),
        ("1.234", 1.234),
        ("0,475", 0.475),
        ("1,25", 1.25),
        ("1,2345", 1.2345),
        ("0012,500", 12.5),
        ("1.000", 1),
        ("1 234,567", 1234.567),
        ("1.5 + 1.000", 2.5),
        ("1,5 + 1,25", 2.75),
        ("1234", 1234),
        (".5", 0.5),
        (",5", 0.5),
        ("12.", 12),
        (" 7 ", 7),
        ("+7", 7),
        ("-7", -7),
        ("−7", -7),
        ("–7", -7),
        ("- 7", -7),
        ("1 234", 1234),
        ("1\u00a0234", 1234),
        ("1\u2009234", 1234),
        ("1\u202f234\u202f567,8", 1234567.8),
        ("1'234.5", 1234.5),
        ("1’234", 1234),
        ("1e-3", 0.001),
        ("2,5E3", 2500),
        ("3*12.6", 37.8),
        ("3 × 12,6", 37.8),
        ("3 x 25", 75),
        ("3·4", 12),
        ("100+50", 150),
        ("1+2*3", 7),
        ("12/5/2", 1.2),
        ("1/2", 0.5),
        ("1 / 2", 0.5),
        ("1 1/2", 1.5),
        ("2 3/16", 2.1875),
        ("1 1/2 * 2", 3),
        ("2 * 1 1/2", 3),
        ("½", 0.5),
        ("1½", 1.5),
        ("1 ½", 1.5),
        ("¾", 0.75),
        ("1⁄4", 0.25),
        ("1 100/200", 5.5),
        ("٣٫٥", 3.5),
        ("١٬٢٣٤", 1234),
        ("१२", 12),
        ("１２，５", 12.5),
        ("-0", 0),
    ],
)
def test_numbers(text: str, number: float) -> None:
    assert read_number(text) == pytest.approx(number, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "readings"),
    [
        ("1.234,5", ("1234.5",)),
        ("1,234.5", ("1234.5",)),
        ("1,234,567", ("1234567",)),
        ("1.234.567", ("1234567",)),
        ("1.234.567,8", ("1234567.8",)),
        ("3*1.234,5", ("1234.5",)),
        ("1,000", ("1000", "1.0")),
        ("-1,000", ("1000", "1.0")),
        ("1,234", ("1234", "1.234")),
        ("12,500", ("12500", "12.5")),
        ("999,999", ("999999", "999.999")),
        ("３，５００", ("3500", "3.5")),
        ("2*1,000", ("1000", "1.0")),
        ("0,5 + 1,000", ("1000", "1,0")),
        ("1.000 + 0,5", ("1000", "1,0")),
        ("2,5 * 1.234", ("1234", "1,2340")),
        ("12-15", ()),
        ("12–15", ()),
        ("12 - 15", ()),
    ],
)
def test_ambiguous_numbers_are_refused_aloud(text: str, readings: tuple[str, ...]) -> None:
    with pytest.raises(AmbiguousText) as caught:
        read_number(text)
    assert caught.value.readings == readings
    assert all(reading in str(caught.value) for reading in readings)
    for reading in readings:
        read_number(reading)  # without a question


@pytest.mark.parametrize(
    "text",
    [
        "", " ", "abc", "-", "+", ".", ",", "e5", "1 23", "12 3456", "1/0", "1 1/0", "1e999", "9" * 99 + "*1e300", "1e",
        "NaN", "inf", "1 2 3", "1**2", "1//2", "1*", "--1", "1*-2", "(1+2)", "<0.05", "> 3", "~2", "1_000", "5 g",
        "1" * 101, "10²", "10⁻³", "²", "三",
    ],
)  # fmt: skip
def test_what_is_no_number(text: str) -> None:
    with pytest.raises(UnitError) as caught:
        read_number(text)
    assert str(caught.value).isprintable()
    assert str(caught.value).endswith((".", "?"))


def test_bounds_of_a_report_are_told_apart() -> None:
    with pytest.raises(UnitError, match="gives a bound, not a number"):
        read_number("<0.05")


@pytest.mark.parametrize(("text", "grouped"), [("1 234", True), ("1234", False), ("1 1/2", False), ("1'234", True)])
def test_grouping_is_reported(text: str, grouped: bool) -> None:
    assert leading_number(normal(text)).grouped is grouped


@given(st.floats(-1e15, 1e15).filter(lambda number: number == 0 or abs(number) > 1e-15), st.sampled_from(".,"))
def test_what_python_writes_reads_back_with_either_mark(number: float, mark: str) -> None:
    """But for a comma before three digits, which half the world reads as thousands."""
    text = repr(number).replace(".", mark)
    if re.fullmatch(r"-?[1-9]\d{0,2},\d{3}", text):
        with pytest.raises(AmbiguousText):
            read_number(text)
    else:
        assert read_number(text) == number


@given(st.integers(1, 999), st.integers(0, 999), st.sampled_from((" L", "", " m³")))
def test_nothing_written_with_a_comma_for_thousands_is_read_a_thousand_times_too_small(
    thousands: int, rest: int, unit: str
) -> None:
    with pytest.raises(AmbiguousText) as caught:
        read_quantity(f"{thousands},{rest:03}{unit}", "volume", "L")
    assert caught.value.readings[0] == f"{thousands}{rest:03}"


def sentence_or_nothing(text: str) -> str:
    try:
        read_number(text)
    except UnitError as error:
        return str(error)
    return ""


@given(st.text(max_size=30))
def test_any_text_is_a_number_or_refused_in_one_sentence(text: str) -> None:
    assert sentence_or_nothing(text).isprintable()


@given(st.text("0123456789.,+*/x- eE½'", max_size=25))
def test_any_arithmetic_is_a_number_or_refused_in_one_sentence(text: str) -> None:
    assert sentence_or_nothing(text).isprintable()
