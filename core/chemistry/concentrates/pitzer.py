"""Activities in concentrated mixed electrolytes by Pitzer's equations, for many solutions at once.

Source: Pitzer 1991, Activity Coefficients in Electrolyte Solutions, 2nd ed., chapter 3; the form of Harvie, Moller &
Weare 1984, Geochim. Cosmochim. Acta 48, 723, which PHREEQC also uses.
"""

from __future__ import annotations

import numpy as np

from core.chemistry.concentrates.floats import Floats
from core.chemistry.concentrates.parameters import BETA0, BETA1, BETA2, C_GAMMA, THETA, UNLIKE, Parameters, triples
from core.chemistry.concentrates.species import CHARGE
from core.chemistry.concentrates.unlike_charges import e_theta

_B = 1.2
_ALPHA = np.array([2.0, 1.4, 12.0])[:, None]
"""Exponents of beta1, beta1 of two divalent ions, beta2 [(kg/mol)^0.5]."""
_ABS_CHARGE = np.abs(CHARGE)
_CHARGE_SQUARED = CHARGE**2
_WATER_KG_PER_MOL = 0.0180153
_LEAST_STRENGTH = 1e-6
"""Keeps the quotients finite in a tank of uncharged things [mol/kg]."""


def activities(molality: Floats, neutral_molality: Floats, given: Parameters) -> tuple[Floats, Floats]:
    """Logarithms of the ions' activity coefficients and of water's activity.

    molality : (n_temperatures, n_ions, n) ndarray [mol/kg water];
    neutral_molality : (n_temperatures, n) ndarray [mol/kg water]; given : parameters at the temperatures.
    Returns ln gamma (n_temperatures, n_ions, n) and ln a_w (n_temperatures, n) [-].
    """
    n_temperatures, n_ions, n = molality.shape
    strength = np.maximum(0.5 * (_CHARGE_SQUARED @ molality), _LEAST_STRENGTH)
    equivalents = _ABS_CHARGE @ molality
    sums = (given.stack @ molality).reshape(n_temperatures, 7, n_ions, n)
    pairs = 0.5 * np.einsum("tkin,tin->tkn", sums, molality)
    root = np.sqrt(strength)
    x = _ALPHA * root[:, None, :]
    fading = np.exp(-x)
    g = 2.0 * (1.0 - (1.0 + x) * fading) / x**2
    theta, theta_slope = e_theta(strength, given.a_phi)
    ternary, cubic = _ternary(molality, given.psi)
    binary = slice(BETA1, BETA2 + 1)
    slopes = np.einsum("tkn,tkn->tn", pairs[:, binary], fading - g) / strength
    shielding = root / (1.0 + _B * root)
    common = slopes + pairs[:, UNLIKE] * theta_slope - given.a_phi * (shielding + 2.0 / _B * np.log1p(_B * root))
    mixed = sums[:, BETA0] + sums[:, THETA] + theta[:, None] * sums[:, UNLIKE]
    mixed += np.einsum("tkn,tkin->tin", g, sums[:, binary])
    ln_gamma = _CHARGE_SQUARED[:, None] * common[:, None] + 2.0 * mixed + equivalents[:, None] * sums[:, C_GAMMA]
    ln_gamma += _ABS_CHARGE[:, None] * pairs[:, C_GAMMA][:, None] + ternary
    excess = pairs[:, BETA0] + np.einsum("tkn,tkn->tn", pairs[:, binary], fading) - given.a_phi * strength * shielding
    excess += equivalents * pairs[:, C_GAMMA] + pairs[:, THETA] + cubic
    excess += pairs[:, UNLIKE] * (theta + strength * theta_slope)
    ln_water = -_WATER_KG_PER_MOL * (molality.sum(axis=1) + neutral_molality + 2.0 * excess)
    return ln_gamma, ln_water


def _ternary(molality: Floats, psi: Floats) -> tuple[Floats, Floats]:
    """What three ions together add to each ln gamma, (n_temperatures, n_ions, n), and to the osmotic sum."""
    members, scatter = triples()
    first, second, third = (molality[:, members[:, k]] for k in range(3))
    weighted = psi * third
    products = np.concatenate((second * weighted, first * weighted, psi * first * second), axis=1)
    return scatter @ products, np.einsum("tkn,tkn->tn", first, products[:, : len(members)])
