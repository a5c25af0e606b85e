"""The monotone cubic against scipy's, and what a table promises."""

from __future__ import annotations

from itertools import accumulate

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from core.catalog.monotone import interpolate

STEPS = st.lists(st.tuples(st.floats(0.1, 10), st.floats(-5, 5)), min_size=1, max_size=8)


def table(steps: list[tuple[float, float]]) -> tuple[list[float], list[float]]:
    return list(accumulate((dx for dx, _ in steps), initial=0.0)), list(
        accumulate((dy for _, dy in steps), initial=1.0)
    )


@given(STEPS, st.floats(0, 1))
def test_as_scipy_does(steps: list[tuple[float, float]], share: float) -> None:
    xs, ys = table(steps)
    x = min(xs[-1], share * xs[-1])
    assert interpolate(x, xs, ys) == pytest.approx(float(PchipInterpolator(xs, ys)(x)), rel=1e-9, abs=1e-9)


@given(STEPS)
def test_through_the_points(steps: list[tuple[float, float]]) -> None:
    xs, ys = table(steps)
    assert [interpolate(x, xs, ys) for x in xs] == pytest.approx(ys)


@given(STEPS, st.floats(0, 1), st.floats(0, 1))
def test_a_rising_table_gives_rising_values(steps: list[tuple[float, float]], one: float, other: float) -> None:
    xs, ys = table([(dx, abs(dy)) for dx, dy in steps])
    low, high = sorted((min(xs[-1], one * xs[-1]), min(xs[-1], other * xs[-1])))
    assert interpolate(low, xs, ys) <= interpolate(high, xs, ys) + 1e-9


@pytest.mark.parametrize("x", [-0.1, 2.1, float("nan")])
def test_outside_is_refused(x: float) -> None:
    with pytest.raises(ValueError, match="outside"):
        interpolate(x, (0, 1, 2), (0, 1, 4))
