"""Weights and volumes as they are printed."""

import pytest

from app.paper.amounts import Style, capacity, grouped, is_ounce_step, ounces, step, style_for

TENTH_OZ = 2.834952


@pytest.mark.parametrize(
    ("units", "grams", "step_g", "text"),
    [
        ("auto", 1428.816, TENTH_OZ, "3 lb 2.4 oz"), ("auto", 374.214, TENTH_OZ, "13.2 oz"),
        ("auto", 43.61, 0.01, "43.61 g"), ("auto", 2337.0, 1.0, "2\xa0337 g"),
        ("metric", 1428.816, TENTH_OZ, "1\xa0428.816 g"), ("us", 453.59237, 1.0, "1 lb 0.00 oz"),
        ("us", 12.92, 0.01, "12.92 g"), ("us", 907.18474, None, "2 lb 0.00 oz"), ("us", 1.5, None, "1.500 g"),
    ],
)  # fmt: skip
def test_weights(units, grams, step_g, text):
    assert Style(units).weight(grams, step_g) == text


@pytest.mark.parametrize(
    ("step_g", "is_ounces"),
    [(TENTH_OZ, True), (28.349523, True), (0.2834952, True), (1, False), (5, False), (0.01, False), (0.1, False)],
)  # fmt: skip
def test_ounce_steps(step_g, is_ounces):
    assert is_ounce_step(step_g) is is_ounces


def test_us_volumes_follow_the_scales():
    assert style_for("auto", [0.01, TENTH_OZ]).us_volumes
    assert not style_for("auto", [0.01, 1.0]).us_volumes
    assert not style_for("metric", [TENTH_OZ]).us_volumes
    assert style_for("us", []).us_volumes


def test_volumes():
    assert Style().volume(60.0) == "60 L"
    assert Style("us", us_volumes=True).volume(18.92706) == "5 US gal (18.93 L)"
    assert Style().millilitres(1209.0) == "1.209 L"
    assert Style().millilitres(25.0) == "25 mL"


def test_thousands_are_set_apart_without_a_mark():
    assert [grouped(text) for text in ("2105", "999", "1234567.25", "-1000")] == [
        "2\xa0105", "999", "1\xa0234\xa0567.25", "-1\xa0000",
    ]  # fmt: skip


def test_scales_are_named_by_what_they_carry_and_show():
    assert (capacity(6000, in_ounces=False), step(1)) == ("6 kg", "1 g")
    assert (capacity(200, in_ounces=False), step(0.01)) == ("200 g", "0.01 g")
    assert (capacity(5000, in_ounces=True), step(TENTH_OZ)) == ("11 lb", "0.1 oz")


def test_ounces_alone():
    assert ounces(1428.816, TENTH_OZ) == "50.4 oz"


def test_temperatures():
    assert Style().temperature(4.0) == "4 °C"
    assert Style("us", us_volumes=True).temperature(40.0) == "104 °F (40 °C)"
