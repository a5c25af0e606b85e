"""Solubility by temperature: bases, hydrates and what is not known."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.catalog import practical_limits, salt, salts, solubility_g_per_100g_water, solubility_g_per_l
from core.catalog.solubility import solubility_curves

FALLING = ("calcium-hydroxide", "manganese-sulfate-monohydrate", "manganese-sulfate-tetrahydrate")
"""Less soluble when warm, at least in part."""


@pytest.mark.parametrize("salt_id", list(solubility_curves()))
def test_curves_are_whole(salt_id: str) -> None:
    curve = solubility_curves()[salt_id]
    assert salt_id in salts()
    assert len(curve.temperature_c) == len(curve.anhydrous_percent) >= 3
    assert list(curve.temperature_c) == sorted(set(curve.temperature_c))
    if salt_id not in FALLING:
        assert list(curve.anhydrous_percent) == sorted(curve.anhydrous_percent)
    densities = curve.saturated_density_kg_per_l
    assert set(curve.known) == {"anhydrous_percent"} | ({"saturated_density_kg_per_l"} if densities else set())
    if densities:
        assert len(densities) == len(curve.temperature_c)
        assert all(0.99 < density < 1.7 for density in densities)


@given(st.sampled_from(sorted(solubility_curves())), st.floats(0, 1))
def test_between_the_points_nothing_overshoots(salt_id: str, share: float) -> None:
    curve = solubility_curves()[salt_id]
    low, high = curve.temperature_c[0], curve.temperature_c[-1]
    temperature_c = min(max(low + share * (high - low), low), high)
    dissolved = solubility_g_per_100g_water(salt_id, temperature_c)
    assert dissolved is not None
    percent = 100 * dissolved / (100 + dissolved)
    assert min(curve.anhydrous_percent) - 1e-9 <= percent <= max(curve.anhydrous_percent) + 1e-9


def test_beyond_the_points_nothing_is_said() -> None:
    for temperature_c in (-0.1, 40.1, float("nan")):
        assert solubility_g_per_100g_water("potassium-nitrate", temperature_c) is None
        assert solubility_g_per_l("potassium-nitrate", temperature_c) is None
    assert solubility_g_per_100g_water("citric-acid", 5) is None
    for unknown in ("iron-eddha-6", "calcium-nitrate-greenhouse", "nitric-acid"):
        assert solubility_g_per_100g_water(unknown, 20) is None
        assert solubility_g_per_l(unknown, 20) is None
    assert solubility_g_per_l("urea", 20) is None


def test_products_of_one_salt_differ_by_their_water_only() -> None:
    for temperature_c in (0, 7, 20, 40):
        per_l = {}
        for name in ("heptahydrate", "monohydrate", "anhydrous"):
            product = salt(f"magnesium-sulfate-{name}")
            dissolved = solubility_g_per_l(product, temperature_c)
            assert dissolved is not None
            per_l[name] = dissolved * product.anhydrous_mass_fraction
        assert per_l["heptahydrate"] == pytest.approx(per_l["anhydrous"])
        assert per_l["monohydrate"] == pytest.approx(per_l["anhydrous"])
    heptahydrate = solubility_g_per_100g_water("magnesium-sulfate-heptahydrate", 20)
    assert heptahydrate == solubility_g_per_100g_water("magnesium-sulfate-anhydrous", 20)


def test_a_litre_of_saturated_solution_weighs_more_than_what_it_holds() -> None:
    for salt_id, curve in solubility_curves().items():
        for temperature_c, density in zip(curve.temperature_c, curve.saturated_density_kg_per_l or (), strict=False):
            dissolved = solubility_g_per_l(salt_id, temperature_c)
            assert dissolved is not None
            assert 0 < dissolved * salt(salt_id).anhydrous_mass_fraction < 1000 * density


def test_quoted_limits_stand_where_there_is_no_curve() -> None:
    limits = practical_limits()
    assert limits["iron-eddha-6"].g_per_l == 60
    assert limits["iron-eddha-6"].known.how_known == "READ"
    assert not limits.keys() & solubility_curves().keys()
    assert limits.keys() <= salts().keys()
    assert all(limit.g_per_l > 0 for limit in limits.values())
