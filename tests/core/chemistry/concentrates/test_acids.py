"""The balance of protons in a tank."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.chemistry.components import COMPONENTS
from core.chemistry.concentrates import assess_molal
from core.chemistry.concentrates.acids import solve, takers
from core.chemistry.concentrates.equilibrium import model, settle
from core.chemistry.concentrates.filling import CHARGES
from core.chemistry.concentrates.forms import share_out
from core.chemistry.concentrates.species import CHARGE, INDEX, IONS

NAMES = ("K", "Mg", "NH4", "NO3", "P", "S", "Cl")


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(0.0, 1.0), min_size=len(NAMES), max_size=len(NAMES)))
def test_a_tank_at_rest_is_neutral_and_loses_nothing(amounts: list[float]) -> None:
    totals = np.zeros((len(COMPONENTS), 1))
    for name, amount in zip(NAMES, amounts, strict=True):
        totals[COMPONENTS.index(name)] = amount
    rest = settle(share_out(totals), model((8.0, 20.0)))
    phosphorus = sum(rest.molality[:, INDEX[form]] for form in ("H3PO4", "H2PO4-", "HPO4-2"))
    sulfur = sum(rest.molality[:, INDEX[form]] for form in ("SO4-2", "HSO4-"))
    np.testing.assert_allclose(phosphorus, amounts[4], rtol=1e-9, atol=1e-9)
    np.testing.assert_allclose(sulfur, amounts[5], rtol=1e-9, atol=1e-9)
    if (CHARGES @ totals)[0] < amounts[4]:
        charge = np.einsum("i,tin->tn", CHARGE, rest.molality[:, : len(IONS)]) - rest.hydroxide
        assert charge == pytest.approx(0.0, abs=2e-3 * max(sum(amounts), 1e-3))


def test_strong_acid_is_free_hydrogen(totals) -> None:  # type: ignore[no-untyped-def]
    rest = settle(share_out(totals({"NO3": 0.1})), model((25.0,)))
    assert rest.molality[0, INDEX["H+"], 0] == pytest.approx(0.1, rel=1e-3)
    assert rest.ph[0, 0] == pytest.approx(1.1, abs=0.05)


def test_acid_beside_sulfate_sits_on_it(totals) -> None:  # type: ignore[no-untyped-def]
    rest = settle(share_out(totals({"K": 1.0, "S": 1.0})), model((20.0,)))
    assert 0.6 < rest.molality[0, INDEX["HSO4-"], 0] < 0.95


@pytest.mark.parametrize("contents", [{"K": 0.2, "P": 0.2}, {"NH4": 1.0, "P": 1.0}, {"K": 0.7, "P": 0.15, "NO3": 0.55}])
def test_dihydrogen_phosphate_sets_a_ph_between_four_and_four_and_a_half(totals, contents) -> None:  # type: ignore[no-untyped-def]
    assert 4.0 < assess_molal(totals(contents), (20.0,)).ph[0, 0] < 4.6


def test_base_raises_it_and_acid_lowers_it(totals) -> None:  # type: ignore[no-untyped-def]
    tanks = [{"K": 0.5 + base, "P": 0.5} for base in (0.0, 0.05, 0.2)] + [{"K": 0.5, "P": 0.5, "NO3": 0.1}]
    ph = assess_molal(totals(*tanks), (20.0,)).ph[0]
    assert ph[3] < ph[0] < ph[1] < ph[2]
    assert ph[3] < 3.0
    assert ph[2] > 5.5


def test_citric_acid_is_weaker_than_nitric(totals) -> None:  # type: ignore[no-untyped-def]
    ph = assess_molal(totals({"citrate": 0.1, "K": 1.0, "NO3": 1.0}, {"NO3": 1.3, "K": 1.0}), (20.0,)).ph[0]
    assert ph[1] < 1.0 < ph[0] < 2.5


@settings(max_examples=30, deadline=None)
@given(st.lists(st.floats(0.0, 1.0), min_size=len(NAMES), max_size=len(NAMES)), st.integers(0, 26))
def test_where_protons_are_looked_for_first_changes_nothing(amounts: list[float], interval: int) -> None:
    """The interval of before, a neighbour's or one far off: the same protons to the last digit."""
    totals = np.zeros((len(COMPONENTS), 2))
    for name, amount in zip(NAMES, amounts, strict=True):
        totals[COMPONENTS.index(name)] = amount, 0.5 * amount
    totals[COMPONENTS.index("citrate"), 1], totals[COMPONENTS.index("C"), 0] = 0.01, 0.002
    tank, given_ = takers(share_out(totals)), model((8.0, 20.0))
    ln_gamma = np.full((2, len(IONS), 2), -0.7)
    found = solve(tank, ln_gamma, given_.acids)
    for near in (found.interval, np.minimum(found.interval + 1, 26), np.full_like(found.interval, interval)):
        for part, wanted in zip(solve(tank, ln_gamma, given_.acids, near), found, strict=True):
            np.testing.assert_array_equal(part, wanted)
