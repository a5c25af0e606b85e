"""Gypsum that drops out: just saturated afterwards, none where none is too much, more the stronger the tank."""

from __future__ import annotations

import numpy as np
import pytest

from core.chemistry.components import COMPONENTS
from core.chemistry.concentrates import assess, assess_molal, fill
from core.chemistry.concentrates.gypsum import gypsum_dropped

FEED = {"Ca": 5.4e-3, "NH4": 1.2e-3, "NO3": 16e-3, "K": 9.5e-3, "P": 1.5e-3, "Mg": 2.4e-3, "S": 4.4e-3}
WATER_KG_PER_MOL = 0.018015


@pytest.mark.parametrize("temperature_c", [5.0, 20.0, 30.0])
def test_what_is_left_is_just_saturated(totals, temperature_c: float) -> None:  # type: ignore[no-untyped-def]
    contents = totals(FEED) * np.array([20.0, 60.0, 150.0])
    dropped = gypsum_dropped(contents, temperature_c)
    left = contents.copy()
    for component in ("Ca", "S"):
        left[COMPONENTS.index(component)] -= dropped
    molal = left / (fill(contents).water_kg_per_l - 2 * WATER_KG_PER_MOL * dropped)
    state = assess_molal(molal, (temperature_c,))
    assert state.saturation_index[0, state.solids.index("gypsum")] == pytest.approx(0.0, abs=0.005)
    assert np.all(np.diff(dropped) > 0)


def test_nothing_drops_where_gypsum_is_not_saturated(totals) -> None:  # type: ignore[no-untyped-def]
    thin, no_calcium = totals(FEED) * 2.0, totals(FEED | {"Ca": 0.0}) * 100.0
    for contents in (thin, no_calcium):
        state = assess(contents, (20.0,))
        assert state.saturation_index[0, state.solids.index("gypsum"), 0] < 0.0
        assert gypsum_dropped(contents, 20.0) == pytest.approx([0.0])


def test_wrong_shapes_are_refused() -> None:
    with pytest.raises(ValueError, match="contents must be"):
        gypsum_dropped(np.zeros((3, 1)), 20.0)
