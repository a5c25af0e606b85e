"""One solution by its equations written out: the same answer as the batch, and the batch where it gives up."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.chemistry import charge_of, conductivity_ms_per_cm, equilibrium_one, speciate
from core.chemistry.equilibrium_one import FEW, FREQUENT
from tests.core.chemistry.feeds import MOST_MMOL_PER_KG, RARE_MMOL_PER_KG, TOMATO, column, random_feeds

ALL = MOST_MMOL_PER_KG | RARE_MMOL_PER_KG
LEAST_BUFFERED = 1e-6
"""What two answers may differ by in pH. Both keep their balance to 3e-10 of some 3 mmol/kg, 1e-12 eq/kg; where nothing
but water and a ligand's last proton buffers, about 2e-6 eq/kg per pH, that leaves 5e-7 open either way."""


@pytest.fixture
def every_system_is_frequent(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(equilibrium_one, "FREQUENT", 0)


@settings(max_examples=25)
@given(seed=st.integers(0, 10**6), temperature_c=st.floats(0.0, 40.0), names=st.sets(st.sampled_from(sorted(ALL))))
def test_written_out_and_in_a_batch_agree(seed: int, temperature_c: float, names: set[str]) -> None:
    totals = random_feeds(seed, 2, {name: ALL[name] for name in names})
    ph = np.random.default_rng(seed).uniform(4.0, 8.0, 2)
    batch = speciate(totals, temperature_c, ph=ph)
    alkalinity = batch.alkalinity_eq_per_kg
    neutral = speciate(totals, temperature_c)
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(equilibrium_one, "FREQUENT", 0)
        for place in range(2):
            one = speciate(totals[:, place], temperature_c, ph=float(ph[place]))
            np.testing.assert_allclose(one.molality[:, 0], batch.molality[:, place], rtol=2e-8, atol=1e-20)
            again = speciate(totals[:, place], temperature_c, alkalinity_eq_per_kg=float(alkalinity[place]))
            assert again.ph[0] == pytest.approx(ph[place], abs=LEAST_BUFFERED)
            free = speciate(totals[:, place], temperature_c)
            assert free.ph[0] == pytest.approx(neutral.ph[place], abs=LEAST_BUFFERED)
            assert conductivity_ms_per_cm(one)[0] == pytest.approx(conductivity_ms_per_cm(batch)[place], rel=1e-8)


@pytest.mark.usefixtures("every_system_is_frequent")
def test_where_it_gives_up_the_batch_takes_over(monkeypatch: pytest.MonkeyPatch) -> None:
    wanted = speciate(column(TOMATO), 25.0).ph[0]
    for answer in (lambda *_: None, lambda *_: 1.0 / 0.0):
        monkeypatch.setattr(equilibrium_one, "straight", lambda *_, answer=answer: answer)
        assert speciate(column(TOMATO), 25.0).ph[0] == pytest.approx(wanted, abs=1e-8)


def test_the_hundredth_answer_is_the_first() -> None:
    totals = column(TOMATO | {"B": 0.03, "Zn": 0.004})
    answers = [speciate(totals, 18.0).ph[0] for _ in range(FREQUENT + 5)]
    assert answers == pytest.approx([answers[0]] * len(answers), abs=1e-8)


@pytest.mark.usefixtures("every_system_is_frequent")
@pytest.mark.parametrize("charge", [-5e-3, -1e-4, 1e-4, 5e-3])
def test_far_from_neutral(charge: float) -> None:
    """Strong acid or base left over: the balance still closes."""
    totals = column(TOMATO | {"C": 1.0})
    found = speciate(totals, 25.0, alkalinity_eq_per_kg=float(charge_of(totals)) + charge)
    assert found.alkalinity_eq_per_kg[0] == pytest.approx(float(charge_of(totals)) + charge, rel=1e-8)


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 10**6), temperature_c=st.floats(0.0, 40.0), atm=st.floats(1e-4, 2e-2))
def test_open_to_the_air_one_by_one_and_in_a_batch_agree(seed: int, temperature_c: float, atm: float) -> None:
    """A few feeds, one of them closed, by the equations written out; the same among others by the batch."""
    totals = random_feeds(seed, FEW + 2, ALL)
    gas = np.array([atm, np.nan, 420e-6, atm, np.nan])
    alkalinity = charge_of(totals) + np.random.default_rng(seed).uniform(0.0, 2e-3, FEW + 2)
    batch = speciate(totals, temperature_c, alkalinity_eq_per_kg=alkalinity, co2_atm=gas)
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(equilibrium_one, "FREQUENT", 0)
        few = speciate(totals[:, :FEW], temperature_c, alkalinity_eq_per_kg=alkalinity[:FEW], co2_atm=gas[:FEW])
    np.testing.assert_allclose(few.ph, batch.ph[:FEW], atol=LEAST_BUFFERED)
    np.testing.assert_allclose(few.molality, batch.molality[:, :FEW], rtol=5.0 * LEAST_BUFFERED, atol=1e-20)
    np.testing.assert_allclose(few.totals_mol_per_kg, batch.totals_mol_per_kg[:, :FEW], rtol=5.0 * LEAST_BUFFERED)


def test_the_written_out_equations_are_asked_in_the_open_too(monkeypatch: pytest.MonkeyPatch) -> None:
    """Or the agreement above would be that of the batch with itself."""
    asked: list[bool] = []
    monkeypatch.setattr(equilibrium_one, "FREQUENT", 0)
    written = equilibrium_one.straight
    monkeypatch.setattr(equilibrium_one, "straight", lambda *given: asked.append(given[2]) or written(*given))
    speciate(column(TOMATO | {"C": 1.0}), 25.0, co2_atm=420e-6)
    assert asked == [True]


def test_some_of_the_solutions_keep_their_activities() -> None:
    found = speciate(random_feeds(3, 4, ALL), 25.0, ph=6.0)
    known = found.log10_activity
    some = found.take(slice(1, 3))
    np.testing.assert_array_equal(some.log10_activity, known[:, 1:3])
    np.testing.assert_array_equal(some.molality, found.molality[:, 1:3])
    fresh = speciate(random_feeds(3, 4, ALL), 25.0, ph=6.0).take(slice(1, 3))
    np.testing.assert_allclose(fresh.log10_activity, some.log10_activity, rtol=1e-12)
