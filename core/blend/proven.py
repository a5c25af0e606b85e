"""The salts of a fit guessed, and proof that they are what fitting and choosing would find: quick where one types.

Arrays in, arrays out. Which salts a blend is made of seldom changes from one target typed to the next, or from one
round of a solve to another, and amounts of given salts are one set of linear equations. They are the answer where no
other column could enter: it would fit worse, or else be worse in the first preference in which it makes a difference.
Prices of the rows, by the same equations, say so for all columns at once (duality; Dantzig 1963, "Linear Programming
and Extensions", chapter 6). Where a price is near the round-off of the slow way nothing is proven, so that both ways
find the same salts.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.blend.choose import USED_MG_PER_L
from core.blend.fit import CLOSE, Array, Fit, Problem
from core.blend.programme import Preference

NOTHING = 1e-9
"""Relative price up to which a column makes no difference: far below what the programmes tell apart (own choice)."""

SOMETHING = 1e-6
"""Relative price from which on it makes one for the programmes, too (own choice: ten times their tolerance)."""

TINY = 1e-300
"""In place of nothing, to divide by."""

PLAINLY_USED_MG_PER_L = 100.0 * USED_MG_PER_L
"""The least amount of a salt that no solver could take for dust (own choice)."""


class Salts(NamedTuple):
    """What a fit stands on: the places of its columns, and of the at-most rows that are at their bound."""

    columns: NDArray[np.intp]
    tight: NDArray[np.intp]


def salts_of(problem: Problem, found: Fit) -> list[Salts]:
    """What a chosen fit stands on; nothing where its limits cannot all be kept."""
    if not found.possible:
        return []
    near = SOMETHING * (1.0 + abs(problem.g_rhs))
    tight = problem.g @ found.x >= problem.g_rhs - near
    return [Salts((found.x > USED_MG_PER_L).nonzero()[0], tight.nonzero()[0])]


def proven(problem: Problem, preferences: tuple[Preference, ...], guess: Salts) -> Fit | None:
    """The fit on these salts, where it can be proven to be the preferred one of the best; else None.

    Parameters
    ----------
    problem : Problem
    preferences : in order of importance, as `core.blend.choose.choose` takes them
    guess : what the fit of another problem with the same columns and limits stood on

    Returns
    -------
    Fit or None
    """
    columns, tight = guess
    rows = np.concatenate((problem.a, problem.e, problem.g[tight]))
    sizes = np.sqrt(np.add.reduce(rows * rows, axis=0))
    if not 0 < len(columns) <= len(rows) or not sizes[columns].all():
        return None
    rhs = np.concatenate((problem.b, problem.e_rhs, problem.g_rhs[tight]))
    costs, size = _costs(preferences, len(sizes)), sizes[columns]
    solved = _solved(rows[:, columns] / size, len(problem.b), rhs, costs[:, columns] / size)
    if solved is None:
        return None
    x, prices = np.zeros(len(sizes)), solved[1]
    x[columns] = solved[0] / size
    if not (x[columns].min() >= PLAINLY_USED_MG_PER_L and _keeps(problem, x, tight)):
        return None
    worse, of_rows = costs - prices @ rows, -prices[:, len(problem.b) :]
    e_price, tight_price = of_rows[:, : len(problem.e_rhs)], of_rows[:, len(problem.e_rhs) :]
    worse[0] /= np.maximum(sizes * _size(prices[0], problem.b), TINY)
    if not _proves(worse, columns, tight_price):
        return None
    g_price = np.zeros(len(problem.g_rhs))
    g_price[tight] = tight_price[0]
    return Fit(x, e_price[0], g_price, problem.e_rhs, problem.g_rhs, possible=True)


def _costs(preferences: tuple[Preference, ...], n: int) -> Array:
    """What each column costs in the fit itself and in each preference, relative, (1 + n_preferences, n) [-]."""
    costs = np.array([np.zeros(n), *(one.per_mg for one in preferences)])
    costs /= np.maximum(np.maximum.reduce(abs(costs), axis=1), TINY)[:, None]
    return costs


def _solved(held: Array, n_a: int, rhs: Array, costs: Array) -> tuple[Array, Array] | None:
    """Amounts (n,) of the columns held, and prices (1 + n_preferences, m) of the rows; None where there are none.

    One set of equations gives both: the misfits and prices of the rows, and the amounts.
    held : (m, n) of which the first `n_a` rows are fitted and the others kept; rhs (m,), costs (1 + n_preferences, n)
    """
    m, n = held.shape
    equations, right = np.zeros((m + n, m + n)), np.zeros((m + n, len(costs)))
    equations[:n_a, :n_a] = np.eye(n_a)
    equations[:m, m:], equations[m:, :m] = held, held.T
    right[:m, 0], right[m:] = rhs, costs.T
    try:
        solution = np.linalg.solve(equations, right)
    except np.linalg.LinAlgError:
        return None
    return solution[m:, 0], solution[:m].T


def _keeps(problem: Problem, x: Array, tight: NDArray[np.intp]) -> bool:
    """Whether amounts keep all limits, the tight ones at their bound and the others plainly below it."""
    room, size = problem.g_rhs - problem.g @ x, 1.0 + abs(problem.g_rhs)
    least = SOMETHING * size
    least[tight] = -CLOSE * size[tight]
    off = problem.e @ x - problem.e_rhs
    return bool((room >= least).all() and (abs(off) <= CLOSE * (1.0 + abs(problem.e_rhs))).all())


def _size(misfit: Array, b: Array) -> float:
    """What prices of the fit are measured against: the misfit, or the targets where there is none to speak of."""
    size, whole = math.sqrt(misfit @ misfit), 1.0 + math.sqrt(b @ b)
    return size if size > SOMETHING * whole else whole


def _proves(worse: Array, columns: NDArray[np.intp], of_tight: Array) -> bool:
    """Whether all columns but these, and letting go of any tight row, are plainly worse.

    worse, of_tight : (1 + n_preferences, n), (1 + n_preferences, n_tight) ndarray, by how much in the fit itself and in
    each preference: plainly in one of them, and no better in those before it.
    """
    if not (abs(worse[:, columns]) <= NOTHING).all():
        return False
    worse[:, columns] = SOMETHING
    left = np.concatenate((worse, of_tight), axis=1)
    for row in range(len(left)):
        if (left[row] < -NOTHING).any():
            return False
        left = left[:, left[row] < SOMETHING]
    return len(left[0]) == 0
