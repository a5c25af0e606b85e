"""Typed quantities: what is understood, what is asked back, and that every unit reads back as it was written."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.units import AmbiguousText, Kind, UnitError, factors, plain_number, read_quantity, value_in
from core.units.lookup import OUR_UNIT, Context

OZ_G = 28.349523125
LB_G = 453.59237


def value(text: str, kind: Kind, **context: Any) -> float:
    return read_quantity(text, kind, OUR_UNIT[kind], **context).value


@pytest.mark.parametrize(
    ("text", "grams"),
    [
        ("12", 12),
        ("12,5 g", 12.5),
        ("12.5g", 12.5),
        ("1 234 g", 1234),
        ("0,25 kg", 250),
        ("250 mg", 0.25),
        ("250 µg", 0.00025),
        ("250 μg", 0.00025),
        ("250 mcg", 0.00025),
        ("1 t", 1e6),
        ("2 lbs", 2 * LB_G),
        ("12.6 oz", 12.6 * OZ_G),
        ("12.6 OZ.", 12.6 * OZ_G),
        ("3*12.6 oz", 37.8 * OZ_G),
        ("3 x 25 kg", 75_000),
        ("½ oz", OZ_G / 2),
        ("1 1/2 lb", 1.5 * LB_G),
        ("7 lb 14 oz", 126 * OZ_G),
        ("7lb14oz", 126 * OZ_G),
        ("7lb2oz", 114 * OZ_G),
        ("7 lb, 14.5 oz", 126.5 * OZ_G),
        ("7 lb + 14 oz", 126 * OZ_G),
        ("7 pounds and 14 ounces", 126 * OZ_G),
        ("2 kg 350 g", 2350),
        ("3 stone", 42 * LB_G),
        ("10 grains", 0.6479891),
        ("2 troy oz", 62.2069536),
        ("1 short ton", 907184.74),
        ("5 decigrammes", 0.5),
    ],
)
def test_mass(text: str, grams: float) -> None:
    assert value(text, "mass") == pytest.approx(grams, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "litres"),
    [
        ("2", 2),
        ("250 mL", 0.25),
        ("250cc", 0.25),
        ("1 l 200 ml", 1.2),
        ("3 m3", 3000),
        ("3 m³", 3000),
        ("1 US gal", 3.785411784),
        ("1 gallon (US)", 3.785411784),
        ("2 U.S. gallons", 7.570823568),
        ("1 imp gal", 4.54609),
        ("1 UK gallon", 4.54609),
        ("1 US fl oz", 0.0295735295625),
        ("1 fl. oz. US", 0.0295735295625),
        ("1 imperial fluid ounce", 0.0284130625),
        ("0.5 tsp", 0.00246446),
        ("1 tablespoon", 0.01478676),
        ("1 metric tsp", 0.005),
        ("1 us gal 2 us qt", 1.5 * 3.785411784),
        ("2 cubic feet", 56.633693184),
    ],
)
def test_volume(text: str, litres: float) -> None:
    assert value(text, "volume") == pytest.approx(litres, rel=2e-6)


@pytest.mark.parametrize(
    ("text", "us_litres", "other_litres"),
    [
        ("1 gal", 3.785411784, 4.54609),
        ("2 gallons", 7.570823568, 9.09218),
        ("1 qt", 0.946352946, 1.1365225),
        ("1 pint", 0.473176473, 0.56826125),
        ("1 cup", 0.2365882365, 0.25),
        ("2 fl oz", 0.059147059125, 0.056826125),
        ("2 floz", 0.059147059125, 0.056826125),
    ],
)
def test_volume_of_two_sizes_needs_a_preference(text: str, us_litres: float, other_litres: float) -> None:
    with pytest.raises(AmbiguousText, match="is of two sizes"):
        value(text, "volume")
    assert value(text, "volume", us_units=True) == pytest.approx(us_litres, rel=1e-12)
    assert value(text, "volume", us_units=False) == pytest.approx(other_litres, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "ms_per_cm"),
    [
        ("1,3", 1.3),
        ("1.3 mS/cm", 1.3),
        ("1.3 dS/m", 1.3),
        ("1.3 mmho/cm", 1.3),
        ("1300 µS/cm", 1.3),
        ("1300 μS/cm", 1.3),
        ("1300 uS", 1.3),
        ("13 CF", 1.3),
        ("0.13 S/m", 1.3),
        ("130 mS/m", 1.3),
        ("650 ppm-500", 1.3),
        ("832 ppm (640)", 1.3),
        ("910 ppm700", 1.3),
        ("245 ppm on 700", 0.35),
    ],
)
def test_conductivity(text: str, ms_per_cm: float) -> None:
    assert value(text, "ec") == pytest.approx(ms_per_cm, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "celsius"),
    [
        ("20", 20), ("-3,5 °C", -3.5), ("20 ºC", 20), ("20℃", 20), ("68 F", 20), ("68°F", 20), ("-40 °F", -40),
        ("32 deg F", 0),
    ],
)  # fmt: skip
def test_temperature(text: str, celsius: float) -> None:
    assert value(text, "temperature") == pytest.approx(celsius, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "percent"), [("3", 3), ("0,3 %", 0.3), ("3 g/kg", 0.3), ("500 ppm", 0.05), ("12 g/100 g", 12)]
)
def test_percent(text: str, percent: float) -> None:
    assert value(text, "percent") == pytest.approx(percent, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "ratio"),
    [
        ("1:100", 100),
        ("1 : 1 000", 1000),
        ("1 in 64", 64),
        ("1 to 128", 128),
        ("5:640", 128),
        ("1:12,5", 12.5),
        ("100", 100),
        ("100x", 100),
        ("1 %", 100),
        ("0.78125 %", 128),
        ("10 mL/L", 100),
        ("5 ml per litre", 200),
        ("10 L/m3", 100),
        ("1 US fl oz/US gal", 128),
        ("2 tsp per US gal", 384),
    ],
)
def test_dilution(text: str, ratio: float) -> None:
    assert value(text, "dilution") == pytest.approx(ratio, rel=1e-12)


def test_dilution_with_gallons_of_two_sizes() -> None:
    with pytest.raises(AmbiguousText):
        value("1 fl oz/gal", "dilution")
    assert value("1 fl oz/gal", "dilution", us_units=True) == pytest.approx(128)
    assert value("1 fl oz/gal", "dilution", us_units=False) == pytest.approx(160)


AMBIGUOUS: list[tuple[str, Kind, tuple[str, ...]]] = [
    ("2 oz", "volume", ("US fl oz", "imp fl oz", "oz by weight")),
    ("910 ppm", "ec", ("ppm-500", "ppm-640", "ppm-700")),
    ("12 gr", "mass", ("g", "grain")),
    ("2 tons", "mass", ("tonne", "short ton", "long ton")),
    ("100 mg/L", "alkalinity", ("mg/L as HCO3", "mg/L as CO3", "mg/L as CaCO3")),
    ("100:1", "dilution", ("1:100",)),
    ("1.234,5 g", "mass", ("1234.5",)),
    ("1,000 L", "volume", ("1000", "1.0")),
    ("1:1,000", "dilution", ("1000", "1.0")),
    ("1.000 kg 0,5 g", "mass", ("1000", "1,0")),
    ("12-15 g", "mass", ()),
    ("15-20 °C", "temperature", ()),
]


@pytest.mark.parametrize(("text", "kind", "readings"), AMBIGUOUS)
def test_ambiguous(text: str, kind: Kind, readings: tuple[str, ...]) -> None:
    with pytest.raises(AmbiguousText) as caught:
        value(text, kind)
    assert caught.value.readings == readings


REFUSED: list[tuple[str, Kind, str]] = [
    ("5 tsp", "mass", '"tsp" is no unit of mass'),
    ("5 g", "volume", '"g" is no unit of volume'),
    ("5 barrels", "volume", "no unit of volume"),
    ("1 quarter", "mass", "no unit of mass"),
    ("5 grains", "volume", "no unit of volume"),
    ("5 Pg", "mass", "no unit of mass"),
    ("20 K", "temperature", "no unit of temperature"),
    ("5 foo", "mass", '"foo" is no unit of mass'),
    ("5 import os", "mass", "no unit of mass"),
    ("14 oz 7 lb", "mass", "does not go from the larger unit to the smaller"),
    ("7 oz 7 oz", "mass", "does not go from the larger"),
    ("7 lb 14", "mass", "ends in a number without a unit"),
    ("-4 g", "mass", "is below zero"),
    ("-1 mS/cm", "ec", "is below zero"),
    ("g", "mass", "does not begin with a number"),
    ("", "mass", "Nothing is typed"),
    ("<0.05", "concentration", "gives a bound"),
    ("0:100", "dilution", "is no dilution"),
    ("1:0", "dilution", "is no dilution"),
    ("0 mL/L", "dilution", "is no dilution"),
    ("5 mL/g", "dilution", '"g" is no unit of volume'),
    ("1e308 t", "mass", "is too large"),
]


@pytest.mark.parametrize(("text", "kind", "words"), REFUSED)
def test_refused(text: str, kind: Kind, words: str) -> None:
    with pytest.raises(UnitError) as caught:
        read_quantity(text, kind, OUR_UNIT[kind], of="Ca")
    assert words in str(caught.value)


def test_a_number_alone_is_in_the_field_s_unit() -> None:
    assert read_quantity("2", "mass", "kg").value == 2000
    assert read_quantity("2", "mass", "kg").echo() == "2 kg"
    assert read_quantity("68", "temperature", "°F").value == pytest.approx(20)
    assert read_quantity("5", "dilution", "mL/L").value == pytest.approx(200)


@pytest.mark.parametrize(
    ("text", "kind", "echo"),
    [
        ("7lb14oz", "mass", "7 lb 14 oz"),
        ("3*12.6 ounces", "mass", "37.8 oz"),
        ("12,5", "mass", "12.5 g"),
        ("1 234,5 g", "mass", "1234.5 g"),
        ("0.5 teaspoons", "volume", "0.5 US tsp"),
        ("910 ppm (700)", "ec", "910 ppm-700"),
        ("1 in 100", "dilution", "1:100"),
        ("2 tsp/US gal", "dilution", "2 US tsp/US gal"),
        ("20 ºc", "temperature", "20 °C"),
    ],
)
def test_echo_says_what_was_understood_and_reads_back(text: str, kind: Kind, echo: str) -> None:
    understood = read_quantity(text, kind, OUR_UNIT[kind])
    assert understood.echo() == echo
    assert read_quantity(echo, kind, OUR_UNIT[kind]).value == pytest.approx(understood.value)
    assert understood.echo(",") == echo.replace(".", ",")


LINEAR: list[tuple[Kind, str]] = [
    *(("mass", unit.label) for unit in factors.MASS_G),
    *(("volume", unit.label) for unit in factors.VOLUME_L),
    *(("ec", unit.label) for unit in factors.EC_MS_PER_CM),
    *(("percent", unit.label) for unit in factors.PERCENT),
    *(("temperature", unit.label) for unit in (factors.CELSIUS, factors.FAHRENHEIT)),
    *(("dilution", label) for label in ("x", "%", "mL/L", "US fl oz/US gal", "US tsp/US gal", "imp fl oz/imp gal")),
]


@pytest.mark.parametrize(("kind", "unit"), LINEAR)
@given(number=st.floats(0.001, 1e6))
def test_round_trip_of_every_unit(kind: Kind, unit: str, number: float) -> None:
    text = f"{plain_number(number)} {unit}"
    understood = read_quantity(text, kind, "unused")
    assert value_in(understood.value, kind, unit) == pytest.approx(number, rel=1e-8, abs=1e-8)
    assert understood.unit == unit


SPELLINGS: list[tuple[Kind, str, str]] = [
    *(("mass", spelling, unit.label) for unit in factors.MASS_G for spelling in unit.spellings),
    *(("volume", spelling, unit.label) for unit in factors.VOLUME_L for spelling in unit.spellings),
    *(("ec", spelling, unit.label) for unit in factors.EC_MS_PER_CM for spelling in unit.spellings),
    *(("percent", spelling, unit.label) for unit in factors.PERCENT for spelling in unit.spellings),
]


@pytest.mark.parametrize(("kind", "spelling", "label"), SPELLINGS)
def test_every_spelling_is_its_unit(kind: Kind, spelling: str, label: str) -> None:
    for typed in (f"2 {spelling}", f"2{spelling}", f"2 {spelling.upper()}"):
        assert read_quantity(typed, kind, "unused").unit == label


def test_context_reaches_the_inverse() -> None:
    assert value_in(7.570823568, "volume", "gal", Context(us_units=True)) == pytest.approx(2)
    with pytest.raises(AmbiguousText):
        value_in(7.5, "volume", "gal")


def sentence_or_nothing(text: str, kind: Kind, of: str) -> str:
    try:
        read_quantity(text, kind, OUR_UNIT[kind], of=of)
    except UnitError as error:
        return str(error)
    return ""


@given(st.text(max_size=25), st.sampled_from(sorted(OUR_UNIT)))
def test_any_text_is_read_or_refused_in_one_sentence(text: str, kind: Kind) -> None:
    assert sentence_or_nothing(text, kind, "P").isprintable()


@given(st.from_regex(r"\d{1,3}[.,]?\d{0,2} ?[a-zA-Zµ°%/ ]{1,12}", fullmatch=True), st.sampled_from(sorted(OUR_UNIT)))
def test_any_unit_is_read_or_refused_in_one_sentence(text: str, kind: Kind) -> None:
    assert sentence_or_nothing(text, kind, "Ca").isprintable()


@pytest.mark.parametrize(
    ("text", "kind", "grouped"),
    [
        ("1 234 g", "mass", True),
        ("1234 g", "mass", False),
        ("1 200 kg 5 g", "mass", True),
        ("1:1 000", "dilution", True),
        ("1:1000", "dilution", False),
    ],
)
def test_grouping_is_reported_with_the_quantity(text: str, kind: Kind, grouped: bool) -> None:
    assert read_quantity(text, kind, OUR_UNIT[kind]).grouped is grouped
