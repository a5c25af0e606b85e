"""Pitzer parameters laid out as matrices, so that all interactions of a batch are one matrix product.

Temperature: where the source publishes coefficients they are used, else the value of 25 degC stands.
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

import numpy as np

from core.chemistry.concentrates.floats import Floats
from core.chemistry.concentrates.resource import Binary, pitzer_table
from core.chemistry.concentrates.species import CHARGE, INDEX, IONS
from core.chemistry.water import ZERO_CELSIUS_K, debye_hueckel

REFERENCE_K = 298.15
BETA0, BETA1, BETA1_TWO_TWO, BETA2, C_GAMMA, THETA, UNLIKE = range(7)
"""Places in the stack of matrices; UNLIKE marks pairs of like sign and unlike charge."""


class Triples(NamedTuple):
    """The ternary terms.

    members : (3 n_triples,) int places, all first ions before all second and all third ones; scatter : (n_ions,
    3 n_triples) [0 or 1].
    """

    members: np.ndarray[tuple[int, ...], np.dtype[np.intp]]
    scatter: Floats


class Parameters(NamedTuple):
    """Parameters at some temperatures.

    stack : (n_temperatures, 7 n_ions + 2, n_ions) ndarray [kg/mol, C kg2/mol2], two rows below the matrices half the
    squared charges and their sizes [-]; psi : (n_temperatures, n_triples, 1) ndarray [kg2/mol2]; a_phi :
    (n_temperatures, 1) ndarray [(kg/mol)^0.5].
    """

    stack: Floats
    psi: Floats
    a_phi: Floats


def _basis(temperature_c: float) -> Floats:
    """(6,) ndarray of the temperature functions the coefficients multiply."""
    t, t0 = temperature_c + ZERO_CELSIUS_K, REFERENCE_K
    return np.array([1.0, 1 / t - 1 / t0, np.log(t / t0), t - t0, t * t - t0 * t0, 1 / t**2 - 1 / t0**2])


def _padded(coefficients: tuple[float, ...]) -> Floats:
    return np.pad(np.array(coefficients), (0, 6 - len(coefficients)))


@cache
def _pairs() -> Floats:
    """(7, n_ions, n_ions, 6) ndarray of temperature coefficients."""
    table = pitzer_table()
    published = {row.ions: row for row in table.binary}
    rows = [(row.ions, row) for row in table.binary] + [(alike.ions, published[alike.like]) for alike in table.alike]
    cube = np.zeros((7, len(IONS), len(IONS), 6))
    for ions, row in rows:
        _set_binary(cube, ions, row)
    for theta in table.theta:
        i, j = (INDEX[ion] for ion in theta.ions)
        cube[THETA, i, j] = cube[THETA, j, i] = _padded(theta.value)
    unlike = (np.outer(CHARGE, CHARGE) > 0) & (CHARGE[:, None] != CHARGE)
    cube[UNLIKE, :, :, 0] = unlike
    return cube


def _set_binary(cube: Floats, ions: tuple[str, str], row: Binary) -> None:
    i, j = INDEX[ions[0]], INDEX[ions[1]]
    product = -CHARGE[i] * CHARGE[j]
    beta1 = BETA1_TWO_TWO if product == 4 else BETA1
    c_gamma = _padded(row.cphi) / (2.0 * np.sqrt(product))
    values = ((BETA0, _padded(row.beta0)), (beta1, _padded(row.beta1)), (BETA2, _padded(row.beta2)))
    for place, value in (*values, (C_GAMMA, c_gamma)):
        cube[place, i, j] = cube[place, j, i] = value


@cache
def triples() -> Triples:
    """The ternary terms' ions, and the matrix that adds each term's three derivatives to its ions."""
    members = np.array([[INDEX[ion] for ion in row.ions] for row in pitzer_table().psi]).T.ravel()
    scatter = np.zeros((len(IONS), members.size))
    scatter[members, np.arange(members.size)] = 1.0
    return Triples(members, scatter)


@cache
def _psi() -> Floats:
    return np.array([_padded(row.value) for row in pitzer_table().psi])


def parameters(temperatures_c: tuple[float, ...]) -> Parameters:
    """Parameters at some temperatures [degC]."""
    basis = np.array([_basis(t) for t in temperatures_c]).T
    pairs = np.moveaxis(_pairs() @ basis, -1, 0).reshape(len(temperatures_c), -1, len(IONS))
    charges = np.broadcast_to([0.5 * CHARGE**2, np.abs(CHARGE)], (len(temperatures_c), 2, len(IONS)))
    stack = np.concatenate((pairs, charges), axis=1)
    a_phi = np.array([[debye_hueckel(t)[0] * np.log(10.0) / 3.0] for t in temperatures_c])
    return Parameters(np.ascontiguousarray(stack), (_psi() @ basis).T[:, :, None], a_phi)
