"""One solution by its equations written out: the same answer as the batch, and the batch where it gives up."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.chemistry import charge_of, conductivity_ms_per_cm, equilibrium_one, speciate
from core.chemistry.equilibrium_one import FREQUENT
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
