"""Activities in concentrated mixed electrolytes by Pitzer's equations, for many solutions at once.

Source: Pitzer 1991, Activity Coefficients in Electrolyte Solutions, 2nd ed., chapter 3; the form of Harvie, Moller &
Weare 1984, Geochim. Cosmochim. Acta 48, 723, which PHREEQC also uses.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from core.chemistry.concentrates.floats import Floats
from core.chemistry.concentrates.parameters import BETA0, BETA1, BETA2, C_GAMMA, THETA, UNLIKE, Parameters, triples
from core.chemistry.concentrates.species import CHARGE
from core.chemistry.concentrates.unlike_charges import e_theta

_B = 1.2
_MINUS_ALPHA = -np.array([2.0, 1.4, 12.0])[:, None]
"""Exponents of beta1, beta1 of two divalent ions, beta2 [(kg/mol)^0.5]."""
_BINARY = slice(BETA1, BETA2 + 1)
_SHARED = np.stack([CHARGE**2, np.abs(CHARGE)], axis=1)
"""How an ion takes part in what all ions share: by its squared charge, and by its charge."""
_WATER_KG_PER_MOL = 0.0180153
_LEAST_STRENGTH = 1e-6
"""Keeps the quotients finite in a tank of uncharged things [mol/kg]."""


class Interactions(NamedTuple):
    """What ions do to each other; (n_temperatures, n) unless said otherwise.

    ln_gamma : (n_temperatures, n_ions, n) logarithms of the activity coefficients; pairs : (n_temperatures, 7, n) twice
    the sums over pairs of ions, fading : (n_temperatures, 3, n) how their binary terms fade; theta, theta_slope : of
    unlike charges; ternary : (n_temperatures, n_ions, n) what three ions together add to ln_gamma.
    """

    molality: Floats
    strength: Floats
    equivalents: Floats
    ln_gamma: Floats
    pairs: Floats
    fading: Floats
    theta: Floats
    theta_slope: Floats
    shielding: Floats
    ternary: Floats


def activities(molality: Floats, neutral_molality: Floats, given: Parameters) -> tuple[Floats, Floats]:
    """Logarithms of the ions' activity coefficients and of water's activity.

    molality : (n_temperatures, n_ions, n) ndarray [mol/kg water];
    neutral_molality : (n_temperatures, n) ndarray [mol/kg water]; given : parameters at the temperatures.
    Returns ln gamma (n_temperatures, n_ions, n) and ln a_w (n_temperatures, n) [-].
    """
    found = interactions(molality, given)
    return found.ln_gamma, ln_water(found, neutral_molality, given)


def interactions(molality: Floats, given: Parameters) -> Interactions:
    """Activity coefficients, and what the activity of water follows from.

    molality : (n_temperatures, n_ions, n) ndarray [mol/kg water]; given : parameters at the temperatures.
    """
    n_temperatures, n_ions, n = molality.shape
    linear = given.stack @ molality
    sums = linear[:, :-2].reshape(n_temperatures, 7, n_ions, n)
    strength, equivalents = np.maximum(linear[:, -2], _LEAST_STRENGTH), linear[:, -1]
    pairs = np.einsum("tkin,tin->tkn", sums, molality)
    root = np.sqrt(strength)
    x = _MINUS_ALPHA * root[:, None, :]
    fading = np.exp(x)
    g = (2.0 - (2.0 - 2.0 * x) * fading) / (x * x)
    theta, theta_slope = e_theta(strength, given.a_phi)
    ternary = _ternary(molality, given.psi)
    shielded = 1.0 + _B * root
    shielding = root / shielded
    shared = np.empty((n_temperatures, 2, n))
    slopes = np.einsum("tkn,tkn->tn", pairs[:, _BINARY], fading - g) / strength + pairs[:, UNLIKE] * theta_slope
    shared[:, 0] = 0.5 * slopes - given.a_phi * (shielding + 2.0 / _B * np.log(shielded))
    shared[:, 1] = 0.5 * pairs[:, C_GAMMA]
    weights = np.empty_like(pairs)
    weights[:, BETA0] = weights[:, THETA] = 2.0
    weights[:, _BINARY], weights[:, C_GAMMA], weights[:, UNLIKE] = 2.0 * g, equivalents, 2.0 * theta
    ln_gamma = np.einsum("tkn,tkin->tin", weights, sums)
    ln_gamma += _SHARED @ shared
    ln_gamma += ternary
    return Interactions(
        molality, strength, equivalents, ln_gamma, pairs, fading, theta, theta_slope, shielding, ternary
    )


def ln_water(found: Interactions, neutral_molality: Floats, given: Parameters) -> Floats:
    """Logarithm of the activity of water, (n_temperatures, n) ndarray [-].

    neutral_molality : (n_temperatures, n) ndarray [mol/kg water]; given : parameters at the temperatures.
    """
    weights = np.empty_like(found.pairs)
    weights[:, BETA0] = weights[:, THETA] = 1.0
    weights[:, _BINARY], weights[:, C_GAMMA] = found.fading, found.equivalents
    weights[:, UNLIKE] = found.theta + found.strength * found.theta_slope
    twice = np.einsum("tkn,tkn->tn", weights, found.pairs)
    twice -= 2.0 * given.a_phi * found.strength * found.shielding
    # the ternary terms are of third degree, so their slopes sum to three times what they are
    twice += np.einsum("tin,tin->tn", found.ternary, found.molality) * (2.0 / 3.0)
    water: Floats = -_WATER_KG_PER_MOL * (found.molality.sum(axis=1) + neutral_molality + twice)
    return water


def _ternary(molality: Floats, psi: Floats) -> Floats:
    """What three ions together add to each ln gamma, (n_temperatures, n_ions, n)."""
    members, scatter = triples()
    n_temperatures, _, n = molality.shape
    count = len(members) // 3
    three = molality.take(members, axis=1).reshape(n_temperatures, 3, count, n)
    weighted = psi[:, None] * three[:, 1:]
    products = np.empty((n_temperatures, 3, count, n))
    np.multiply(three[:, 1], weighted[:, 1], out=products[:, 0])
    np.multiply(three[:, :1], weighted[:, ::-1], out=products[:, 1:])
    added: Floats = scatter @ products.reshape(n_temperatures, 3 * count, n)
    return added
