"""Newton's method for the equilibrium of many solutions at once, from a cold start.

First steps are taken in single precision, which is quicker and near enough to the answer for what follows. A solution
that has arrived no longer takes part.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from core.chemistry.balances import FEW, LEAST_TOTAL, Balances, eliminated
from core.chemistry.batch import Batch, Course, climate_of, joined
from core.chemistry.errors import NotConverged
from core.chemistry.first_guess import first_guess, guess_ln_proton
from core.chemistry.layout import layout
from core.chemistry.species import all_species
from core.chemistry.system import DOUBLE, SINGLE, Array, Constants, Reals, Rows, System, product, weighted

TOLERANCE = 3e-10
"""Largest relative error of any balance that counts as solved."""

MOST_STEPS = 60

AT_ONCE = 1024
"""Solutions taken through a step together: enough to hide the overhead of each call, few enough for the cache."""

PATIENCE = 8
"""Steps after which steps are cut ever shorter."""

LONGEST_STEP = 2.5
"""Longest step in ln I and the proton's ln activity; ligands may take four times as much."""

ROUGH_STEPS, ROUGH_STEPS_TO_PH = 1, 2
"""Steps in single precision before the first in double, with pH known and asked for; more would meet its rounding.

A few solutions are all in double: what single saves them is less than the change costs.
"""


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


@dataclass(frozen=True, eq=False)
class Equilibrium:
    """The answer: molality (S, n), ln of the H+ activity (n,), ionic strength (n,) [mol/kg]."""

    molality: Array
    ln_proton: Array
    strength: Array


def solve_into(system: System, constants: Constants, problem: Problem, molality: Array) -> Equilibrium:
    """As `solve`, but the molalities are written into an array (species, n) of zeros, rows as `all_species`."""
    count = problem.groups.shape[1]
    answer = Equilibrium(molality, np.empty(count), np.empty(count))
    newton = _Newton(system, constants, problem, answer)
    waiting = newton.begun()
    for step in range(MOST_STEPS):
        waiting = newton.advanced(waiting, step)
        if not len(waiting.columns):
            return answer
    raise NotConverged(tuple(waiting.columns.tolist()))


def solve(system: System, constants: Constants, problem: Problem) -> Equilibrium:
    """Find the equilibrium of every solution of a problem, from a cold start."""
    found = solve_into(system, constants, problem, np.zeros((len(all_species()), problem.groups.shape[1])))
    return replace(found, molality=found.molality[system.rows])


