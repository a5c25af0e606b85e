"""Saturation indices: by hand, their signs, their absence."""

from __future__ import annotations

import numpy as np
import pytest

from core.chemistry import saturation_indices, speciate
from core.chemistry.solids import log10_solubility_product, solids
from tests.core.chemistry.feeds import TOMATO, column

KSP = {solid.name: solid for solid in solids()}


def test_gypsum_by_hand() -> None:
    found = speciate(column({"Ca": 10.0, "S": 10.0}), 25.0)
    activity = dict(zip(found.names, found.log10_activity[:, 0], strict=True))
    water = np.log10(1.0 - 0.017 * found.molality.sum())
    wanted = activity["Ca+2"] + activity["SO4-2"] + 2.0 * water + 4.58
    assert saturation_indices(found)["gypsum"][0] == pytest.approx(wanted, abs=2e-3)


def test_gypsum_dissolves_to_its_known_amount() -> None:
    """Solubility 15.2 mmol/kg at 25 degC (Marshall & Slusher 1966): the index passes zero there."""
    low, high = saturation_indices(speciate(np.stack([column({"Ca": c, "S": c}) for c in (14.7, 15.8)], axis=1), 25.0))[
        "gypsum"
    ]
    assert low < 0.0 < high


@pytest.mark.parametrize(
    ("solid", "temperature_c", "log10_product"),
    [("gypsum", 5.0, -4.602), ("gypsum", 30.0, -4.584), ("calcite", 5.0, -8.394), ("calcite", 25.0, -8.48),
     ("calcite", 30.0, -8.51), ("struvite", 25.0, -13.26)],
)  # fmt: skip
def test_products_as_their_sources_evaluate(solid: str, temperature_c: float, log10_product: float) -> None:
    """USGS PHREEQC phreeqc.dat 3.7.3, Ronteltap et al. 2007."""
    assert log10_solubility_product(KSP[solid], temperature_c) == pytest.approx(log10_product, abs=2e-3)


def test_what_lacks_an_ion_cannot_settle() -> None:
    indices = saturation_indices(speciate(column({"Ca": 4.0, "NO3": 8.0}), 25.0))
    assert all(value[0] == -np.inf for value in indices.values())


def test_phosphate_settles_when_ph_rises() -> None:
    totals = np.repeat(column(TOMATO)[:, None], 9, axis=1)
    brushite = saturation_indices(speciate(totals, 20.0, ph=np.linspace(4.0, 8.0, 9)))["brushite"]
    assert (np.diff(brushite) > 0.0).all()
    assert brushite[0] < -1.0 < 0.0 < brushite[-1]
