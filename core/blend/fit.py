"""Fit amounts to targets under limits: non-negative least squares with multipliers.

Arrays in, arrays out; nothing here knows what a row means. Minimise ``|A x - b|^2`` over ``x >= 0`` subject to
``E x = e`` and ``G x <= g``.

Lawson & Hanson's active-set method (1974, "Solving Least Squares Problems", chapter 23) solves the plain problem.
Limits join it as heavy rows with slacks whose right-hand side is moved by multipliers (Hestenes 1969; Powell 1969),
so the weight stays small enough to keep the vertex right, and the multipliers are the prices of the limits. Limits in
hard conflict with the targets have large prices, and multipliers walk there slowly: an active-set method goes on.
"""

from __future__ import annotations

import math
import statistics
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import nnls

from core.blend.vertex import settle_on

Array = NDArray[np.float64]

LIMIT_WEIGHT = 100.0
"""Weight of a limit row against a target row; 1e4 and above sometimes end in a wrong vertex without an error."""

UPDATES = 4
"""Updates of the multipliers before an active-set method goes on; most limits settle in two (own choice)."""

CLOSE = 1e-11
"""How far, relative to its right-hand side, a limit may be missed when the updates stop (own choice)."""

OPTIMAL = 1e-9
"""Residual at which an answer of the multipliers stands: a tenth of what is asked of the fit (own choice)."""

NEGLIGIBLE = 1e-10
"""Coefficient of a limit, relative to its row's largest, that is round-off of contents and charges (own choice)."""

BEYOND_MG_PER_L = 1e6
"""More of a product than a litre of anything holds; a sign that nothing bounds its column."""

RIDGE = 1e-7
"""Weight of having little of such a column, small enough to move no limit by anything that is seen (own choice)."""

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
    norms, columns = _norms(rows, axis=1), _norms(problem.a, axis=0)
    wanted = _median(columns[columns > 0.0].tolist())
    return np.asarray(wanted / np.where(norms > 0.0, norms, wanted))


def _norms(matrix: Array, axis: int) -> Array:
    norms: Array = np.sqrt((matrix * matrix).sum(axis=axis))
    return norms


def _median(numbers: list[float]) -> float:
    """The median of a few numbers, 1 of none."""
    return statistics.median(numbers) if numbers else 1.0


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
    if problem.e.shape[0] > 0:
        return _fit_with_limits(problem)
    n_g, x = problem.g.shape[0], solve_nnls(problem.a, problem.b)
    slack_needed = problem.g @ x - problem.g_rhs
    if n_g == 0 or bool(np.all(slack_needed <= CLOSE * (1.0 + np.abs(problem.g_rhs)))):
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
    rows = _without_traces(np.vstack([problem.e, problem.g]))
    scales = _row_scales(problem, rows)
    heavy = np.hstack([rows * scales[:, None], np.vstack([np.zeros((n_e, n_g)), np.eye(n_g)])])
    kept = np.concatenate([problem.e_rhs, problem.g_rhs]) * scales
    x, price, settled = _multiplier_updates(problem, heavy, kept, CLOSE * (scales + np.abs(kept)))
    found = _told(problem, scales, x, price, kept, possible=True)
    if settled and kkt_residual(problem, found) <= OPTIMAL:
        return found
    kept, possible, start = _nearest_possible(heavy, kept, n, n_e)
    x, price = _finished(problem, heavy[:, :n], kept, (x, start), price)
    return _told(problem, scales, x, price, kept, possible=possible)


def _told(problem: Problem, scales: Array, x: Array, price: Array, kept: Array, *, possible: bool) -> Fit:
    """Amounts, with the prices and right-hand sides of the scaled rows in the rows' own units."""
    n_e, price, rhs = len(problem.e_rhs), price * scales, kept / scales
    return Fit(x, price[:n_e], price[n_e:], rhs[:n_e], rhs[n_e:], possible)