class _Newton:
    """Newton's method in pieces small enough for the cache; what has arrived is written into the answer."""

    def __init__(self, system: System, constants: Constants, problem: Problem, answer: Equilibrium) -> None:
        self.system, self.constants, self.problem, self.answer = system, constants, problem, answer
        told = layout(system, problem.alkalinity is None)
        self.fine = Balances(told, DOUBLE)
        self.rough = Balances(told, SINGLE) if problem.groups.shape[1] >= FEW else self.fine
        self.climate = climate_of(told, constants)
        self.rows = system.rows[told.species]
        self.known = Batch(
            problem.groups[told.groups],
            np.maximum(problem.ligands, LEAST_TOTAL),
            product(told.lone_sums, problem.groups[told.lone_groups]),
            problem.alkalinity,
            None if problem.ln_carbonic is None else problem.ln_carbonic - constants.ln_k_carbonic,
        )
        answer.molality[system.rows[told.lone]] = problem.groups[told.lone_groups]

    def begun(self) -> Course:
        """Every solution after its first guess and the rough steps."""
        count = self.problem.groups.shape[1]
        unknowns = np.concatenate([self._approached(piece) for piece in _pieces(count)], axis=1)
        return Course(np.arange(count), unknowns, self.known, self.climate)

    def _approached(self, piece: slice) -> Array:
        """Unknowns of a piece after the first guess and the rough steps."""
        rough, kind, climate = self.rough, self.rough.precision, self.climate.part(piece)
        known = self.known.part(piece).to(kind)
        strength, ln_proton = self._outset(piece)
        with np.errstate(all="ignore"):  # what single precision cannot hold is begun anew below
            cast = climate.to(kind)
            near = first_guess(rough, known, cast, strength.astype(kind), ln_proton.astype(kind))
            for _ in range(ROUGH_STEPS if known.alkalinity is None else ROUGH_STEPS_TO_PH):
                molality, slope, sums = rough.at(near, known, cast)
                _step(near, rough.slopes(molality, slope, sums, known), rough.errors(near, sums, known), LONGEST_STEP)
        if not np.isfinite(near).all():
            return first_guess(self.fine, self.known.part(piece), climate, strength, ln_proton)
        unknowns = near.astype(DOUBLE)
        if known.alkalinity is None:
            unknowns[-1] = ln_proton
        return unknowns

    def _outset(self, piece: slice) -> tuple[Array, Array]:
        """Ionic strength and ln of the H+ activity from the totals alone."""
        problem = self.problem
        totals = np.concatenate([problem.groups[:, piece], self.known.ligands[:, piece]])
        strength = 0.8 * weighted(self.system.weight, totals) + 1e-7
        if problem.ln_proton is not None:
            return strength, problem.ln_proton[piece]
        assert problem.alkalinity is not None
        carbonic = None if problem.ln_carbonic is None else problem.ln_carbonic[piece]
        return strength, guess_ln_proton(self.system, self.constants, totals, problem.alkalinity[piece], carbonic)

    def advanced(self, waiting: Course, step: int) -> Course:
        """Take out the solutions that have arrived, and the others one step on."""
        pieces = _pieces(len(waiting.columns))
        rest = [self._piece_advanced(waiting.part(piece), step, len(pieces) > 1) for piece in pieces]
        return rest[0] if len(rest) == 1 else joined(rest)

    def _piece_advanced(self, course: Course, step: int, others: bool) -> Course:
        molality, slope, sums = self.fine.at(course.unknowns, course.known, course.climate)
        error = self.fine.errors(course.unknowns, sums, course.known)
        arrived = np.abs(error).max(axis=0) < TOLERANCE
        if arrived.all() or (arrived.any() and (len(arrived) >= FEW or step >= PATIENCE)):
            self._write(course, molality, np.flatnonzero(arrived))
            slow = np.flatnonzero(~arrived)
            course = course.take(slow)
            if not len(slow) or (others and 2 * len(slow) < len(arrived)):
                return course  # the few that are left are quicker together with those of other pieces
            molality, slope, sums, error = (array.take(slow, axis=1) for array in (molality, slope, sums, error))
        # slopes need not be exact, and single precision is quicker
        balances = self.rough if step < PATIENCE else self.fine
        kind, unknowns = balances.precision, course.unknowns.copy()
        molality, slope, sums = (array.astype(kind, copy=False) for array in (molality, slope, sums))
        matrix = balances.slopes(molality, slope, sums, course.known.to(kind))
        _step(unknowns, matrix, error.astype(kind), LONGEST_STEP * 0.7 ** max(0, step - PATIENCE))
        return course._replace(unknowns=unknowns)

    def _write(self, course: Course, molality: Reals, arrived: Rows) -> None:
        answer, columns = self.answer, course.columns[arrived]
        first, last = course.columns[0], course.columns[-1] + 1
        if len(course.columns) == last - first and 2 * len(arrived) > last - first:
            # whole rows are quicker; what has not arrived among them is written over later
            answer.molality[self.rows, first:last] = molality
        else:
            answer.molality[self.rows[:, None], columns] = molality.take(arrived, axis=1)
        answer.ln_proton[columns] = course.unknowns[-1, arrived]
        answer.strength[columns] = np.exp(course.unknowns[-2, arrived])


def _pieces(count: int) -> list[slice]:
    """Cut so many solutions into pieces of much the same size."""
    size = -(-count // -(-count // AT_ONCE))
    return [slice(start, start + size) for start in range(0, count, size)]


def _step(unknowns: Reals, matrix: Reals, error: Reals, limit: float) -> None:
    """Take one step, no longer than is safe."""
    step = eliminated(matrix, error)
    k = len(unknowns) - 2
    longest = np.maximum(0.25 * np.abs(step[:k]).max(axis=0, initial=0.0), np.abs(step[k:]).max(axis=0))
    step *= limit / np.maximum(longest, limit)
    unknowns[: len(step)] -= step
