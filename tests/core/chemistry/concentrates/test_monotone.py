"""Interpolation of solubility tables against an independent implementation of the same cubic."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from core.chemistry.concentrates.monotone import interpolate
from core.chemistry.concentrates.resource import solid_table

TABLES = [row.saturation for row in solid_table().solids if row.saturation is not None]


@pytest.mark.parametrize("table", TABLES, ids=range(len(TABLES)))
def test_agrees_with_scipy_on_every_solubility_table(table) -> None:  # type: ignore[no-untyped-def]
    other = PchipInterpolator(table.temperature_c, table.mass_percent)
    for t in np.linspace(table.temperature_c[0], table.temperature_c[-1], 57):
        assert interpolate(float(t), table.temperature_c, table.mass_percent) == pytest.approx(float(other(t)), 1e-12)


@given(st.lists(st.floats(-50.0, 50.0), min_size=3, max_size=8), st.floats(-1.0, 12.0))
def test_never_leaves_the_values_it_lies_between(values: list[float], x: float) -> None:
    points = tuple(float(k) for k in range(len(values)))
    found = interpolate(x, points, tuple(values))
    k = int(np.clip(np.floor(x), 0, len(values) - 2))
    around = values[k : k + 2]
    assert min(around) - 1e-9 <= found <= max(around) + 1e-9


def test_holds_the_ends() -> None:
    assert interpolate(-5.0, (0.0, 1.0, 2.0), (1.0, 3.0, 4.0)) == 1.0
    assert interpolate(9.0, (0.0, 1.0, 2.0), (1.0, 3.0, 4.0)) == 4.0
