"""Typical waters: whole, closed in charge, and marked as invented."""

from __future__ import annotations

import msgspec
import pytest

from core.catalog import WaterProfile, waters
from core.recipe.records import WaterContents

CHARGE_PER_MG = {
    "NO3-N": -1 / 14.007, "NH4-N": 1 / 14.007, "K": 1 / 39.098, "Ca": 2 / 40.078, "Mg": 2 / 24.305, "S": -2 / 32.06,
    "Na": 1 / 22.990, "Cl": -1 / 35.45, "HCO3": -1 / 61.016,
}  # fmt: skip
"""meq per mg."""

EVERY_WATER = pytest.mark.parametrize("water", waters(), ids=[water.id for water in waters()])


def test_there_are_soft_and_hard_ones() -> None:
    calcium = [water.mg_per_l.get("Ca", 0) for water in waters()]
    assert len(waters()) >= 5
    assert min(calcium) < 1
    assert max(calcium) > 90


@EVERY_WATER
def test_charges_close(water: WaterProfile) -> None:
    parts = [CHARGE_PER_MG.get(name, 0.0) * amount for name, amount in water.mg_per_l.items()]
    assert abs(sum(parts)) <= 0.02 * sum(abs(part) for part in parts)


@EVERY_WATER
def test_ec_fits_the_ions(water: WaterProfile) -> None:
    """Ten meq/L of dilute ions conduct about 1 mS/cm (Sonneveld et al. 1999 give 0.095 mS/cm per meq/L)."""
    cations = sum(f * water.mg_per_l.get(n, 0) for n, f in CHARGE_PER_MG.items() if f > 0)
    assert 0.085 < water.ec_ms_per_cm / cations < 0.14


@EVERY_WATER
def test_a_recipe_takes_it_as_it_stands(water: WaterProfile) -> None:
    contents = msgspec.convert(water.mg_per_l, WaterContents)
    assert dict(contents.items()) == water.mg_per_l
    assert 5.5 <= water.ph <= 8


@EVERY_WATER
def test_it_is_marked_as_invented(water: WaterProfile) -> None:
    assert water.known.how_known == "INVENTED"
