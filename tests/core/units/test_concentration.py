"""Concentrations in every basis: factors against printed ones, and round trips between all bases of a substance."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.units import AmbiguousText, UnitError, plain_number, read_quantity, value_in
from core.units.lookup import Context

BASES = {
    "P": ["mg/L", "mg/L as P2O5", "mg/L as PO4", "mg/L as H2PO4", "mmol/L", "µmol/L", "meq/L as H2PO4", "meq/L as PO4"],
    "K": ["mg/L", "mg/L as K2O", "mmol/L", "meq/L", "g/L", "µg/L"],
    "Ca": ["mg/L", "mg/L as CaO", "mg/L as CaCO3", "mmol/L", "meq/L", "°dH", "°fH", "°eH"],
    "Mg": ["mg/L", "mg/L as MgO", "mg/L as CaCO3", "mmol/L", "meq/L", "°dH"],
    "S": ["mg/L", "mg/L as SO4", "mg/L as SO3", "mmol/L", "meq/L"],
    "Si": ["mg/L", "mg/L as SiO2", "mmol/L"],
    "Na": ["mg/L", "mg/L as Na2O", "mg/L as CaCO3", "meq/L"],
    "N": ["mg/L", "mg/L as NO3", "mg/L as NH4", "mmol/L"],
    "NO3-N": ["mg/L", "mg/L as NO3", "mmol/L", "meq/L", "meq/L as NO3"],
    "NH4-N": ["mg/L", "mg/L as NH4", "mg/L as NH3", "mmol/L", "meq/L"],
    "HCO3": ["mg/L", "mg/L as CaCO3", "mg/L as CO3", "mmol/L", "meq/L", "°dH", "°fH", "°eH"],
    "CaCO3": ["mg/L", "mg/L as HCO3", "meq/L", "°dH", "°fH", "°eH"],
    "Fe": ["mg/L", "µmol/L", "µg/L"],
    "B": ["mg/L", "µmol/L"],
}


def mg_per_l(text: str, of: str, **context: int) -> float:
    return read_quantity(text, "concentration", "mg/L", of=of, **context).value  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "of", "expected"),
    [
        # fertiliser label factors as tables print them
        ("1 mg/L P2O5", "P", 0.4364),
        ("1 mg/L K2O", "K", 0.8301),
        ("1 mg/L CaO", "Ca", 0.7147),
        ("1 mg/L MgO", "Mg", 0.6030),
        ("1 mg/L SO3", "S", 0.4005),
        ("1 mg/L SiO2", "Si", 0.4674),
        ("1 mg/L Na2O", "Na", 0.7419),
        ("4.4268 mg/L NO3", "NO3-N", 1),
        ("1.2878 mg/L NH4", "NH4-N", 1),
        ("3.0662 mg/L PO4", "P", 1),
        ("2.9963 mg/L SO4", "S", 1),
        # hardness and alkalinity
        ("1 °dH", "CaCO3", 17.85),
        ("1 °dKH", "CaCO3", 17.85),
        ("1 °dH", "Ca", 7.147),
        ("1 °dH", "Mg", 4.334),
        ("1 °fH", "CaCO3", 10.0),
        ("1 °Clark", "CaCO3", 14.254),
        ("1 meq/L", "CaCO3", 50.04),
        ("1 meq/L", "HCO3", 61.02),
        ("100 ppm as CaCO3", "HCO3", 121.93),
        ("100 mg/L CaCO3", "Ca", 40.04),
        ("100 mg/L (CaCO3)", "Mg", 24.28),
        # moles and equivalents
        ("1 mmol/L", "K", 39.098),
        ("1 mmol/L", "urea-N", 14.007),
        ("25 µmol/L", "Fe", 1.3961),
        ("25 umol/L", "B", 0.27025),
        ("1 meq/L", "Ca", 20.039),
        ("1 mval/l", "S", 16.03),
        ("1 me/L", "NH4-N", 14.007),
        ("1 mmol/L P2O5", "P", 61.948),
        ("1 mmol/L NO3", "NO3-N", 14.007),
        # plain mass, spellings
        ("128", "N", 128),
        ("128 ppm", "N", 128),
        ("128 ppm N", "N", 128),
        ("128 mg N/L", "N", 128),
        ("0,05 g/l", "N", 50),
        ("50 ppb", "Mo", 0.05),
        ("50 µg/L", "Mo", 0.05),
        ("50 ug Mo/l", "Mo", 0.05),
        ("62 mg NO3 / L", "NO3-N", 14.006),
        ("14 mg/L as NO3-N", "NO3-N", 14),
        ("10 as P2O5", "P", 4.364),
    ],
)
def test_factors(text: str, of: str, expected: float) -> None:
    assert mg_per_l(text, of) == pytest.approx(expected, rel=2e-4)


def test_one_german_degree_is_0_357_meq() -> None:
    assert read_quantity("1 °dH", "alkalinity", "meq/L").value == pytest.approx(0.3567, abs=5e-5)


@pytest.mark.parametrize(
    ("text", "meq_per_l"),
    [
        ("2", 2),
        ("2 meq/L", 2),
        ("2 mmol/L", 2),
        ("100 mg/L as CaCO3", 1.9983),
        ("100 ppm CaCO3", 1.9983),
        ("122.03 mg HCO3/L", 2.0),
        ("30 mg/L as CO3", 0.99987),
        ("5.6 dKH", 1.9973),
        ("10 °fH", 1.9983),
    ],
)
def test_alkalinity(text: str, meq_per_l: float) -> None:
    assert read_quantity(text, "alkalinity", "meq/L").value == pytest.approx(meq_per_l, rel=1e-4)


def test_phosphate_equivalents_are_asked_for() -> None:
    with pytest.raises(AmbiguousText) as caught:
        mg_per_l("1 meq/L", "P")
    assert caught.value.readings == ("meq/L H2PO4", "meq/L PO4")
    assert [mg_per_l(f"1 {reading}", "P") for reading in caught.value.readings] == pytest.approx(
        [30.974, 10.3247], rel=1e-5
    )
    assert mg_per_l("1 meq/L", "P", phosphate_valence=1) == pytest.approx(30.974)
    assert mg_per_l("1 meq/L", "P", phosphate_valence=3) == pytest.approx(10.3247, rel=1e-5)


@pytest.mark.parametrize(
    ("text", "of", "words"),
    [
        ("1 mg/L as NO3", "NH4-N", "NH4-N cannot be stated as NO3"),
        ("1 mg/L as NH4", "NO3-N", "NO3-N cannot be stated as NH4"),
        ("1 mg/L as CaO", "Mg", "Mg cannot be stated as CaO"),
        ("1 mg/L as P2O5", "HCO3", "HCO3 cannot be stated as P2O5"),
        ("1 mmol/L as K2O", "P", "P cannot be stated as K2O"),
        ("1 meq/L as SO4", "NO3-N", "cannot be stated as SO4"),
        ("1 mg/L as CaCO3", "Fe", "Fe has no one charge"),
        ("1 meq/L", "Fe", "Fe has no one charge"),
        ("1 meq/L", "B", "B has no one charge"),
        ("1 meq/L", "N", "type NO3-N and NH4-N apart"),
        ("1 °dH", "K", "is no unit for K"),
        ("1 kg", "K", "is no unit for K"),
        ("1 mS/cm", "K", "is no unit for K"),
    ],
)
def test_refused(text: str, of: str, words: str) -> None:
    with pytest.raises(UnitError, match=words):
        mg_per_l(text, of)


def test_needs_its_substance() -> None:
    with pytest.raises(UnitError, match="needs the substance"):
        read_quantity("1 mg/L", "concentration", "mg/L")


PAIRS = [(of, first, second) for of, units in BASES.items() for first, second in product(units, units)]


@pytest.mark.parametrize(("of", "first", "second"), PAIRS)
def test_round_trip_between_all_pairs(of: str, first: str, second: str) -> None:
    context = Context(of=of)
    ours = mg_per_l(f"12.5 {first}", of)
    there = value_in(ours, "concentration", second, context)
    back = mg_per_l(f"{there!r} {second}", of)
    assert value_in(back, "concentration", first, context) == pytest.approx(12.5, rel=1e-12)


@given(st.floats(1e-3, 1e4), st.sampled_from([(of, unit) for of, units in BASES.items() for unit in units]))
def test_echo_reads_back(number: float, pair: tuple[str, str]) -> None:
    of, unit = pair
    understood = read_quantity(f"{plain_number(number)} {unit}", "concentration", "mg/L", of=of)
    assert mg_per_l(understood.echo(), of) == pytest.approx(understood.value, rel=1e-8)
