"""Of all blends that fit equally well, the one a grower would weigh.

An over-complete shelf reaches the same nutrients in many ways, and least squares takes any of them. Linear programmes
over the amounts that keep what the fit achieved pick one, each settling what the one before left open: first the
least of what nobody asked for, then known cost, then dissolved mass, then the catalog's order, commonest first.
Dissolved mass counts no water of crystallisation, so a hydrate is never preferred for being dry.
"""

from __future__ import annotations

import numpy as np

from core.blend.fit import Array, Fit, Problem, fit
from core.blend.programme import INFINITE, Preference, Rows, settle

__all__ = ["KEPT", "USED_MG_PER_L", "Preference", "choose", "equally_good"]

USED_MG_PER_L = 1e-6
"""Amounts below this are numerical dust of the solvers, not something to weigh."""

SAME = 1e-7
"""Relative size of a gradient or of what is left of a column beside others that is round-off (own choice)."""

KEPT = 1e-6
"""How much worse, relative to the targets, the chosen blend may fit than the fit itself: solver round-off."""


def equally_good(problem: Problem, x: Array, g_rhs: Array) -> Rows:
    """The rows of all blends as good as `x`: its targets and exact rows, and each limit relaxed to what it reached."""
    matrix = np.vstack([problem.a, problem.e, problem.g])
    reached = matrix @ x
    n_equal = problem.a.shape[0] + problem.e.shape[0]
    upper = reached.copy()
    upper[n_equal:] = np.maximum(g_rhs, reached[n_equal:])
    return Rows(matrix, np.where(np.arange(len(matrix)) < n_equal, reached, -INFINITE), upper)


def choose(problem: Problem, found: Fit, preferences: tuple[Preference, ...]) -> Fit:
    """The preferred blend among those that fit as well as `found`, exact on its own salts.

    Parameters
    ----------
    problem : Problem
    found : Fit, any optimum of it
    preferences : in order of importance

    Returns
    -------
    Fit
    """
    if found.x.size == 0 or is_only_one(problem, found):
        return found
    picked = settle(equally_good(problem, found.x, found.g_rhs), preferences)
    if picked is None:
        return found
    support = np.flatnonzero(picked > USED_MG_PER_L)
    kept = Problem(problem.a, problem.b, problem.e, found.e_rhs, problem.g, found.g_rhs).only(support)
    refit = fit(kept)
    x = np.zeros_like(found.x)
    x[support] = refit.x
    return (
        Fit(x, found.e_price, found.g_price, found.e_rhs, found.g_rhs, found.possible)
        if _as_good(problem, found, x)
        else found
    )


def is_only_one(problem: Problem, found: Fit) -> bool:
    """True where no other blend fits as well: what could change without loss brings no two things alike."""
    gradient = problem.a.T @ (problem.a @ found.x - problem.b)
    gradient += problem.e.T @ found.e_price + problem.g.T @ found.g_price
    rows = np.vstack([problem.a, problem.e])
    size = np.sqrt((rows * rows).sum(axis=0))
    movable = (found.x > USED_MG_PER_L) | (gradient <= SAME * size)
    columns = rows[:, movable]
    if columns.shape[1] > columns.shape[0] or not np.all(size[movable] > 0.0):
        return False
    values = np.linalg.svd(columns / size[movable], compute_uv=False)
    return bool(values.size == 0 or values[-1] > SAME * values[0])


def _as_good(problem: Problem, found: Fit, x: Array) -> bool:
    """True when the targets, exact rows and limits are kept as the fit kept them."""
    worse = np.abs(problem.a @ x - problem.a @ found.x)
    off = np.abs(problem.e @ x - found.e_rhs)
    over = problem.g @ x - np.maximum(found.g_rhs, problem.g @ found.x)
    return bool(
        np.all(worse <= KEPT)
        and np.all(off <= KEPT * (1.0 + np.abs(found.e_rhs)))
        and np.all(over <= KEPT * (1.0 + np.abs(found.g_rhs)))
    )
