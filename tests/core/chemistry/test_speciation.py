"""Ions and pairs: nothing is lost, every cold start arrives, limits hold, nonsense is refused."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.chemistry import (
    AIR_CO2_ATM,
    COMPONENTS,
    NotConverged,
    OutOfRange,
    Speciation,
    charge_of,
    conductivity_ms_per_cm,
    speciate,
)
from core.chemistry.equilibrium import Problem, solve
from core.chemistry.species import all_species
from core.chemistry.system import compile_system, constants_at
from tests.core.chemistry.feeds import MOST_MMOL_PER_KG, RARE_MMOL_PER_KG, ROW, TOMATO, column, random_feeds

CONTAINS = np.array([[one.contains.get(total, 0) for one in all_species()] for total in COMPONENTS])
CHARGE = np.array([one.charge for one in all_species()])
GAINED = np.array([one.protons_gained for one in all_species()])


def assert_nothing_lost(found: Speciation) -> None:
    totals = found.totals_mol_per_kg
    np.testing.assert_allclose(CONTAINS @ found.molality, totals, rtol=1e-9, atol=1e-18)
    np.testing.assert_allclose(-GAINED @ found.molality, found.alkalinity_eq_per_kg, rtol=1e-9, atol=1e-15)
    strength = 0.5 * CHARGE**2 @ found.molality
    np.testing.assert_allclose(found.ionic_strength_mol_per_kg, strength, rtol=1e-8)


@pytest.mark.parametrize("temperature_c", [0.0, 5.0, 12.0, 25.0, 40.0])
def test_every_cold_start_arrives(temperature_c: float) -> None:
    """400 feeds at each of five temperatures, with totals missing at random, pH given, computed, and open to air."""
    seed = int(temperature_c)
    totals = random_feeds(seed, 400, MOST_MMOL_PER_KG | RARE_MMOL_PER_KG, present=0.8)
    ph = np.random.default_rng(seed).uniform(4.0, 8.0, 400)
    given_ph = speciate(totals, temperature_c, ph=ph)
    computed = speciate(totals, temperature_c, alkalinity_eq_per_kg=given_ph.alkalinity_eq_per_kg)
    aired = speciate(
        totals,
        temperature_c,
        alkalinity_eq_per_kg=given_ph.alkalinity_eq_per_kg,
        co2_atm=AIR_CO2_ATM,
        nitrate_pairs=True,
    )
    for found in (given_ph, computed, aired):
        assert np.isfinite(found.molality).all()
        assert (found.molality >= 0.0).all()
        assert_nothing_lost(found)
    np.testing.assert_allclose(computed.ph, ph, atol=1e-7)


@settings(max_examples=60)
@given(
    amounts=st.dictionaries(
        st.sampled_from(sorted(MOST_MMOL_PER_KG | RARE_MMOL_PER_KG)), st.floats(1e-6, 20.0), max_size=8
    ),
    temperature_c=st.floats(0.0, 40.0),
    is_open=st.booleans(),
)
def test_neutral_solution_of_anything(amounts: dict[str, float], temperature_c: float, is_open: bool) -> None:
    """Whatever is dissolved, mass and charge are kept to 1e-9."""
    totals = column(amounts)
    found = speciate(totals, temperature_c, co2_atm=AIR_CO2_ATM if is_open else None)
    assert_nothing_lost(found)
    sizes = float(np.abs(CHARGE) @ found.molality[:, 0])
    assert abs(float(CHARGE @ found.molality[:, 0])) <= 1e-9 * sizes + 1e-18
    assert abs(found.charge_error_percent[0]) < 1e-6


@settings(max_examples=30)
@given(seed=st.integers(0, 10**6), temperature_c=st.floats(0.0, 40.0))
def test_one_solution_and_a_batch_agree(seed: int, temperature_c: float) -> None:
    totals = random_feeds(seed, 3, MOST_MMOL_PER_KG | RARE_MMOL_PER_KG, present=0.6)
    ph = np.random.default_rng(seed).uniform(4.0, 8.0, 3)
    alkalinity = speciate(totals, temperature_c, ph=ph).alkalinity_eq_per_kg
    gas = np.array([np.nan, AIR_CO2_ATM, np.nan])
    batch = speciate(totals, temperature_c, alkalinity_eq_per_kg=alkalinity, co2_atm=gas)
    for place in range(3):
        one = speciate(
            totals[:, place], temperature_c, alkalinity_eq_per_kg=float(alkalinity[place]), co2_atm=float(gas[place])
        )
        np.testing.assert_allclose(one.molality[:, 0], batch.molality[:, place], rtol=2e-8, atol=1e-15)
        assert one.ph[0] == pytest.approx(batch.ph[place], abs=1e-7)
        assert conductivity_ms_per_cm(one)[0] == pytest.approx(conductivity_ms_per_cm(batch)[place], rel=1e-8)


def test_pure_water_is_neutral() -> None:
    found = speciate(np.zeros(len(COMPONENTS)), 25.0)
    assert found.ph[0] == pytest.approx(6.997, abs=2e-3)
    assert found.of("H+")[0] == pytest.approx(found.of("OH-")[0], rel=1e-9)
    assert found.of("H+")[0] == pytest.approx(1e-7, rel=1e-2)


def test_rain_takes_up_carbon_dioxide() -> None:
    """Water in contact with air has pH 5.6 (Stumm & Morgan 1996, chapter 4)."""
    found = speciate(np.zeros(len(COMPONENTS)), 25.0, co2_atm=AIR_CO2_ATM)
    assert found.ph[0] == pytest.approx(5.60, abs=0.02)
    assert found.totals_mol_per_kg[ROW["C"], 0] == pytest.approx(1.68e-5, rel=0.02)


@pytest.mark.parametrize(
    ("mmol_per_kg", "ph"),
    [
        ({"Cl": 1.0}, 3.01),
        ({"Na": 1.0}, 10.98),
        ({"K": 1.0, "P": 1.0}, 5.12),
        ({"NH4": 1.0, "Cl": 1.0}, 6.12),
        ({"S": 0.5}, 3.04),
    ],
    ids=["hydrochloric acid", "sodium hydroxide", "monopotassium phosphate", "ammonium chloride", "sulfuric acid"],
)
def test_one_substance_in_water(mmol_per_kg: dict[str, float], ph: float) -> None:
    """By hand, from the acid constants and the Debye-Hueckel law at 1 mmol/kg."""
    assert speciate(column(mmol_per_kg), 25.0).ph[0] == pytest.approx(ph, abs=0.02)


def test_vanishing_salt_is_all_ions() -> None:
    found = speciate(column({"Ca": 1e-4, "S": 1e-4}), 25.0)
    assert found.of("Ca+2")[0] == pytest.approx(1e-7, rel=1e-3)


def test_batch_mixes_closed_and_open() -> None:
    totals = np.repeat(column(TOMATO | {"C": 1.0, "K": 10.5})[:, None], 3, axis=1)
    alkalinity = np.full(3, 1e-3)
    found = speciate(totals, 20.0, alkalinity_eq_per_kg=alkalinity, co2_atm=np.array([np.nan, AIR_CO2_ATM, 1e-2]))
    assert found.totals_mol_per_kg[ROW["C"], 0] == totals[ROW["C"], 0]
    assert found.ph[1] > found.ph[2]
    np.testing.assert_allclose(found.alkalinity_eq_per_kg, alkalinity, rtol=1e-8)


def test_water_with_less_carbon_dioxide_than_air_takes_it_up() -> None:
    found = speciate(column({"Na": 1.0}), 25.0, co2_atm=AIR_CO2_ATM)
    assert found.ph[0] == pytest.approx(8.18, abs=0.03)


def test_metals_claim_chelators_by_strength() -> None:
    totals = column({"Fe3": 0.03, "EDTA": 0.05, "Mn": 0.01, "Zn": 0.005, "Cu": 0.001, "Ca": 4.0, "NO3": 8.0})
    found = speciate(totals, 25.0, ph=5.8)
    mmol = {name: 1000.0 * found.of(name)[0] for name in ("FeEDTA-", "CuEDTA-2", "ZnEDTA-2", "MnEDTA-2", "CaEDTA-2")}
    assert mmol == pytest.approx(
        {"FeEDTA-": 0.03, "CuEDTA-2": 0.001, "ZnEDTA-2": 0.005, "MnEDTA-2": 0.01, "CaEDTA-2": 0.004}
    )
    assert found.of("Fe+3")[0] == 0.0
    assert_nothing_lost(found)


def test_two_irons_two_ligands() -> None:
    found = speciate(column({"Fe3": 0.03, "EDDHA": 0.02, "DTPA": 0.02, "Na": 0.04}), 25.0, ph=6.0)
    assert found.of("FeEDDHA-")[0] == pytest.approx(2e-5)
    assert found.of("FeDTPA-2")[0] == pytest.approx(1e-5)
    assert found.of("H3DTPA-2")[0] == pytest.approx(1e-5)


def test_chelated_iron_leaves_the_alkalinity_alone() -> None:
    plain = speciate(column(TOMATO), 25.0)
    sodium_iron_chelate = {"Fe3": 0.04, "EDTA": 0.04, "Na": 0.04}
    fed = speciate(column(TOMATO | sodium_iron_chelate), 25.0)
    assert fed.alkalinity_eq_per_kg[0] == pytest.approx(plain.alkalinity_eq_per_kg[0], abs=1e-9)


def test_charge_of_totals() -> None:
    assert charge_of(column({"K": 2.0, "P": 1.0})) == pytest.approx(1e-3)
    assert charge_of(column({"NO3": 1.0})) == pytest.approx(-1e-3)


def test_activity_of_absent_species_is_nothing() -> None:
    found = speciate(column({"K": 1.0, "Cl": 1.0}), 25.0)
    activity = dict(zip(found.names, found.log10_activity[:, 0], strict=True))
    assert activity["Ca+2"] == -np.inf
    assert activity["K+"] == pytest.approx(np.log10(1e-3) - 0.0158, abs=1e-3)
    assert activity["H+"] == pytest.approx(-found.ph[0], abs=1e-9)


def test_nitrate_pairs_are_asked_for() -> None:
    totals = column(TOMATO)
    without, with_pairs = speciate(totals, 25.0, ph=5.8), speciate(totals, 25.0, ph=5.8, nitrate_pairs=True)
    assert without.of("KNO3")[0] == 0.0
    assert 0.0 < with_pairs.of("KNO3")[0] < 1e-3
    lower = conductivity_ms_per_cm(with_pairs)[0] / conductivity_ms_per_cm(without)[0] - 1.0
    assert -0.008 < lower < -0.003


@pytest.mark.parametrize(
    ("totals", "arguments", "error"),
    [
        (column({"K": -1.0}), {}, OutOfRange),
        (column({"K": float("nan")}), {}, OutOfRange),
        (column({"K": float("inf")}), {}, OutOfRange),
        (column({"K": 600.0, "Cl": 600.0}), {}, OutOfRange),
        (column({"K": 1.0, "Cl": 1.0}), {"temperature_c": -1.0}, OutOfRange),
        (column({"K": 1.0, "Cl": 1.0}), {"temperature_c": float("nan")}, OutOfRange),
        (column({"K": 1.0, "Cl": 1.0}), {"ph": float("nan")}, OutOfRange),
        (column({"K": 1.0, "Cl": 1.0}), {"ph": np.array([5.0, 6.0])}, OutOfRange),
        (column({"K": 1.0, "Cl": 1.0}), {"co2_atm": 0.0}, OutOfRange),
        (column({"K": 1.0, "Cl": 1.0}), {"ph": 7.0, "alkalinity_eq_per_kg": 0.0}, ValueError),
        (np.zeros(3), {}, ValueError),
        (np.zeros((len(COMPONENTS), 0)), {}, ValueError),
    ],
)
def test_nonsense_is_refused(totals: np.ndarray, arguments: dict[str, object], error: type[Exception]) -> None:
    with pytest.raises(error):
        speciate(totals, **({"temperature_c": 25.0} | arguments))


def test_between_the_two_limits_of_ionic_strength_a_flag_is_set() -> None:
    found = speciate(np.stack([column({"K": k, "Cl": k}) for k in (90.0, 150.0)], axis=1), 25.0)
    assert found.beyond_range.tolist() == [False, True]


def test_what_does_not_converge_is_named() -> None:
    """An alkalinity that is no number, which the checks in front would refuse, cannot be met."""
    system = compile_system(frozenset({"K", "Cl"}), False)
    held = np.full((2, 3), 1e-3)
    problem = Problem(held, np.zeros((0, 3)), None, np.array([0.0, np.nan, 0.0]), None)
    with pytest.raises(NotConverged) as caught:
        solve(system, constants_at(system, 25.0), problem)
    assert caught.value.columns == (1,)
