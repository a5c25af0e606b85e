"""Fit amounts to targets under limits: non-negative least squares with multipliers.

Arrays in, arrays out; nothing here knows what a row means. Minimise ``|A x - b|^2`` over ``x >= 0`` subject to
``E x = e`` and ``G x <= g``.

Lawson & Hanson's active-set method (1974, "Solving Least Squares Problems", chapter 23) solves the plain problem.
Limits join it as heavy rows with slacks whose right-hand side is moved by multipliers (Hestenes 1969; Powell 1969),
so the weight stays small enough to keep the vertex right, and the multipliers are the prices of the limits.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import nnls

Array = NDArray[np.float64]

LIMIT_WEIGHT = 100.0
"""Weight of a limit row against a target row; 1e4 and above sometimes end in a wrong vertex without an error."""

MAX_UPDATES = 30
PATIENCE = 3
"""Updates to wait before trying to finish a slow case with one exact solve."""

STUBBORN = 10
"""Updates after which limits that still give way get ten times the weight."""

CLOSE = 1e-11
"""How far, relative to the scaled row, a limit may be missed when the updates stop."""

VIOLATION = 1e-8
"""Scaled distance above which limits count as impossible together."""


@dataclass(frozen=True, eq=False)
class Problem:
    """The rows of a fit: `a`, `b` targets; `e`, `e_rhs` exact rows; `g`, `g_rhs` at-most rows."""

    a: Array
    b: Array
    e: Array
    e_rhs: Array
    g: Array
    g_rhs: Array

    def only(self, columns: NDArray[np.intp]) -> Problem:
        """The same problem with some columns left."""
        return Problem(self.a[:, columns], self.b, self.e[:, columns], self.e_rhs, self.g[:, columns], self.g_rhs)


@dataclass(frozen=True, eq=False)
class Fit:
    """An optimum.

    Attributes
    ----------
    x : (n,) ndarray, amounts
    e_price, g_price : (n_e,), (n_g,) ndarray, change of half the squared misfit per unit of each right-hand side
    e_rhs, g_rhs : the right-hand sides actually kept; differ from the asked ones only where those were impossible
    possible : bool, False when the asked limits cannot all be kept
    """

    x: Array
    e_price: Array
    g_price: Array
    e_rhs: Array
    g_rhs: Array
    possible: bool


def solve_nnls(a: Array, b: Array) -> Array:
    """Plain non-negative least squares; an empty problem has no amounts."""
    if a.shape[1] == 0:
        return np.zeros(0)
    if a.shape[0] == 0:
        return np.zeros(a.shape[1])
    x: Array = nnls(a, b, maxiter=30 * a.shape[1] + 100)[0]
    return x


def _row_scales(problem: Problem, rows: Array) -> Array:
    """Bring limit rows to the median column norm of the target rows, so one weight suits all."""
    norms = np.linalg.norm(rows, axis=1)
    columns = np.linalg.norm(problem.a, axis=0)
    columns = columns[columns > 0.0]
    wanted = float(np.median(columns)) if columns.size else 1.0
    return np.asarray(wanted / np.where(norms > 0.0, norms, wanted))


def fit(problem: Problem) -> Fit:
    """Solve one problem; limits that cannot all be kept are missed by as little as possible and `possible` says so.

    Parameters
    ----------
    problem : Problem

    Returns
    -------
    Fit
    """
    touched_e, touched_g = np.any(problem.e != 0.0, axis=1), np.any(problem.g != 0.0, axis=1)
    if not (touched_e.all() and touched_g.all()):
        return _without_idle_rows(problem, touched_e, touched_g)
    n_e, n_g = problem.e.shape[0], problem.g.shape[0]
    x = solve_nnls(problem.a, problem.b)
    slack_needed = problem.g @ x - problem.g_rhs
    if n_e == 0 and (n_g == 0 or bool(np.all(slack_needed <= CLOSE * (1.0 + np.abs(problem.g_rhs))))):
        return Fit(x, np.zeros(0), np.zeros(n_g), problem.e_rhs, problem.g_rhs, possible=True)
    return _fit_with_limits(problem)


def _without_idle_rows(problem: Problem, touched_e: NDArray[np.bool_], touched_g: NDArray[np.bool_]) -> Fit:
    """Leave out rows that no column touches: nothing can move them, and they would only upset the scales."""
    kept = replace(
        problem,
        e=problem.e[touched_e],
        e_rhs=problem.e_rhs[touched_e],
        g=problem.g[touched_g],
        g_rhs=problem.g_rhs[touched_g],
    )
    found = fit(kept)
    e_price, g_price = np.zeros(len(touched_e)), np.zeros(len(touched_g))
    e_rhs, g_rhs = np.zeros(len(touched_e)), np.maximum(problem.g_rhs, 0.0)
    e_price[touched_e], g_price[touched_g] = found.e_price, found.g_price
    e_rhs[touched_e], g_rhs[touched_g] = found.e_rhs, found.g_rhs
    asked_e, asked_g = problem.e_rhs[~touched_e], problem.g_rhs[~touched_g]
    idle_possible = bool(np.all(np.abs(asked_e) <= VIOLATION) and np.all(asked_g >= -VIOLATION))
    return Fit(found.x, e_price, g_price, e_rhs, g_rhs, found.possible and idle_possible)


def _fit_with_limits(problem: Problem) -> Fit:
    n_e, n_g, n = problem.e.shape[0], problem.g.shape[0], problem.a.shape[1]
    rows = np.vstack([problem.e, problem.g])
    scales = _row_scales(problem, rows)
    heavy = np.hstack([rows * scales[:, None], np.vstack([np.zeros((n_e, n_g)), np.eye(n_g)])])
    asked = np.concatenate([problem.e_rhs, problem.g_rhs]) * scales
    kept, possible = _nearest_possible(heavy, asked, n, n_e)
    x, price = _multiplier_updates(problem, heavy, kept)
    rhs = kept / scales
    return Fit(x, (price * scales)[:n_e], (price * scales)[n_e:], rhs[:n_e], rhs[n_e:], possible)


def _nearest_possible(heavy: Array, asked: Array, n: int, n_e: int) -> tuple[Array, bool]:
    """The asked right-hand sides, or the nearest ones some non-negative amounts can keep."""
    solution = solve_nnls(heavy, asked)
    reached = heavy @ solution
    if float(np.max(np.abs(reached - asked))) <= VIOLATION * (1.0 + float(np.max(np.abs(asked)))):
        return asked, True
    limits = heavy[n_e:, :n] @ solution[:n]
    return np.concatenate([reached[:n_e], np.maximum(asked[n_e:], limits)]), False


def _multiplier_updates(problem: Problem, heavy: Array, rhs: Array) -> tuple[Array, Array]:
    """Augmented-Lagrangian iterations on the stacked rows; returns amounts and prices of the scaled rows."""
    n, width, weight = problem.a.shape[1], heavy.shape[1], LIMIT_WEIGHT
    targets = np.zeros((problem.a.shape[0], width))
    targets[:, :n] = problem.a
    shift = np.zeros_like(rhs)
    solution = np.zeros(width)
    tolerance = CLOSE * (1.0 + float(np.max(np.abs(rhs))))
    for update in range(MAX_UPDATES):
        if update == STUBBORN:
            weight, shift = 10.0 * weight, shift / 100.0
        rows = np.vstack([targets, weight * heavy])
        solution = solve_nnls(rows, np.concatenate([problem.b, weight * (rhs - shift)]))
        missed = heavy @ solution - rhs
        shift = shift + missed
        if float(np.max(np.abs(missed))) <= tolerance:
            break
        exact = _exact_on(problem, heavy, rhs, solution) if update >= PATIENCE else None
        if exact is not None:
            return exact
    return solution[:n], weight**2 * shift


def _exact_on(problem: Problem, heavy: Array, rhs: Array, solution: Array) -> tuple[Array, Array] | None:
    """Solve the optimality conditions on the vertex the updates are heading for, or None where it is not the optimum.

    Limits in hard conflict with the targets have large prices, and multipliers walk there slowly; once the active
    set stands, one linear system is exact.
    """
    n = problem.a.shape[1]
    used = np.flatnonzero(solution[:n] > 0.0)
    limits = np.arange(n, heavy.shape[1])
    loose = {int(np.flatnonzero(heavy[:, c])[0]) for c in limits if solution[c] > 0.0}
    active = np.array([row for row in range(len(rhs)) if row not in loose], dtype=int)
    scale = np.linalg.norm(problem.a[:, used], axis=0)
    scale = np.where(scale > 0.0, scale, 1.0)
    a, h = problem.a[:, used] / scale, heavy[np.ix_(active, used)] / scale
    size = float(np.max(np.abs(h), initial=0.0)) or 1.0
    matrix = np.block([[a.T @ a, h.T / size], [h / size, np.zeros((len(active), len(active)))]])
    answer = np.linalg.lstsq(matrix, np.concatenate([a.T @ problem.b, rhs[active] / size]), rcond=None)[0]
    x, price = np.zeros(n), np.zeros(len(rhs))
    x[used] = answer[: len(used)] / scale
    price[active] = answer[len(used) :] / size
    return (x, price) if _is_optimal(problem, heavy, rhs, x, price) else None


def _is_optimal(problem: Problem, heavy: Array, rhs: Array, x: Array, price: Array) -> bool:
    n, n_e = len(x), problem.e.shape[0]
    gradient = problem.a.T @ (problem.a @ x - problem.b) + heavy[:, :n].T @ price
    size = 1.0 + float(np.max(np.abs(rhs)))
    missed = heavy[:, :n] @ x - rhs
    return bool(
        np.all(x >= 0.0)
        and np.all(price[n_e:] >= -CLOSE)
        and np.all(gradient >= -CLOSE * np.linalg.norm(problem.a, axis=0) - CLOSE)
        and np.all(np.abs(missed[:n_e]) <= CLOSE * size)
        and np.all(missed[n_e:] <= CLOSE * size)
    )


def kkt_residual(problem: Problem, result: Fit) -> float:
    """How far a fit is from optimal: worst of gradient, complementarity and limits, relative to the problem's size.

    Parameters
    ----------
    problem : Problem
    result : Fit

    Returns
    -------
    float [-], 0 at an exact optimum.
    """
    gradient = problem.a.T @ (problem.a @ result.x - problem.b)
    gradient = gradient + problem.e.T @ result.e_price + problem.g.T @ result.g_price
    norms = np.linalg.norm(problem.a, axis=0)
    size = np.where(norms > 0.0, norms, 1.0) * (1.0 + float(np.linalg.norm(problem.b)))
    stationarity = np.where(result.x > 0.0, np.abs(gradient), np.maximum(-gradient, 0.0)) / size
    over = (problem.g @ result.x - result.g_rhs) / (1.0 + np.abs(result.g_rhs))
    off = np.abs(problem.e @ result.x - result.e_rhs) / (1.0 + np.abs(result.e_rhs))
    sign = np.maximum(-result.g_price, 0.0)
    parts = [stationarity, np.maximum(over, 0.0), off, sign]
    return max((float(np.max(part)) for part in parts if part.size), default=0.0)
