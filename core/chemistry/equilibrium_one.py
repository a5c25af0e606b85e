"""The equilibrium of one solution or a few, quick where the same kind is asked for again and again."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from math import exp, isnan, log

import numpy as np

from core.chemistry.balances import LEAST_TOTAL
from core.chemistry.equilibrium import Equilibrium, Problem, solve
from core.chemistry.straight import Solver, straight
from core.chemistry.system import GUESS_PH, Array, Constants, System

FREQUENT = 5
"""After so many solutions of a system it pays to write its equations out (10 to 30 ms, once)."""

Behind = Callable[[Callable[[], None]], None]
"""Does a piece of work later, in another thread."""

_behind: list[Behind] = []
_asked_for: set[tuple[System, bool, bool]] = set()
_written: set[tuple[System, bool, bool]] = set()

FEW = 3
"""Up to so many solutions are quicker one by one than together."""


def write_behind(behind: Behind | None) -> None:
    """Have equations written out by another thread from now on, so that whoever waits for a plan never waits for them.

    Until they are there the solutions they are for go the slower way, to the same figures. None writes them at once.
    """
    _behind[:] = [] if behind is None else [behind]
    _asked_for.clear()


def _solver(system: System, ph_known: bool, is_open: bool) -> Solver | None:
    """The equations of a system written out; None where that is being done elsewhere."""
    kind = (system, ph_known, is_open)
    if kind in _written or not _behind:
        return straight(*kind)

    def write() -> None:
        straight(*kind)
        _written.add(kind)

    if kind not in _asked_for:
        _asked_for.add(kind)
        _behind[0](write)
    return None


def solve_few(system: System, constants: Constants, problem: Problem) -> Equilibrium:
    """Find the equilibrium of a problem of up to `FEW` solutions."""
    return (_each(system, constants, problem) if _is_frequent(system) else None) or solve(system, constants, problem)


@lru_cache(maxsize=256)
def _uses(system: System) -> list[int]:
    return [0]


def _is_frequent(system: System) -> bool:
    uses = _uses(system)
    uses[0] += 1
    return uses[0] > FREQUENT


def _each(system: System, constants: Constants, problem: Problem) -> Equilibrium | None:
    """Solve one after another by the equations written out; None where they do not serve or do not arrive."""
    found = []
    for column in range(problem.groups.shape[1]):
        one = _quick(system, constants, problem, column)
        if one is None:
            return None
        found.append(one)
    molality, strength, proton = zip(*found, strict=True)
    return Equilibrium(np.array(molality).T, np.array([log(h) for h in proton]), np.array(strength))


def _quick(
    system: System, constants: Constants, problem: Problem, column: int
) -> tuple[list[float], float, float] | None:
    """Molalities, ionic strength and H+ activity of one solution of a problem; None as `_each`."""
    groups, ligands = problem.groups[:, column], problem.ligands[:, column]
    every: Array = np.concatenate((groups, ligands))
    strength = 0.8 * float(system.weight.dot(every)) + 1e-7
    carbonic = None if problem.ln_carbonic is None else float(problem.ln_carbonic[column])
    if carbonic is not None and isnan(carbonic):
        carbonic = None
    if problem.ln_proton is not None:
        if carbonic is not None:
            return None
        proton, alkalinity = exp(problem.ln_proton[column]), 0.0
    else:
        assert problem.alkalinity is not None
        alkalinity = float(problem.alkalinity[column])
        proton = 10.0 ** -_guess_ph(_balance(system, constants.guess, every, alkalinity, carbonic))
    gas = 0.0 if carbonic is None else exp(carbonic - constants.ln_k_carbonic)
    solver = _solver(system, problem.ln_proton is not None, carbonic is not None)
    if solver is None:
        return None
    totals = np.maximum(ligands, LEAST_TOTAL).tolist()
    try:
        return solver(groups.tolist(), totals, *constants.plain, proton, alkalinity, strength, gas)
    except (ArithmeticError, ValueError):  # a step led to a zero or past the largest number
        return None


def _balance(system: System, table: Array, every: Array, alkalinity: float, carbonic: float | None) -> Array:
    """Protons held less those there are, over GUESS_PH; `carbonic` ln of the CO2 activity of an open solution."""
    if carbonic is not None:
        every[len(system.groups) + system.carbonate] = 0.0
    balance: Array = every.dot(table[:-2])
    balance += table[-2] + alkalinity
    if carbonic is not None:
        balance += exp(carbonic) * table[-1]
    return balance


def _guess_ph(balance: Array) -> float:
    """Where a falling balance over GUESS_PH passes zero."""
    after = min(max(int(np.count_nonzero(balance > 0.0)), 1), len(balance) - 1)
    high, low = balance[after - 1 : after + 1].tolist()
    low_ph, high_ph = GUESS_PH[after - 1 : after + 1].tolist()
    share = min(max(high / (high - low), 0.0), 1.0) if high > low else 0.0
    return float(low_ph + share * (high_ph - low_ph))
