"""Numbers as people read them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.wording import decimals_of_step, format_decimals, format_number, format_short

finite = st.floats(min_value=-1e9, max_value=1e9, allow_nan=False)


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [
        (0.0475, 3, "0.0475"),
        (0.04751, 3, "0.0475"),
        (168.4, 3, "168"),
        (5320.4, 3, "5320"),
        (9.996, 3, "10.0"),
        (0.0, 3, "0.00"),
        (5.0, 2, "5.0"),
        (0.5, 1, "0.5"),
        (-12.34, 3, "\N{MINUS SIGN}12.3"),
        (math.nan, 3, "?"),
        (math.inf, 3, "?"),
    ],
)
def test_format_number(value: float, digits: int, text: str) -> None:
    assert format_number(value, digits) == text


@given(finite, st.integers(1, 6))
def test_what_is_shown_is_the_value_to_its_digits(value: float, digits: int) -> None:
    shown = float(format_number(value, digits).replace("\N{MINUS SIGN}", "-"))
    assert abs(shown - value) <= 0.5000001 * max(abs(value) * 10.0 ** (1 - digits), 1e-300) or abs(shown - value) <= 0.5


@given(finite, st.integers(1, 6))
def test_no_exponent_and_no_grouping(value: float, digits: int) -> None:
    assert set(format_number(value, digits)) <= set("0123456789.\N{MINUS SIGN}")


def test_nothing_is_never_negative() -> None:
    assert format_decimals(-0.0004, 2) == "0.00"
    assert format_decimals(-0.006, 2) == "\N{MINUS SIGN}0.01"


@pytest.mark.parametrize(
    ("step", "decimals"), [(1.0, 0), (0.1, 1), (0.01, 2), (0.5, 1), (20.0, 0), (2.834952, 3), (28.34952, 2), (0.001, 3)]
)
def test_decimals_of_a_scale(step: float, decimals: int) -> None:
    assert decimals_of_step(step) == decimals


@pytest.mark.parametrize(
    ("value", "text"), [(50.0, "50"), (1.28, "1.28"), (4210.0, "4210"), (0.05, "0.05"), (0.0, "0")]
)
def test_zeros_that_say_nothing_are_left_out(value: float, text: str) -> None:
    assert format_short(value) == text
