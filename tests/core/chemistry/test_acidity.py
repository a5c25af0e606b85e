"""Acids and alkalinity: what a mole delivers, which pH follows, how pH answers a dose."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.chemistry import (
    ACIDS_AND_BASES,
    AIR_CO2_ATM,
    OutOfRange,
    carbonate_from,
    equivalents_per_mol,
    ph_closed_and_aired,
    protons_gained_per_mol,
    protons_held_per_mol,
    share_neutralised,
    speciate,
    titrate,
)
from tests.core.chemistry.feeds import MOST_MMOL_PER_KG, ROW, TOMATO, column, random_feeds

ALWAYS_WHOLE = {"nitric-acid": 1.0, "hydrochloric-acid": 1.0, "potassium-hydroxide": -1.0, "calcium-hydroxide": -2.0}


@pytest.mark.parametrize(("acid", "equivalents"), ALWAYS_WHOLE.items())
def test_strong_acids_and_bases_deliver_the_same_everywhere(acid: str, equivalents: float) -> None:
    assert equivalents_per_mol(acid, np.array([4.0, 6.0, 7.0])) == pytest.approx(equivalents, abs=1e-5)


@settings(max_examples=30)
@given(acid=st.sampled_from(sorted(ACIDS_AND_BASES)), ph=st.floats(3.0, 9.0), more=st.floats(0.05, 2.0))
def test_an_acid_delivers_more_at_a_higher_ph(acid: str, ph: float, more: float) -> None:
    low, high = equivalents_per_mol(acid, np.array([ph, ph + more]), 15.0, 0.02)
    assert high >= low - 1e-12


def test_sulfuric_acid_is_not_quite_two_at_low_ph() -> None:
    """PK 1.99: at pH 3, 9 % of it is still HSO4-."""
    assert equivalents_per_mol("sulfuric-acid", 3.0)[0] == pytest.approx(2.0 - 1.0 / 11.3, abs=0.01)
    assert equivalents_per_mol("sulfuric-acid", 5.8)[0] == pytest.approx(2.0, abs=1e-3)


def test_carbonate_as_a_base_counts_in_full_only_when_aired() -> None:
    assert equivalents_per_mol("potassium-carbonate", 6.0, aired=True)[0] == pytest.approx(-2.0)
    assert -2.0 < equivalents_per_mol("potassium-carbonate", 6.0)[0] < -1.6


def test_one_total_or_any_totals_will_do() -> None:
    by_name, by_total = equivalents_per_mol("phosphoric-acid", 5.8)[0], equivalents_per_mol("P", 5.8)[0]
    assert by_name == by_total == equivalents_per_mol({"P": 1.0}, 5.8)[0]
    assert equivalents_per_mol("urea-phosphate", 5.8)[0] == pytest.approx(by_name)
    with pytest.raises(KeyError, match="vinegar"):
        equivalents_per_mol("vinegar", 5.8)


def test_protons_of_boric_acid_at_its_constant() -> None:
    assert protons_gained_per_mol("B", 9.24)[0] == pytest.approx(-0.5, abs=1e-3)


@settings(max_examples=40)
@given(
    seed=st.integers(0, 10**6),
    temperature_c=st.floats(2.0, 38.0),
    alkalinity=st.floats(2e-4, 8e-3),
    ph=st.floats(6.0, 9.0),
)
def test_carbonate_brings_alkalinity_and_ph_together(
    seed: int, temperature_c: float, alkalinity: float, ph: float
) -> None:
    totals = random_feeds(seed, 1, {"Ca": 2.0, "Mg": 1.0, "Na": 3.0, "S": 1.0, "P": 0.02, "B": 0.02, "Si": 0.3})
    carbon = carbonate_from(alkalinity, ph, temperature_c, totals)
    totals[ROW["C"]] = carbon
    found = speciate(totals, temperature_c, alkalinity_eq_per_kg=alkalinity)
    if carbon[0] > 0.0:
        assert found.ph[0] == pytest.approx(ph, abs=1e-5)


def test_carbonate_of_a_plain_water() -> None:
    """Alkalinity 5 meq/kg at pH 7.5, 20 degC: HCO3- over CO2 is 10^(7.5 - 6.38), so 5.38 mmol/kg, less at I = 0.005."""
    assert carbonate_from(0.005, 7.5, 20.0)[0] == pytest.approx(5.35e-3, rel=0.01)


def test_alkalinity_and_ph_that_cannot_both_be_true_are_refused() -> None:
    with pytest.raises(OutOfRange):
        carbonate_from(0.005, 4.0, 20.0)


def test_other_bases_alone_can_hold_the_alkalinity() -> None:
    totals = column({"Na": 2.0, "P": 1.0})
    assert carbonate_from(1e-4, 9.0, 25.0, totals)[0] == 0.0


def test_forecast_twice() -> None:
    totals = column(TOMATO | {"C": 1.0, "inert+": 0.5})
    closed, aired = ph_closed_and_aired(totals, 20.0, 5e-4)
    assert 5.5 < closed[0] < aired[0] < 7.0
    again = speciate(totals, 20.0, alkalinity_eq_per_kg=5e-4, co2_atm=AIR_CO2_ATM).ph[0]
    assert aired[0] == pytest.approx(again, abs=1e-6)


@settings(max_examples=30)
@given(
    seed=st.integers(0, 10**6),
    acid=st.sampled_from(["nitric-acid", "phosphoric-acid", "sulfuric-acid", "citric-acid"]),
    is_open=st.booleans(),
)
def test_titration_falls_with_every_drop(seed: int, acid: str, is_open: bool) -> None:
    totals = random_feeds(seed, 1, MOST_MMOL_PER_KG)[:, 0]
    doses = np.linspace(0.0, 6e-3, 40)
    ph = titrate(totals, 20.0, acid, doses, alkalinity_eq_per_kg=4e-3, co2_atm=AIR_CO2_ATM if is_open else None)
    assert (np.diff(ph) < 0.0).all()


def test_titration_with_a_base_rises() -> None:
    ph = titrate(column(TOMATO), 20.0, "potassium-hydroxide", np.linspace(0.0, 2e-3, 20))
    assert (np.diff(ph) > 0.0).all()


def test_share_neutralised_is_none_at_the_start() -> None:
    assert share_neutralised(7.5, 7.5) == pytest.approx(0.0)
    assert 0.99 < share_neutralised(7.5, 3.5) <= 1.0


def test_calcium_takes_the_protons_off_citrate() -> None:
    """What a mole of citric acid gives off in a feed: 2.9 where calcium holds the citrate, 2.2 where nothing does."""
    feeds = [column({"citrate": 1.0, "Na": 3.0, "Ca": ca, "Cl": 2.0 * ca}) for ca in (0.0, 4.0)]
    held = [float(protons_held_per_mol("citrate", speciate(feed, 25.0, ph=5.8))[0]) for feed in feeds]
    assert held == pytest.approx([0.80, 0.07], abs=0.01)


@settings(max_examples=20)
@given(ph=st.floats(4.0, 8.0), total=st.sampled_from(["P", "citrate", "C", "B"]))
def test_protons_held_in_a_thin_solution_are_those_of_the_constants_alone(ph: float, total: str) -> None:
    found = speciate(column({total: 1e-4, "Na": 1e-3, "Cl": 1e-3}), 25.0, ph=ph)
    assert protons_held_per_mol(total, found)[0] == pytest.approx(protons_gained_per_mol(total, ph)[0], abs=0.01)


def test_of_what_is_not_there_no_protons_are_told() -> None:
    assert np.isnan(protons_held_per_mol("citrate", speciate(column(TOMATO), 25.0, ph=6.0))[0])
