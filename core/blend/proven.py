"""The salts of a fit guessed, and proof that they are what fitting and choosing would find: quick where one types.

Arrays in, arrays out. Which salts a blend is made of seldom changes from one target typed to the next, or from one
round of a solve to another, and amounts for given salts are one set of linear equations. What makes these amounts the
answer is that no other column could enter: it would fit worse, or else be worse in the first preference in which it
differs. Prices of the rows, by the same equations, say so for all columns at once (duality of linear programmes: Dantzig
1963, "Linear Programming and Extensions", chapter 6). Where a price is near the round-off of the slow way nothing is
proven, so that both ways always find the same salts.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.blend.choose import USED_MG_PER_L
from core.blend.fit import CLOSE, Array, Fit, Problem
from core.blend.programme import Preference

NOTHING = 1e-9
"""Relative price up to which a column makes no difference: far below what the programmes tell apart (own choice)."""

SOMETHING = 1e-6
"""Relative price from which on a column makes a difference for them, too (own choice: ten times their tolerance)."""

PLAINLY_USED_MG_PER_L = 100.0 * USED_MG_PER_L
"""The least amount of a salt that is no dust of the solvers in any way."""


class Salts(NamedTuple):
    """What a fit stands on: the places of its columns, and of the at-most rows that are at their bound."""

    columns: NDArray[np.intp]
    tight: NDArray[np.intp]


def salts_of(problem: Problem, found: Fit) -> Salts | None:
    """What a chosen fit stands on; None where its limits cannot all be kept."""
    if not found.possible:
        return None
    room = problem.g_rhs - problem.g @ found.x
    return Salts(np.flatnonzero(found.x > USED_MG_PER_L), np.flatnonzero(room <= SOMETHING * (1.0 + abs(problem.g_rhs))))


def proven(problem: Problem, preferences: tuple[Preference, ...], guess: Salts) -> Fit | None:
    """The fit on these salts, where it can be proven to be the preferred of the best; else None.

    Parameters
    ----------
    problem : Problem
    preferences : in order of importance, as `core.blend.choose.choose` takes them
    guess : Salts of an earlier problem with the same columns and limits; any others are only wrong

    Returns
    -------
    Fit or None
    """
    columns, tight = guess
    n_a, n_e = len(problem.b), len(problem.e_rhs)
    rows = np.concatenate((problem.a, problem.e, problem.g[tight]))
    rhs = np.concatenate((problem.b, problem.e_rhs, problem.g_rhs[tight]))
    held = rows[:, columns]
    size = np.sqrt((held * held).sum(axis=0))
    if not len(columns) or len(columns) > len(rows) or not size.all():
        return None
    costs = np.array([one.per_mg / (abs(one.per_mg).max() or 1.0) for one in preferences])
    solved = _solved(held / size, n_a, rhs, costs[:, columns] / size)
    if solved is None:
        return None
    used, prices = solved[len(rows) :, 0] / size, solved[: len(rows)]
    x = np.zeros(problem.a.shape[1])
    x[columns] = used
    if not (used.min() >= PLAINLY_USED_MG_PER_L and _kept(problem, x, tight)):
        return None
    worse = -(rows.T @ prices)
    worse[:, 1:] += costs.T
    worse[:, 0] /= np.sqrt((rows * rows).sum(axis=0)) * (1.0 + np.sqrt(problem.b @ problem.b))
    if not (abs(worse[columns]) <= NOTHING).all() or not _all_worse(np.concatenate((worse, -prices[n_a + n_e :])), columns):
        return None
    g_price = np.zeros(len(problem.g_rhs))
    g_price[tight] = -prices[n_a + n_e :, 0]
    return Fit(x, -prices[n_a : n_a + n_e, 0], g_price, problem.e_rhs, problem.g_rhs, possible=True)
