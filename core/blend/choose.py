"""Of all blends that fit equally well, the one a grower would weigh.

An over-complete shelf reaches the same nutrients in many ways, and least squares takes any of them. Linear programmes
over the amounts that keep what the fit achieved pick one, each settling what the one before left open: first the
least of what nobody asked for, then known cost, then dissolved mass, then the catalog's order, commonest first.
Dissolved mass counts no water of crystallisation, so a hydrate is never preferred for being dry.
"""

from __future__ import annotations

import threading
from dataclasses import dataclass

import highspy
import numpy as np

from core.blend.fit import Array, Fit, Problem, fit

USED_MG_PER_L = 1e-6
"""Amounts below this are numerical dust of the solvers, not something to weigh."""

KEPT = 1e-6
"""How much worse, relative to the targets, the chosen blend may fit than the fit itself: solver round-off."""

REDUCED_COST = 1e-7
"""Relative reduced cost above which a column cannot enter without making a settled aim worse."""

_local = threading.local()


@dataclass(frozen=True, eq=False)
class Preference:
    """One aim of the order: what a milligram of each column costs in it, any unit."""

    name: str
    per_mg: Array


def _solver() -> highspy.Highs:
    """One silent HiGHS per thread; it is reused because making one costs more than a small solve."""
    solver: highspy.Highs | None = getattr(_local, "solver", None)
    if solver is None:
        solver = highspy.Highs()
        solver.setOptionValue("output_flag", False)
        solver.setOptionValue("presolve", "off")
        solver.setOptionValue("threads", 1)
        _local.solver = solver
    return solver


def _model(problem: Problem, x: Array, e_rhs: Array, g_rhs: Array) -> highspy.HighsLp:
    """Keep the achieved targets and exact rows, and each limit relaxed to what was achieved."""
    rows = np.vstack([problem.a, problem.e, problem.g])
    reached = rows @ x
    n_equal = problem.a.shape[0] + problem.e.shape[0]
    scale = np.abs(rows).max(axis=1, initial=0.0)
    scale = 1.0 / np.where(scale > 0.0, scale, 1.0)
    upper = reached.copy()
    upper[n_equal:] = np.maximum(g_rhs, reached[n_equal:])
    lower = np.where(np.arange(len(rows)) < n_equal, reached, -highspy.kHighsInf)
    scaled = rows * scale[:, None]
    row_index, column_index = np.nonzero(scaled)
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = rows.shape[1], rows.shape[0]
    model.col_cost_ = np.zeros(rows.shape[1])
    model.col_lower_ = np.zeros(rows.shape[1])
    model.col_upper_ = np.full(rows.shape[1], highspy.kHighsInf)
    model.row_lower_, model.row_upper_ = lower * scale, upper * scale
    model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    model.a_matrix_.start_ = np.concatenate([[0], np.cumsum(np.bincount(row_index, minlength=len(rows)))]).astype(np.int32)
    model.a_matrix_.index_ = column_index.astype(np.int32)
    model.a_matrix_.value_ = scaled[row_index, column_index]
    return model


def lexicographic(
    problem: Problem, x: Array, e_rhs: Array, g_rhs: Array, preferences: tuple[Preference, ...]
) -> Array | None:
    """Settle the preferences one after another; None when the solver finds no optimum.

    After each step every column (and at-most row) with a price of its own is frozen where it is: that is exactly the
    set of optima of the step, so the next one starts from the same vertex and nothing settled is lost.
    """
    solver = _solver()
    solver.clearSolver()
    solver.passModel(_model(problem, x, e_rhs, g_rhs))
    n, n_equal = len(x), problem.a.shape[0] + problem.e.shape[0]
    columns = np.arange(n, dtype=np.int32)
    open_columns = np.ones(n, dtype=bool)
    chosen: Array | None = None
    for preference in preferences:
        size = float(np.max(np.abs(preference.per_mg), initial=0.0))
        if size == 0.0:
            continue
        solver.changeColsCost(n, columns, preference.per_mg / size)
        solver.run()
        if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return chosen
        solution = solver.getSolution()
        chosen = np.maximum(np.array(solution.col_value), 0.0)
        settled = open_columns & (np.array(solution.col_dual) > REDUCED_COST)
        for column in np.flatnonzero(settled):
            solver.changeColBounds(int(column), 0.0, 0.0)
        open_columns &= ~settled
        tight = np.abs(np.array(solution.row_dual)) > REDUCED_COST
        for row in np.flatnonzero(tight[n_equal:]) + n_equal:
            solver.changeRowBounds(int(row), float(solution.row_value[row]), float(solution.row_value[row]))
    return chosen


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
    if found.x.size == 0:
        return found
    picked = lexicographic(problem, found.x, found.e_rhs, found.g_rhs, preferences)
    if picked is None:
        return found
    support = np.flatnonzero(picked > USED_MG_PER_L)
    kept = Problem(problem.a, problem.b, problem.e, found.e_rhs, problem.g, found.g_rhs).only(support)
    refit = fit(kept)
    x = np.zeros_like(found.x)
    x[support] = refit.x
    return Fit(x, found.e_price, found.g_price, found.e_rhs, found.g_rhs, found.possible) if _as_good(problem, found, x) else found


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
