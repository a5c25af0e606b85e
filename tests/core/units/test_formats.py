"""Amounts written out: what a scale shows, in either system."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.units import format_mass, format_volume, plain_number, read_number, read_quantity

TENTH_OZ_G = 2.834952


@pytest.mark.parametrize(
    ("grams", "text"),
    [
        (640 * 3.785411784 * 0.590, "3 lb 2.4 oz"),
        (640 * 3.785411784 * 0.260, "1 lb 6.2 oz"),
        (640 * 3.785411784 * 0.155, "13.2 oz"),
        (640 * 3.785411784 * 0.310, "1 lb 10.5 oz"),
        (15.96 * 28.349523125, "1 lb 0.0 oz"),
        (15.94 * 28.349523125, "15.9 oz"),
        (0, "0.0 oz"),
    ],
)
def test_pounds_and_ounces_to_a_tenth(grams: float, text: str) -> None:
    assert format_mass(grams, "us", readability_g=TENTH_OZ_G) == text


@pytest.mark.parametrize(
    ("grams", "readability_g", "text"),
    [
        (43.606, 0.01, "43.61 g"),
        (0.319, 0.01, "0.32 g"),
        (1429.4, 1, "1429 g"),
        (1429.4, 0.5, "1429.4 g"),
        (12.3456, 0.05, "12.35 g"),
        (43.606, None, "43.61 g"),
        (1234.56, None, "1235 g"),
        (0.00123456, None, "0.001235 g"),
        (0, None, "0 g"),
    ],
)
def test_grams(grams: float, readability_g: float | None, text: str) -> None:
    assert format_mass(grams, "metric", readability_g=readability_g) == text


def test_decimal_mark_is_the_caller_s() -> None:
    assert format_mass(43.606, "metric", readability_g=0.01, decimal_mark=",") == "43,61 g"
    assert format_mass(1429, "us", readability_g=TENTH_OZ_G, decimal_mark=",") == "3 lb 2,4 oz"
    assert format_volume(1.5, "metric", decimal_mark=",") == "1,5 L"
    assert plain_number(0.5, ",") == "0,5"


@pytest.mark.parametrize(
    ("litres", "system", "text"),
    [
        (0.85, "metric", "850 mL"),
        (50, "metric", "50 L"),
        (1.2361, "us", "41.8 US fl oz"),
        (38.6, "us", "10.2 US gal"),
        (1, "imperial", "35.2 imp fl oz"),
        (10, "imperial", "2.2 imp gal"),
        (0, "metric", "0 mL"),
        (0.9999, "metric", "1000 mL"),
        (3.785411784, "us", "1 US gal"),
    ],
)
def test_volume(litres: float, system: str, text: str) -> None:
    assert format_volume(litres, system) == text  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("number", "text"),
    [(0, "0"), (12.5, "12.5"), (1e-7, "0.0000001"), (1e15, "1000000000000000"), (1 / 3, "0.3333333333")],
)
def test_plain_number(number: float, text: str) -> None:
    assert plain_number(number) == text


@given(st.floats(-1e9, 1e9).filter(lambda number: number == 0 or abs(number) > 1e-9))
def test_plain_numbers_read_back(number: float) -> None:
    assert read_number(plain_number(number)) == pytest.approx(number, rel=1e-9)


@given(st.floats(0, 1e6), st.sampled_from([0.001, 0.01, 0.1, 1.0, TENTH_OZ_G]))
def test_ounces_never_reach_a_pound_and_read_back_within_a_step(grams: float, readability_g: float) -> None:
    text = format_mass(grams, "us", readability_g=readability_g)
    ounces = float(text.removesuffix(" oz").split(" lb ")[-1])
    assert 0 <= ounces < 16
    assert read_quantity(text, "mass", "g").value == pytest.approx(grams, abs=readability_g, rel=1e-9)