def _without_traces(rows: Array) -> Array:
    """The rows less coefficients that are round-off: tonnes of such a column would otherwise keep an impossible row."""
    least = NEGLIGIBLE * np.abs(rows).max(axis=1, initial=0.0)
    return np.where(np.abs(rows) > least[:, None], rows, 0.0)


def _nearest_possible(heavy: Array, asked: Array, n: int, n_e: int) -> tuple[Array, bool, Array]:
    """The nearest right-hand sides some amounts keep, whether those are the asked ones, and such amounts."""
    solution = solve_nnls(heavy, asked)
    if np.any(solution[:n] > BEYOND_MG_PER_L):  # nothing bounds a column: take as little of it as will do
        small = RIDGE * float(np.median(np.linalg.norm(heavy[:, :n], axis=0))) * np.eye(n, heavy.shape[1])
        solution = solve_nnls(np.vstack([heavy, small]), np.concatenate([asked, np.zeros(n)]))
    reached, limits = heavy @ solution, heavy[n_e:, :n] @ solution[:n]
    possible = float(np.max(np.abs(reached - asked))) <= VIOLATION * (1.0 + float(np.max(np.abs(asked))))
    return np.concatenate([reached[:n_e], np.maximum(asked[n_e:], limits)]), possible, solution[:n]


def _multiplier_updates(problem: Problem, heavy: Array, rhs: Array, close: Array) -> tuple[Array, Array, bool]:
    """Augmented-Lagrangian iterations on the stacked rows: amounts, prices of the scaled rows, whether they settled.

    `close` is how far each row may be missed.
    """
    n, width = problem.a.shape[1], heavy.shape[1]
    targets = np.zeros((problem.a.shape[0], width))
    targets[:, :n] = problem.a
    rows = np.vstack([targets, LIMIT_WEIGHT * heavy])
    shift, solution = np.zeros_like(rhs), np.zeros(width)
    for _ in range(UPDATES):
        solution = solve_nnls(rows, np.concatenate([problem.b, LIMIT_WEIGHT * (rhs - shift)]))
        missed = heavy @ solution - rhs
        shift = shift + missed
        if np.all(np.abs(missed) <= close):
            return solution[:n], LIMIT_WEIGHT**2 * shift, True
    return solution[:n], LIMIT_WEIGHT**2 * shift, False


def _finished(
    problem: Problem, rows: Array, rhs: Array, starts: tuple[Array, ...], price: Array
) -> tuple[Array, Array]:
    """The exact end, from the first of the starts that keeps the rows."""
    for start in starts:
        found = settle_on(problem.a, problem.b, rows, rhs, len(problem.e_rhs), start)
        if found is not None and found.settled:
            return found.x, found.price
    return starts[0], price


def kkt_residual(problem: Problem, result: Fit) -> float:
    """How far a fit is from optimal: worst of gradient, limits, prices and complementarity, relative to its size.

    Parameters
    ----------
    problem : Problem
    result : Fit

    Returns
    -------
    float [-], 0 at an exact optimum.
    """
    gradient = problem.a.T @ (problem.a @ result.x - problem.b)
    gradient += problem.e.T @ result.e_price + problem.g.T @ result.g_price
    norms, size = _norms(problem.a, axis=0), 1.0 + math.sqrt(float(problem.b @ problem.b))
    stationarity = np.where(result.x > 0.0, np.abs(gradient), -gradient) / (np.where(norms > 0.0, norms, 1.0) * size)
    slack = problem.g @ result.x - result.g_rhs
    over = slack / (1.0 + np.abs(result.g_rhs))
    off = np.abs(problem.e @ result.x - result.e_rhs) / (1.0 + np.abs(result.e_rhs))
    complementarity = np.abs(result.g_price * slack) / size**2
    parts = (stationarity, over, off, -result.g_price, complementarity)
    return max(0.0, *(float(part.max(initial=0.0)) for part in parts))
