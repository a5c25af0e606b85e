"""Electrostatic mixing of ions of like sign and unlike charge, the E-theta of Pitzer's equations.

For charges 1 and 2 the product I * E-theta depends on A_phi sqrt(I) alone, so one table serves every temperature.
Source: Pitzer 1975, J. Solution Chem. 4, 249 (the integral J); Harvie & Weare 1980, Geochim. Cosmochim. Acta 44, 981
(its place in the mixing terms).
"""

from __future__ import annotations

from functools import cache

import numpy as np

from core.chemistry.concentrates.floats import Floats

_STEP = 0.0025
_COUNT = 801


def pitzer_j(x: Floats) -> tuple[Floats, Floats]:
    """Pitzer's integral J(x) and its derivative, by 48-point Gauss-Legendre quadrature in the cube root of y.

    x : (n,) ndarray [-], above 0. Returns two (n,) ndarrays, within 1e-7 for x from 0.01 to 60.
    """
    node, weight = np.polynomial.legendre.leggauss(48)
    root = (node + 1.0) / 2.0
    y = 40.0 * root**3
    step = 60.0 * root**2 * weight
    screened = np.exp(-np.exp(-y) / y * x[:, None])
    integral = (1.0 - screened) @ (y * y * step)
    slope = screened @ (y * np.exp(-y) * step)
    return x / 4.0 - 1.0 + integral / x, 0.25 - integral / x**2 + slope / x


@cache
def _table() -> tuple[Floats, Floats, Floats]:
    """Grid of A_phi sqrt(I), the function I E-theta on it, and its derivative."""
    grid: Floats = np.arange(_COUNT, dtype=float) * _STEP
    x = 6.0 * grid[1:]
    (like1, slope1), (mixed, slope_mixed), (like2, slope2) = pitzer_j(x), pitzer_j(2.0 * x), pitzer_j(4.0 * x)
    value = 0.5 * (mixed - 0.5 * like1 - 0.5 * like2)
    slope = 3.0 * (2.0 * slope_mixed - 0.5 * slope1 - 2.0 * slope2)
    padded: tuple[Floats, Floats] = (np.append(0.0, value), np.append(slope[0], slope))
    return grid, *padded


def e_theta(ionic_strength: Floats, a_phi: Floats) -> tuple[Floats, Floats]:
    """E-theta of charges 1 and 2 of like sign, and its derivative by ionic strength.

    ionic_strength : (n_temperatures, n) ndarray [mol/kg], above 0; a_phi : (n_temperatures, 1) ndarray [(kg/mol)^0.5].
    Returns two (n_temperatures, n) ndarrays [kg/mol, kg2/mol2]. Valid to A_phi sqrt(I) = 2, that is I of about 26.
    """
    grid, value, slope = _table()
    root = np.sqrt(ionic_strength)
    place = a_phi * root
    times_i = np.interp(place, grid, value)
    by_place = np.interp(place, grid, slope)
    theta = times_i / ionic_strength
    return theta, (0.5 * a_phi * by_place / root - theta) / ionic_strength
