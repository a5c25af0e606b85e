"""Solids known by their own solubility alone: how full a tank is of them, the verdict, how strong it may be."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.chemistry.components import COMPONENTS
from core.chemistry.concentrates import Bounds, Fullness, assess, bounded, bounded_limit, fullness, stand

NA, CL, K, C, NO3 = (COMPONENTS.index(name) for name in ("Na", "Cl", "K", "C", "NO3"))
ALKALINITY = len(COMPONENTS)
BOUNDS = Bounds(
    ids=("salt", "bicarbonate"),
    parts=np.array([[NA, CL, NA], [K, C, ALKALINITY]]),
    weight=np.array([[0.5, 0.5, 0.0], [1 / 3, 1 / 3, 1 / 3]]),
    saturated=np.array([[[6.0, 6.0, 6.0], [2.0, 2.0, 2.0]], [[5.0, 5.0, 5.0], [1.0, 1.0, 1.0]]]),
    per_litre=np.array([False, True]),
    near=np.array([0.8, 0.5]),
)
"""Sodium chloride by molality, potassium bicarbonate per litre, at two temperatures; round figures, for tests."""


def tank(**mol_per_l: float) -> np.ndarray:
    contents = np.zeros((len(COMPONENTS), 1))
    for name, amount in mol_per_l.items():
        contents[COMPONENTS.index(name)] = amount
    return contents


def full_of(contents: np.ndarray, water_kg_per_l: float = 0.9) -> Fullness:
    return fullness(contents, np.full(contents.shape[1], water_kg_per_l), BOUNDS)


def test_a_single_salt_is_as_full_as_its_molality() -> None:
    full = full_of(tank(Na=2.7, Cl=2.7))
    np.testing.assert_allclose(full.own[:, 0, 0], [3.0 / 6.0, 3.0 / 5.0])
    np.testing.assert_allclose(full.shared[:, 0], full.own[:, 0])
    assert not full.shared[:, 1].any()


def test_an_ion_in_common_counts_as_in_a_solubility_product() -> None:
    full = full_of(tank(Na=2.7, Cl=5.4, K=2.7))
    assert full.own[0, 0, 0] == pytest.approx(0.5)
    assert full.shared[0, 0, 0] == pytest.approx(np.sqrt(0.5 * 1.0))


def test_a_base_counts_only_while_it_is_one() -> None:
    assert full_of(tank(K=1.0, C=1.0)).own[0, 1, 0] == pytest.approx(0.5)
    assert full_of(tank(K=1.0, C=1.0, NO3=0.6)).own[0, 1, 0] == pytest.approx(0.2)
    assert full_of(tank(K=1.0, C=1.0, NO3=1.5)).own[0, 1, 0] < 1e-6


@pytest.mark.parametrize(
    ("mol_per_l", "cold", "warm"), [(2.0, "clear", "clear"), (4.0, "doubtful", "clear"), (4.6, "settles", "doubtful")]
)
def test_over_is_settled_and_near_is_doubtful(mol_per_l: float, cold: str, warm: str) -> None:
    contents = tank(Na=mol_per_l, Cl=mol_per_l)
    swapped = BOUNDS._replace(saturated=BOUNDS.saturated[::-1])
    state = assess(contents, (5.0, 20.0))
    full = fullness(contents, state.water_kg_per_l, swapped)
    judged = bounded(state, full, swapped)
    words = [judged.verdict(place, 0) for place in (0, 1)]
    assert words == [cold, warm]
    if cold != "clear":
        assert judged.limited_by(0, 0) == "salt"
        assert judged.settling(0, 0) == ("salt",)
        assert judged.margin[0, 0] < 0.0 < state.margin[0, 0]


def test_what_is_far_from_any_bound_stays_as_it_was() -> None:
    contents = tank(K=1.0, NO3=1.0)
    state = assess(contents, (5.0, 20.0))
    assert bounded(state, fullness(contents, state.water_kg_per_l, BOUNDS), BOUNDS) is state


@settings(max_examples=40, deadline=None)
@given(st.floats(0.002, 0.05), st.integers(20, 120))
def test_the_ratio_told_is_where_the_tank_is_full(per_ratio: float, ratio: int) -> None:
    """Found by its straight line of water, and looked at with the water such a tank really holds."""
    contents = tank(Na=per_ratio, Cl=per_ratio)
    state, limit = stand(contents, ratio, (5.0,))
    bounds = BOUNDS._replace(saturated=BOUNDS.saturated[:1])
    full = fullness(ratio * contents, state.water_kg_per_l, bounds)
    found = bounded_limit(limit, full, ratio, state.water_kg_per_l, bounds)
    assert found.limited_by == (("salt",),)
    assert found.clear_ratio[0, 0] < found.saturated_ratio[0, 0] == found.solid_ratio[0, -2, 0]
    there = assess(found.saturated_ratio[0, 0] * contents, (5.0,)).water_kg_per_l
    reached = fullness(found.saturated_ratio[0, 0] * contents, there, bounds)
    near = 0.5 < ratio / found.saturated_ratio[0, 0] < 2.0
    assert reached.own[0, 0, 0] == pytest.approx(1.0, rel=0.015 if near else 0.05)
