"""The equilibrium of one solution, quick where the same kind of solution is asked for again and again."""

from __future__ import annotations

from functools import lru_cache
from math import exp, log

import numpy as np

from core.chemistry.equilibrium import Equilibrium, Problem, solve
from core.chemistry.straight import straight
from core.chemistry.system import GUESS_PH, Array, Constants, System

FREQUENT = 5
"""After so many solutions of a system it pays to write its equations out (10 to 30 ms, once)."""


def solve_one(system: System, constants: Constants, problem: Problem) -> Equilibrium:
    """Find the equilibrium of a problem of one solution."""
    return (_quick(system, constants, problem) if _is_frequent(system) else None) or solve(system, constants, problem)


@lru_cache(maxsize=256)
def _uses(system: System) -> list[int]:
    return [0]


def _is_frequent(system: System) -> bool:
    uses = _uses(system)
    uses[0] += 1
    return uses[0] > FREQUENT


def _quick(system: System, constants: Constants, problem: Problem) -> Equilibrium | None:
    """Solve by the equations written out; None where they do not serve or do not arrive."""
    if problem.ln_carbonic is not None:
        return None
    groups, ligands = problem.groups[:, 0], problem.ligands[:, 0]
    every: Array = np.concatenate((groups, ligands))
    if problem.ln_proton is not None:
        proton, alkalinity = exp(problem.ln_proton[0]), 0.0
    else:
        assert problem.alkalinity is not None
        alkalinity = float(problem.alkalinity[0])
        proton = 10.0 ** -_guess_ph(every.dot(constants.guess[:-2]) + (constants.guess[-2] + alkalinity))
    strength = 0.8 * float(system.weight.dot(every)) + 1e-7
    solver = straight(system, problem.ln_proton is not None)
    try:
        found = solver(groups.tolist(), ligands.tolist(), *constants.plain, proton, alkalinity, strength)
    except (ArithmeticError, ValueError):  # a step led to a zero or past the largest number
        return None
    if found is None:
        return None
    molality, strength, proton = found
    return Equilibrium(np.array(molality)[:, None], np.array([log(proton)]), np.array([strength]))


def _guess_ph(balance: Array) -> float:
    """Where a falling balance over GUESS_PH passes zero."""
    after = min(max(int(np.count_nonzero(balance > 0.0)), 1), len(balance) - 1)
    high, low = balance[after - 1 : after + 1].tolist()
    low_ph, high_ph = GUESS_PH[after - 1 : after + 1].tolist()
    share = min(max(high / (high - low), 0.0), 1.0) if high > low else 0.0
    return float(low_ph + share * (high_ph - low_ph))
