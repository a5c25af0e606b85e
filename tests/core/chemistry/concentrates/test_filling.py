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


SINGLES = (
    ({"K": 2.0, "NO3": 2.0}, 1.1187),
    ({"K": 1.0, "S": 0.5}, 1.0656),
    ({"K": 1.0, "P": 1.0}, 1.0889),
    ({"K": 2.0, "Cl": 2.0}, 1.0885),
    ({"Ca": 2.0, "NO3": 4.0}, 1.2268),
    ({"Ca": 2.0, "Cl": 4.0}, 1.1679),
    ({"Mg": 2.0, "NO3": 4.0}, 1.2046),
    ({"Mg": 1.5, "S": 1.5}, 1.1652),
    ({"NH4": 4.0, "NO3": 4.0}, 1.1212),
    ({"NH4": 4.0, "S": 2.0}, 1.1339),
    ({"NO3": 1.0}, 1.0326),
    ({"S": 1.0}, 1.0616),
    ({"P": 1.0}, 1.0499),
    ({"K": 1.0, "P": 0.5}, 1.0704),
)
"""Contents [mol/L] and density [kg/L] at 20 degC of single salts and acids: Laliberte 2009, J. Chem. Eng. Data 54,
1725, equation and parameters as published (DERIVED)."""


@pytest.mark.parametrize(("contents", "density_kg_per_l"), SINGLES, ids=range(len(SINGLES)))
def test_single_salts_and_acids_weigh_what_is_published(totals, contents, density_kg_per_l: float) -> None:  # type: ignore[no-untyped-def]
    assert fill(totals(contents)).density_kg_per_l[0] == pytest.approx(density_kg_per_l, rel=5e-3)
