"""Newton's method for one solution: the method of `equilibrium`, arranged so that it hardly waits for numpy.

What costs here is the number of calls, not the arithmetic: activity coefficients come from a fine table, small
sums are plain numbers.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, log, sqrt

import numpy as np

from core.chemistry.equilibrium import (
    LEAST_TOTAL,
    LONGEST_STEP,
    MOST_STEPS,
    PATIENCE,
    TOLERANCE,
    Equilibrium,
)
from core.chemistry.errors import NotConverged
from core.chemistry.system import GUESS_PH, LN10, ROOT_STEP, Array, Constants, System


@dataclass(frozen=True, eq=False)
class Question:
    """What is asked of a system for one solution; as `equilibrium.Problem`, every group present."""

    groups: Array
    ligands: list[float]
    ln_proton: float | None
    alkalinity: float
    ln_carbonic: float | None


def solve_one(system: System, constants: Constants, asked: Question) -> Equilibrium:
    """Find the equilibrium of one solution, from a cold start; arrays of the answer have no second axis."""
    k, r = len(system.ligands), len(system.sums)
    totals = [max(total, LEAST_TOTAL) for total in asked.ligands]
    unknowns = _start(system, constants, asked, totals)
    for count in range(MOST_STEPS):
        strength = exp(unknowns[k])
        ln_gamma, slope = _gamma(constants, strength)
        molality = _molality(system, constants, unknowns, ln_gamma, asked.groups)
        stack = system.stack.dot(molality)
        sums = stack[:r].tolist()
        error = _errors(system, constants, asked, unknowns, sums, totals, strength)
        worst = max(max(error), -min(error))
        if worst < TOLERANCE:
            return Equilibrium(molality, ln_gamma, stack[:r], unknowns[k + 1], np.array(strength))
        matrix = _matrix(system, asked, stack, sums, molality, slope, len(error))
        step = np.linalg.solve(matrix, np.array(error))
        if worst > 0.1:
            _shorten(step, k, LONGEST_STEP * 0.7 ** max(0, count - PATIENCE))
        unknowns[: len(error)] -= step
    raise NotConverged((0,))


def _gamma(constants: Constants, strength: float) -> tuple[Array, Array]:
    """Ln of the activity coefficient of every species and its derivative by ln I, from the table."""
    start, change = constants.gamma_table
    place = sqrt(strength) / ROOT_STEP
    row = min(int(place), len(start) - 1)
    ahead = change[row]
    by_class = ahead * (place - row)
    by_class += start[row]
    return by_class[constants.class_of], (ahead * (0.5 * place))[constants.class_of]


def _molality(system: System, constants: Constants, unknowns: Array, ln_gamma: Array, groups: Array) -> Array:
    """Molality of every species: each group shares out its own total."""
    forms: Array = system.stoich.dot(unknowns)
    forms += constants.ln_k_flat
    forms -= ln_gamma
    np.exp(forms, forms)
    free = np.ones(len(groups) + 1)
    np.divide(groups, system.members.dot(forms), free[:-1])
    forms *= free[system.group_of]
    return forms


def _errors(
    system: System,
    constants: Constants,
    asked: Question,
    unknowns: Array,
    sums: list[float],
    totals: list[float],
    strength: float,
) -> list[float]:
    """Relative errors of the balances: ligands, ionic strength and, if pH is asked, protons."""
    k = len(totals)
    error = [log(held / total) for held, total in zip(sums, totals, strict=False)]
    error.append(log(sums[k] / strength))
    if asked.ln_proton is None:
        error.append(log((sums[k + 2] + max(asked.alkalinity, 0.0)) / (sums[k + 3] + max(-asked.alkalinity, 0.0))))
    if asked.ln_carbonic is not None:
        held = float(unknowns[system.carbonate] + 2.0 * unknowns[k + 1])
        error[system.carbonate] = held - asked.ln_carbonic + constants.ln_k_carbonic
    return error


def _matrix(
    system: System, asked: Question, stack: Array, sums: list[float], molality: Array, slope: Array, q: int
) -> Array:
    """Derivatives of the errors by the unknowns asked for, with the groups eliminated, (q, q)."""
    r, g, c = len(system.sums), len(system.groups), system.stoich.shape[1]
    k = c - 2
    held = stack[r : r + r * g].reshape(r, g)
    change = stack[r + r * g :].reshape(r, c)
    loss = system.weakened.dot(molality * slope)
    shares = held[:c] / asked.groups
    shares[k] = loss[r:] / -asked.groups
    change[:, k] = -loss[:r]
    change -= held.dot(shares.T)
    matrix: Array = change[:q, :q]
    matrix[: k + 1] /= stack[: k + 1, None]
    matrix[k, k] -= 1.0
    if asked.ln_proton is None:
        up, down = sums[k + 2] + max(asked.alkalinity, 0.0), sums[k + 3] + max(-asked.alkalinity, 0.0)
        matrix[k + 1] = change[k + 2] / up - change[k + 3] / down
    if asked.ln_carbonic is not None:
        matrix[system.carbonate] = 0.0
        matrix[system.carbonate, system.carbonate] = 1.0
        matrix[system.carbonate, k + 1 :] = 2.0
    return matrix


def _shorten(step: Array, k: int, limit: float) -> None:
    """Cut a step to a safe length, keeping its direction."""
    sizes = np.abs(step).tolist()
    longest = max(0.25 * max(sizes[:k], default=0.0), *sizes[k:])
    if longest > limit:
        step *= limit / longest


def _start(system: System, constants: Constants, asked: Question, totals: list[float]) -> Array:
    """First guess: pairs as if cations were free, ionic strength from the usual forms, pH from a table."""
    every = np.concatenate((asked.groups, totals))
    strength = 0.8 * float(system.weight.dot(every)) + 1e-7
    ln_proton = _guess_ln_proton(system, constants, asked, every) if asked.ln_proton is None else asked.ln_proton
    forms = system.stoich[:, -1] * ln_proton
    forms += constants.ln_k_flat
    forms -= _gamma(constants, strength)[0]
    np.exp(forms, forms)
    free = np.ones(len(asked.groups) + 1)
    np.divide(asked.groups, system.alone.dot(forms), free[:-1])
    forms *= free[system.group_of]
    ligands = [log(total / held) for total, held in zip(totals, system.first.dot(forms).tolist(), strict=True)]
    if asked.ln_carbonic is not None:
        ligands[system.carbonate] = asked.ln_carbonic - constants.ln_k_carbonic - 2.0 * ln_proton
    forms *= np.exp(system.stoich[:, : len(totals)].dot(ligands))
    better = float(system.sums[len(totals)].dot(forms))
    return np.array([*ligands, log(min(max(better, 0.2 * strength), 2.0 * strength)), ln_proton])


def _guess_ln_proton(system: System, constants: Constants, asked: Question, every: Array) -> float:
    """Look up where the protons gained balance the alkalinity."""
    table = constants.guess
    known = table[-2] + asked.alkalinity
    if asked.ln_carbonic is not None:
        every = every.copy()
        every[len(system.groups) + system.carbonate] = 0.0
        known += exp(asked.ln_carbonic) * table[-1]
    balance = every.dot(table[:-2])
    balance += known
    after = min(max(int(np.searchsorted(-balance, 0.0)), 1), len(GUESS_PH) - 1)
    high, low = float(balance[after - 1]), float(balance[after])
    share = min(max(high / (high - low), 0.0), 1.0) if high != low else 0.0
    return -LN10 * (float(GUESS_PH[after - 1]) + share * (float(GUESS_PH[after]) - float(GUESS_PH[after - 1])))
