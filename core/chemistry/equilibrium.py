"""Newton's method for the equilibrium of many solutions at once.

Cations and the like are eliminated; each balance is taken as the logarithm of a ratio, which keeps the slopes
between bounds and lets the method start cold.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.chemistry.errors import NotConverged
from core.chemistry.system import GUESS_PH, LN10, Array, Constants, Rows, System, product

TOLERANCE = 3e-10
"""Largest relative error of any balance that counts as solved."""

MOST_STEPS = 60

LEAST_TOTAL = 1e-30
"""What stands for a ligand that is absent from one solution of a batch [mol/kg]."""

PATIENCE = 8
"""Steps after which the solved part of a batch no longer waits for the rest, and steps are cut ever shorter."""

LONGEST_STEP = 2.5
"""Longest step in ln I and the proton's ln activity; ligands may take four times as much."""


@dataclass(frozen=True, eq=False)
class Problem:
    """What is asked of a system: n solutions.

    `groups` (g, n), `ligands` (k, n): totals [mol/kg]; exactly one of `ln_proton` (n,) (ln of the H+ activity) and
    `alkalinity` (n,) [eq/kg]; `ln_carbonic` (n,): ln of the CO2 activity where the solution is open to a gas, NaN
    where it is closed, None if all are closed.
    """

    groups: Array
    ligands: Array
    ln_proton: Array | None
    alkalinity: Array | None
    ln_carbonic: Array | None

    def take(self, columns: Rows | slice) -> Problem:
        """The same for some of the solutions."""
        parts = (self.ln_proton, self.alkalinity, self.ln_carbonic)
        fewer = (None if part is None else part[columns] for part in parts)
        return Problem(self.groups[:, columns], self.ligands[:, columns], *fewer)


@dataclass(frozen=True, eq=False)
class Equilibrium:
    """The answer: molality (S, n), ln of the H+ activity (n,), ionic strength (n,) [mol/kg]."""

    molality: Array
    ln_proton: Array
    strength: Array


PARTS = ("molality", "ln_proton", "strength")
"""Fields of an answer."""


def solve(system: System, constants: Constants, problem: Problem) -> Equilibrium:
    """Find the equilibrium of every solution of a problem, from a cold start."""
    totals = np.maximum(problem.ligands, LEAST_TOTAL)
    safe = np.maximum(problem.groups, 1e-300)
    unknowns = _start(system, constants, problem, totals, safe)
    k = len(system.ligands)
    for count in range(MOST_STEPS):
        strength = np.exp(unknowns[k])
        ln_gamma, slope = (by_class[system.class_of] for by_class in constants.log_gamma(strength))
        molality = _molality(system, constants, unknowns, ln_gamma, problem.groups)
        stack = product(system.stack, molality)
        error = _errors(system, constants, problem, unknowns, stack, totals, strength)
        slow = ~(np.abs(error).max(axis=0) < TOLERANCE)
        if not slow.any() or (count == PATIENCE and not slow.all()):
            found = Equilibrium(molality, unknowns[k + 1], strength)
            return _finish(system, constants, problem, found, np.flatnonzero(slow)) if slow.any() else found
        change = _derivatives(system, stack, molality * slope, safe)
        limit = LONGEST_STEP * 0.7 ** max(0, count - PATIENCE)
        _advance(unknowns, error, _matrix(system, problem, change, stack, len(error)), limit)
    raise NotConverged(tuple(int(column) for column in np.flatnonzero(slow)))


def _finish(system: System, constants: Constants, problem: Problem, found: Equilibrium, slow: Rows) -> Equilibrium:
    """Solve the slow solutions of a batch apart, so that the others need not wait."""
    try:
        rest = solve(system, constants, problem.take(slow))
    except NotConverged as failed:
        raise NotConverged(tuple(int(slow[column]) for column in failed.columns)) from None
    for name in PARTS:
        getattr(found, name)[..., slow] = getattr(rest, name)
    return found


def _molality(system: System, constants: Constants, unknowns: Array, ln_gamma: Array, groups: Array) -> Array:
    """Molality of every species: each group shares out its own total."""
    forms = product(system.stoich, unknowns)
    forms += constants.ln_k
    forms -= ln_gamma
    np.exp(forms, forms)
    free = np.ones((len(groups) + 1, groups.shape[1]))
    np.divide(groups, product(system.members, forms), free[:-1])
    forms *= free[system.group_of]
    return forms


def _errors(
    system: System,
    constants: Constants,
    problem: Problem,
    unknowns: Array,
    stack: Array,
    totals: Array,
    strength: Array,
) -> Array:
    """Relative errors of the balances: ligands, ionic strength and, if pH is asked, protons; (q, n)."""
    k = len(system.ligands)
    ratio = np.empty((k + 1 + (problem.alkalinity is not None), stack.shape[1]))
    np.divide(stack[:k], totals, ratio[:k])
    np.divide(stack[k], strength, ratio[k])
    if problem.alkalinity is not None:
        up, down = _proton_sides(problem.alkalinity, k, stack)
        np.divide(up, down, ratio[k + 1])
    error = np.log(ratio, ratio)
    if problem.ln_carbonic is not None:
        wanted = problem.ln_carbonic - constants.ln_k_carbonic
        held = unknowns[system.carbonate] + 2.0 * unknowns[k + 1]
        error[system.carbonate] = np.where(np.isnan(wanted), error[system.carbonate], held - wanted)
    return error


def _proton_sides(alkalinity: Array, k: int, stack: Array) -> tuple[Array, Array]:
    """Protons gained and lost, with the alkalinity on the side where it counts as positive."""
    return stack[k + 2] + np.maximum(alkalinity, 0.0), stack[k + 3] + np.maximum(-alkalinity, 0.0)


