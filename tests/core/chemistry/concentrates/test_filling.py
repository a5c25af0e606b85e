"""Water and density of filled tanks."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.chemistry.components import COMPONENTS
from core.chemistry.concentrates import fill


def test_nothing_in_it_is_a_litre_of_water(totals) -> None:  # type: ignore[no-untyped-def]
    filling = fill(totals({}))
    assert filling.water_kg_per_l[0] == pytest.approx(0.99821, abs=1e-5)
    assert filling.density_kg_per_l[0] == filling.water_kg_per_l[0]


@settings(max_examples=50, deadline=None)
@given(st.lists(st.floats(0.0, 0.2), min_size=len(COMPONENTS), max_size=len(COMPONENTS)))
def test_density_is_the_water_and_what_is_in_it(amounts: list[float]) -> None:
    contents = np.array(amounts)[:, None]
    filling = fill(contents)
    assert np.isfinite(filling.water_kg_per_l).all()
    assert filling.density_kg_per_l[0] >= filling.water_kg_per_l[0] - 0.01


@pytest.mark.parametrize(
    ("acid", "contents", "density"),
    [("nitric 1 mol/L", {"NO3": 1.0}, 1.0318), ("phosphoric 1 mol/L", {"P": 1.0}, 1.0514)],
)
def test_acids_weigh_what_handbooks_say(totals, acid: str, contents: dict[str, float], density: float) -> None:  # type: ignore[no-untyped-def]
    """Laliberte 2009, J. Chem. Eng. Data 54, 1725, at 20 degC (hydrogen has no row of its own)."""
    assert fill(totals(contents)).density_kg_per_l[0] == pytest.approx(density, abs=0.003)
