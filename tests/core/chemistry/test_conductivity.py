"""Conductivity: limits, shares, the band, temperature, and the water in a litre."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.chemistry import (
    OutOfRange,
    conductivity_by_ion,
    conductivity_ms_per_cm,
    factor_to_25_c,
    kg_water_per_l,
    kg_water_per_l_at,
    speciate,
)
from tests.core.chemistry.feeds import MOST_MMOL_PER_KG, TOMATO, column, random_feeds


def test_a_trace_of_salt_reaches_the_limiting_conductivities() -> None:
    """K+ 73.48 and NO3- 71.42 S cm2/mol (CRC Handbook), less the drag at 1e-7 mol/L, water's own ions taken off."""
    water = conductivity_ms_per_cm(speciate(column({}), 25.0))[0]
    salt = conductivity_ms_per_cm(speciate(column({"K": 1e-2, "NO3": 1e-2}), 25.0))[0]
    assert (salt - water) / (1e-5 * 0.99705) == pytest.approx(73.48 + 71.42, rel=3e-3)


def test_pure_water() -> None:
    """0.055 uS/cm at 25 degC (Light et al. 2005)."""
    assert conductivity_ms_per_cm(speciate(column({}), 25.0))[0] == pytest.approx(5.5e-5, rel=0.01)


@settings(max_examples=25)
@given(seed=st.integers(0, 10**6))
def test_shares_add_up_to_the_whole(seed: int) -> None:
    found = speciate(random_feeds(seed, 4, MOST_MMOL_PER_KG), 25.0, ph=np.full(4, 6.0))
    told = conductivity_by_ion(found)
    np.testing.assert_allclose(told.share.sum(axis=0), 1.0, rtol=1e-12)
    np.testing.assert_allclose(told.ec_ms_per_cm, conductivity_ms_per_cm(found), rtol=1e-12)
    assert (told.share >= 0.0).all()
    charged = np.array([not name[-1].isalpha() for name in found.names])
    assert not told.share[[name in {"CaSO4", "H3BO3", "CO2"} for name in found.names]].any()
    assert charged.any()


def test_ions_of_no_known_kind_widen_the_band() -> None:
    """60 +- 15 S cm2/mol: an inert ion with a quarter of the current adds a quarter of 25 %."""
    plain = conductivity_by_ion(speciate(column(TOMATO), 25.0, ph=5.8))
    assert plain.band_percent[0] == pytest.approx(2.0)
    unknown = conductivity_by_ion(speciate(column({"K": 5.0, "inert-": 5.0}), 25.0, ph=7.0))
    assert 100.0 * 15.0 / (60.0 + 73.5) < unknown.band_percent[0] < 14.0


def test_band_widens_beyond_the_range() -> None:
    told = conductivity_by_ion(speciate(column({"K": 130.0, "Cl": 130.0}), 25.0))
    assert told.band_percent[0] == pytest.approx(5.0)


@settings(max_examples=25)
@given(seed=st.integers(0, 10**6), share=st.floats(0.3, 0.9))
def test_thinner_feed_conducts_less_but_more_than_in_proportion(seed: int, share: float) -> None:
    totals = random_feeds(seed, 1, MOST_MMOL_PER_KG)
    strong, weak = (conductivity_ms_per_cm(speciate(totals * part, 25.0, ph=6.0))[0] for part in (1.0, share))
    assert share * strong < weak < strong


def test_warmer_feed_conducts_more_by_about_two_per_cent() -> None:
    """1.87 to 1.92 % per degree for a nutrient solution (McCleskey et al. 2012)."""
    cold, warm = (conductivity_ms_per_cm(speciate(column(TOMATO), t, ph=5.8), t)[0] for t in (15.0, 25.0))
    assert 1.8 < 100.0 * (warm - cold) / warm / 10.0 < 2.05


def test_linear_compensation() -> None:
    assert factor_to_25_c(25.0) == pytest.approx(1.0)
    assert factor_to_25_c(15.0) == pytest.approx(1.0 / 0.81)
    assert factor_to_25_c(20.0, percent_per_c=2.0) == pytest.approx(1.0 / 0.9)


def test_compensation_for_natural_waters() -> None:
    """ISO 7888:1985, f25 at 5, 20 and 30 degC, and halfway between two whole degrees."""
    assert factor_to_25_c(np.array([5.0, 20.0, 30.0]), "iso-7888") == pytest.approx([1.643, 1.116, 0.903])
    assert factor_to_25_c(20.5, "iso-7888") == pytest.approx((1.116 + 1.091) / 2)


@pytest.mark.parametrize(("temperature_c", "scheme"), [(-1.0, "linear"), (36.0, "iso-7888"), (float("nan"), "linear")])
def test_compensation_outside_its_range_is_refused(temperature_c: float, scheme: str) -> None:
    with pytest.raises(OutOfRange):
        factor_to_25_c(temperature_c, scheme)


def test_water_in_a_litre_of_potassium_chloride() -> None:
    """0.01 and 0.1 mol/L are 0.01003 and 0.10058 mol/kg at 25 degC (density tables, CRC Handbook), to 0.02 %."""
    for molar, molal in ((0.01, 0.010031), (0.1, 0.10058)):
        totals = column({"K": 1000.0 * molar, "Cl": 1000.0 * molar})
        assert molar / kg_water_per_l(totals) == pytest.approx(molal, rel=2e-4)


@settings(max_examples=25)
@given(seed=st.integers(0, 10**6), temperature_c=st.floats(0.0, 40.0))
def test_water_by_litre_and_by_kilogram_agree(seed: int, temperature_c: float) -> None:
    per_l = random_feeds(seed, 2, MOST_MMOL_PER_KG)
    water = kg_water_per_l(per_l, temperature_c)
    np.testing.assert_allclose(kg_water_per_l_at(per_l / water, temperature_c), water, rtol=1e-12)
