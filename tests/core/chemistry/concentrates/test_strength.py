"""Strength limits lie on their lines, and are told as real injector steps."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.chemistry.components import COMPONENTS
from core.chemistry.concentrates import INJECTOR_RATIOS, assess, injector_step, stand, stand_beside, strength_limit

PHOSPHATE = {"K": 7.5e-3, "NO3": 2e-3, "P": 1.5e-3, "Mg": 2.4e-3, "S": 4.4e-3}
CALCIUM = {"Ca": 5.4e-3, "NH4": 1.2e-3, "NO3": 14e-3, "K": 2e-3}
UP_TO_8 = st.floats(0.0, 8e-3)


@st.composite
def tanks(draw: st.DrawFn) -> np.ndarray:
    """Contents per ratio of salts of K, NH4, Mg with NO3, P, S, Cl, and of a little acid."""
    anions = {"NO3": draw(UP_TO_8), "P": draw(UP_TO_8), "S": draw(UP_TO_8), "Cl": draw(UP_TO_8)}
    equivalents = sum(anions.values()) + anions["S"]
    magnesium = draw(st.floats(0.0, 0.5)) * equivalents / 2.0
    rest = (equivalents - 2.0 * magnesium) * draw(st.floats(0.9, 1.0))
    potassium = draw(st.floats(0.0, 1.0)) * rest
    contents = np.zeros((len(COMPONENTS), 1))
    for name, amount in (anions | {"Mg": magnesium, "K": potassium, "NH4": rest - potassium}).items():
        contents[COMPONENTS.index(name)] = amount
    return contents


@settings(max_examples=40)
@given(tanks(), st.sampled_from([5.0, 12.0, 25.0]))
def test_the_tank_is_on_its_line_there_and_clear_just_below(contents: np.ndarray, temperature_c: float) -> None:
    limit = strength_limit(contents, (temperature_c,))
    ratio = float(limit.clear_ratio[0, 0])
    assert ratio <= float(limit.saturated_ratio[0, 0]) * 1.005
    end = float(limit.model_ends_at[0])
    if end / 600.0 < ratio < 0.95 * end:
        below, above = (assess(contents * ratio * factor, (temperature_c,)) for factor in (0.995, 1.005))
        assert below.verdict(0, 0) == "clear"
        assert above.verdict(0, 0) != "clear"
        assert limit.clear_limited_by[0][0] in above.settling(0, 0)


def test_many_tanks_and_temperatures_are_the_same_one_by_one(totals) -> None:  # type: ignore[no-untyped-def]
    together = strength_limit(totals(PHOSPHATE, CALCIUM), (5.0, 20.0))
    for row, temperature_c in enumerate((5.0, 20.0)):
        for tank, contents in enumerate((PHOSPHATE, CALCIUM)):
            alone = strength_limit(totals(contents), (temperature_c,))
            assert together.saturated_ratio[row, tank] == pytest.approx(alone.saturated_ratio[0, 0], rel=1e-3)
            assert together.limited_by[row][tank] == alone.limited_by[0][0]


def test_what_never_saturates_has_no_limit(totals) -> None:  # type: ignore[no-untyped-def]
    limit = strength_limit(totals({"K": 1e-3, "C": 1e-3}, {}), (20.0,))
    assert np.isinf(limit.saturated_ratio).all()
    assert limit.limited_by == ((None, None),)


def test_fill_water_counts_at_any_ratio(totals) -> None:  # type: ignore[no-untyped-def]
    hard = totals({"Ca": 0.03, "S": 0.004, "Cl": 0.052})[:, 0]
    plain, filled = (strength_limit(totals({"K": 2e-3, "S": 1e-3}), (20.0,), water) for water in (None, hard))
    assert plain.limited_by == (("potassium-sulfate",),)
    assert filled.limited_by == (("gypsum",),)
    assert filled.saturated_ratio[0, 0] < plain.saturated_ratio[0, 0]


@pytest.mark.parametrize(("ratio", "step"), [(191.0, 150), (127.9, 125), (128.0, 128), (9.9, None), (5e4, 1000)])
def test_limits_are_told_as_the_injector_step_below(ratio: float, step: int | None) -> None:
    assert injector_step(ratio) == step


def test_injector_ratios_rise() -> None:
    assert list(INJECTOR_RATIOS) == sorted(set(INJECTOR_RATIOS))


@settings(max_examples=40)
@given(tanks(), st.sampled_from([20.0, 60.0, 150.0, 400.0]), st.sampled_from([5.0, 20.0]))
def test_standing_at_a_ratio_is_assess_and_the_limit(contents: np.ndarray, ratio: float, temperature_c: float) -> None:
    state, limit = stand(contents, ratio, (temperature_c, 20.0))
    alone = assess(contents * ratio, (temperature_c, 20.0))
    assert state.rank.tolist() == alone.rank.tolist()
    assert state.margin == pytest.approx(alone.margin, abs=2e-3)
    assert state.ph == pytest.approx(alone.ph, abs=5e-3)
    first = strength_limit(contents, (temperature_c,))
    for found, wanted in ((limit.saturated_ratio, first.saturated_ratio), (limit.clear_ratio, first.clear_ratio)):
        if limit.model_ends_at[0] / 600.0 < wanted[0, 0] < 0.95 * limit.model_ends_at[0]:
            assert found[0, 0] == pytest.approx(wanted[0, 0], rel=0.006)
    assert state.beyond_model.any() or (limit.clear_ratio[0, 0] < ratio) == (state.rank[0, 0] > 0)
    assert not state.beyond_model[0, 0] or state.rank[0, 0] > 0


def test_each_solid_has_its_ratio(totals) -> None:  # type: ignore[no-untyped-def]
    state, limit = stand(totals(PHOSPHATE), 100.0, (10.0,))
    each = dict(zip(state.solids, limit.solid_ratio[0, :, 0], strict=True))
    assert min(each.values()) == limit.saturated_ratio[0, 0] == each[limit.limited_by[0][0]]
    assert each["potassium-sulfate"] < each["potassium-nitrate"]
    assert np.isinf(each["gypsum"])
    at = assess(totals(PHOSPHATE) * each["potassium-sulfate"], (10.0,))
    assert at.saturation_index[0, at.solids.index("potassium-sulfate"), 0] == pytest.approx(0.0, abs=2e-3)


def test_alkaline_fill_water_that_clouds_weak_tanks_only(totals) -> None:  # type: ignore[no-untyped-def]
    """Hard raw water drops brushite in a tank of hardly any phosphate; enough monobasic phosphate makes it acid."""
    water = totals({"Ca": 3e-3, "C": 6e-3, "Na": 0.5e-3, "Cl": 0.5e-3})[:, 0]
    phosphate = totals({"K": 1.5e-3, "P": 1.5e-3})
    weak, strong = (stand(phosphate, ratio, (20.0,), water) for ratio in (1.0, 400.0))
    assert weak.state.rank[0, 0] > 0
    assert strong.state.rank[0, 0] == 0
    assert strong.limit.clear_ratio[0, 0] > 400.0
    assert strong.limit.clear_limited_by == (("monopotassium-phosphate",),)
    assert strength_limit(phosphate, (20.0,), water).clear_ratio[0, 0] < 400.0


def test_where_a_tank_settles_the_limit_lies_below(totals) -> None:  # type: ignore[no-untyped-def]
    both = totals(PHOSPHATE | CALCIUM)
    state, limit = stand(both, 100.0, (20.0,))
    assert state.verdict(0, 0) == "settles"
    ratio = limit.clear_ratio[0, 0]
    assert 1.0 < ratio < 20.0
    assert assess(both * ratio * 0.99, (20.0,)).verdict(0, 0) == "clear"
    assert assess(both * ratio * 1.01, (20.0,)).verdict(0, 0) != "clear"


@settings(max_examples=40)
@given(tanks(), tanks(), st.sampled_from([20.0, 60.0, 150.0, 400.0]), st.sampled_from([(5.0, 20.0), (20.0,)]))
def test_one_look_sees_what_two_do(
    one: np.ndarray, other: np.ndarray, ratio: float, temperatures_c: tuple[float, ...]
) -> None:
    """To the last digits, whatever stands beside; and what comes to rest in other rounds is not looked at together."""
    others, contents = np.concatenate((one, other), axis=1) * ratio, np.concatenate((other, one), axis=1)
    both = stand_beside(others, contents, ratio, temperatures_c)
    if both is None:
        return
    (beside, found), apart = both, stand(contents, ratio, temperatures_c)
    alone = assess(others, temperatures_c[:1])
    assert beside.rank[:1].tolist() == alone.rank.tolist()
    assert beside.excess[:1] == pytest.approx(alone.excess, rel=1e-9, abs=1e-9)
    assert found.state.excess == pytest.approx(apart.state.excess, rel=1e-9, abs=1e-9)
    assert found.state.rank.tolist() == apart.state.rank.tolist()
    assert found.limit.clear_limited_by == apart.limit.clear_limited_by
    assert found.limit.solid_ratio == pytest.approx(apart.limit.solid_ratio, rel=1e-7)


def test_tanks_of_one_kind_are_looked_at_together(totals) -> None:  # type: ignore[no-untyped-def]
    calcium, plain = totals(CALCIUM), totals({"K": 3e-3, "NO3": 3e-3})
    assert stand_beside(100.0 * plain, calcium, 100.0, (5.0, 20.0)) is not None
    assert stand_beside(3000.0 * plain, calcium, 100.0, (5.0, 20.0)) is None
