"""Pitzer's equations: limiting law, thermodynamic consistency, independence of the batch."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from core.chemistry.concentrates.parameters import parameters
from core.chemistry.concentrates.pitzer import activities
from core.chemistry.concentrates.species import CHARGE, INDEX, IONS
from core.chemistry.concentrates.unlike_charges import e_theta, pitzer_j

NONE = np.zeros((1, 1))
KG_PER_MOL = 0.0180153


def solution(**molality: float) -> np.ndarray:
    column = np.zeros((1, len(IONS), 1))
    for name, value in molality.items():
        column[0, INDEX[name], 0] = value
    return column


@pytest.mark.parametrize("ions", [("K+", "NO3-"), ("Ca+2", "NO3-"), ("Mg+2", "SO4-2")])
def test_dilute_solutions_follow_the_limiting_law(ions: tuple[str, str]) -> None:
    cation, anion = (INDEX[ion] for ion in ions)
    molality = np.zeros((1, len(IONS), 1))
    molality[0, cation, 0], molality[0, anion, 0] = -CHARGE[anion] * 1e-6, CHARGE[cation] * 1e-6
    given_ = parameters((25.0,))
    ln_gamma, _ = activities(molality, NONE, given_)
    strength = 0.5 * CHARGE**2 @ molality[0, :, 0]
    law = -3.0 * given_.a_phi[0, 0] * CHARGE[cation] ** 2 * np.sqrt(strength)
    assert ln_gamma[0, cation, 0] == pytest.approx(law, rel=0.02)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.floats(0.02, 1.2), min_size=len(IONS), max_size=len(IONS)),
    st.sampled_from([2.0, 12.0, 25.0, 38.0]),
)
def test_gibbs_duhem_holds_along_any_dilution(amounts: list[float], temperature_c: float) -> None:
    """Sum m d ln(gamma m) + d ln a_w / M_w = 0 as all molalities grow together, whatever the mixture."""
    given_ = parameters((temperature_c,))
    molality = np.array(amounts)[None, :, None]
    step = 1e-5
    before, after = (activities(molality * (1.0 + sign * step), NONE, given_) for sign in (-1.0, 1.0))
    ions = (molality * (after[0] - before[0])).sum() + molality.sum() * 2.0 * step
    water = (after[1] - before[1])[0, 0] / KG_PER_MOL
    assert ions + water == pytest.approx(0.0, abs=1e-7 * molality.sum() + 1e-8)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.floats(0.02, 1.0), min_size=len(IONS), max_size=len(IONS)), st.data())
def test_activity_coefficients_derive_from_one_energy(amounts: list[float], data: st.DataObject) -> None:
    """Cross derivatives d ln gamma_i / d m_j are symmetric (Maxwell) for neutral or charged additions alike."""
    i, j = data.draw(st.tuples(st.integers(0, len(IONS) - 1), st.integers(0, len(IONS) - 1)))
    given_ = parameters((25.0,))
    molality = np.array(amounts)[None, :, None]

    def slope(of: int, by: int) -> float:
        shift = np.zeros_like(molality)
        shift[0, by, 0] = 1e-5
        high, low = (activities(molality + sign * shift, NONE, given_)[0][0, of, 0] for sign in (1.0, -1.0))
        return float(high - low) / 2e-5

    assert slope(i, j) == pytest.approx(slope(j, i), abs=1e-5)


def test_a_batch_is_its_solutions_one_by_one() -> None:
    rng = np.random.default_rng(7)
    molality = rng.uniform(0.0, 1.0, (2, len(IONS), 9))
    neutral = rng.uniform(0.0, 0.1, (2, 9))
    given_ = parameters((5.0, 20.0))
    ln_gamma, ln_water = activities(molality, neutral, given_)
    for place, temperature_c in enumerate((5.0, 20.0)):
        for column in range(9):
            one = activities(
                molality[place, :, column][None, :, None],
                neutral[place, column].reshape(1, 1),
                parameters((temperature_c,)),
            )
            np.testing.assert_allclose(ln_gamma[place, :, column], one[0][0, :, 0], rtol=1e-12, atol=1e-12)
            np.testing.assert_allclose(ln_water[place, column], one[1][0, 0], rtol=1e-12)


@pytest.mark.parametrize("x", [0.03, 0.4, 2.0, 9.0, 45.0])
def test_integral_j_against_adaptive_quadrature(x: float) -> None:
    inner, _ = quad(lambda y: (1.0 - np.exp(-x / y * np.exp(-y))) * y * y, 0.0, 60.0, epsabs=1e-12, limit=400)
    value, slope = pitzer_j(np.array([x, x * 1.0001, x * 0.9999]))
    assert value[0] == pytest.approx(x / 4.0 - 1.0 + inner / x, abs=1e-7)
    assert slope[0] == pytest.approx((value[1] - value[2]) / (0.0002 * x), abs=2e-6)


def test_e_theta_and_its_slope_belong_together() -> None:
    a_phi = np.array([[0.391]])
    strength = np.array([[0.1, 1.0, 4.0, 9.0, 20.0]])
    _, slope = e_theta(strength, a_phi)
    high, low = e_theta(strength * 1.02, a_phi)[0], e_theta(strength * 0.98, a_phi)[0]
    np.testing.assert_allclose(slope, (high - low) / (0.04 * strength), rtol=2e-3)


def test_no_ions_give_pure_water() -> None:
    ln_gamma, ln_water = activities(solution(), NONE, parameters((20.0,)))
    assert np.isfinite(ln_gamma).all()
    assert ln_water[0, 0] == pytest.approx(0.0, abs=1e-9)