def _derivatives(system: System, stack: Array, weakened: Array, safe: Array) -> Array:
    """Derivatives of the sums by the unknowns, with the groups eliminated: (r, c, n)."""
    r, g, c, n = len(system.sums), len(system.groups), system.stoich.shape[1], stack.shape[1]
    held = stack[r : r + r * g].reshape(r, g, n)
    change = stack[r + r * g :].reshape(r, c, n)
    loss = product(system.weakened, weakened)
    shares = held[:c] / safe
    shares[c - 2] = loss[r:] / -safe
    change[:, c - 2] = -loss[:r]
    change -= np.einsum("rgn,cgn->rcn", held, shares)
    return change


def _matrix(system: System, problem: Problem, change: Array, stack: Array, q: int) -> Array:
    """Derivatives of the errors by the unknowns asked for, (q, q, n)."""
    k = len(system.ligands)
    matrix = change[:q, :q]
    matrix[: k + 1] /= stack[: k + 1, None]
    matrix[k, k] -= 1.0
    if problem.alkalinity is not None:
        up, down = _proton_sides(problem.alkalinity, k, stack)
        matrix[k + 1] = change[k + 2] / up - change[k + 3] / down
    if problem.ln_carbonic is not None:
        fixed = np.zeros_like(matrix[0])
        fixed[system.carbonate] = 1.0
        fixed[k + 1 :] = 2.0
        matrix[system.carbonate] = np.where(np.isnan(problem.ln_carbonic), matrix[system.carbonate], fixed)
    return matrix


def _advance(unknowns: Array, error: Array, matrix: Array, limit: float) -> None:
    """Take one step, no longer than is safe."""
    step = np.linalg.solve(np.ascontiguousarray(matrix.transpose(2, 0, 1)), -error.T[:, :, None])[:, :, 0].T
    if np.abs(error).max() > 0.1:
        k = len(unknowns) - 2
        longest = np.maximum(0.25 * np.abs(step[:k]).max(axis=0, initial=0.0), np.abs(step[k:]).max(axis=0))
        step *= np.minimum(1.0, limit / np.maximum(longest, 1e-300))
    unknowns[: len(step)] += step


def _start(system: System, constants: Constants, problem: Problem, totals: Array, safe: Array) -> Array:
    """First guess: pairs as if cations were free, ionic strength from the usual forms, pH from a table."""
    k, g, n = len(system.ligands), len(system.groups), totals.shape[1]
    every = np.concatenate([problem.groups, totals])
    unknowns = np.zeros((k + 2, n))
    strength = 0.8 * system.weight.dot(every) + 1e-7
    unknowns[k] = np.log(strength)
    unknowns[k + 1] = (
        _guess_ln_proton(system, problem, constants.guess, every) if problem.ln_proton is None else problem.ln_proton
    )
    ln_gamma = constants.log_gamma(strength)[0][system.class_of]
    forms = np.exp(product(system.stoich, unknowns) + constants.ln_k - ln_gamma)
    free = np.ones((g + 1, n))
    np.divide(safe, product(system.alone, forms), free[:-1])
    unknowns[:k] = np.log(totals / product(system.first, forms * free[system.group_of]))
    if problem.ln_carbonic is not None:
        fixed = problem.ln_carbonic - constants.ln_k_carbonic - 2.0 * unknowns[k + 1]
        unknowns[system.carbonate] = np.where(np.isnan(fixed), unknowns[system.carbonate], fixed)
    forms *= np.exp(product(system.stoich[:, :k], unknowns[:k]))
    np.divide(problem.groups, product(system.members, forms), free[:-1])
    sums = product(system.sums[: k + 1], forms * free[system.group_of])
    _sharpen(unknowns, sums, totals, problem.ln_carbonic, system.carbonate)
    return unknowns


def _sharpen(unknowns: Array, sums: Array, totals: Array, ln_carbonic: Array | None, carbonate: int) -> None:
    """Correct the guess by how far its sums are off, ligands where they are closed, and the ionic strength."""
    k = len(totals)
    correction = np.clip(np.log(totals / sums[:k]), -1.0, 1.0)
    if ln_carbonic is not None:
        correction[carbonate] = np.where(np.isnan(ln_carbonic), correction[carbonate], 0.0)
    unknowns[:k] += correction
    unknowns[k] = np.log(sums[k])


def _guess_ln_proton(system: System, problem: Problem, table: Array, every: Array) -> Array:
    """Look up where the protons gained balance the alkalinity."""
    assert problem.alkalinity is not None
    loads = every.T
    carbonic = np.zeros((len(loads), 1))
    if problem.ln_carbonic is not None:
        is_open = ~np.isnan(problem.ln_carbonic)
        loads = loads.copy()
        loads[is_open, len(system.groups) + system.carbonate] = 0.0
        carbonic[is_open, 0] = np.exp(problem.ln_carbonic[is_open])
    balance = loads.dot(table[:-2]) + table[-2] + carbonic * table[-1] + problem.alkalinity[:, None]
    after = np.clip((balance > 0.0).sum(axis=1), 1, len(GUESS_PH) - 1)
    column = np.arange(len(after))
    high, low = balance[column, after - 1], balance[column, after]
    share = np.clip(high / np.where(high == low, 1.0, high - low), 0.0, 1.0)
    guess: Array = -LN10 * (GUESS_PH[after - 1] + share * (GUESS_PH[after] - GUESS_PH[after - 1]))
    return guess
