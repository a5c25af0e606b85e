"""The exact end of a fit: a primal active-set method that starts where the multiplier updates leave off.

Arrays in, arrays out. Minimise ``|A x - b|^2`` over ``x >= 0``, the first rows of ``H x = h`` exactly and the others
``H x <= h``, from amounts that keep them (Nocedal & Wright 2006, "Numerical Optimization", algorithm 16.3). Steps are
taken in the null space of the rows that are held, by orthogonal factors of ``A`` itself, so nothing is squared.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

ROUND_OFF = 1e-11
"""Relative size under which a step, a price or a distance is round-off of double precision (own choice)."""

NEARLY = 1e-6
"""Relative distance from its bound at which the start is put onto a row (own choice); a row held in vain is let go."""

STEPS_PER_ROW = 4
"""Steps allowed per column and row together; an active set settles in far fewer unless it goes in circles."""


@dataclass(frozen=True, eq=False)
class Vertex:
    """Amounts (n,), prices (m,) of the rows, and whether nothing is left to gain."""

    x: Array
    price: Array
    settled: bool


@dataclass(eq=False)
class _State:
    """Amounts on the way; `open` columns may move, `held` rows stand at their bound."""

    x: Array
    open: NDArray[np.bool_]
    held: NDArray[np.bool_]


def settle_on(a: Array, b: Array, rows: Array, rhs: Array, n_exact: int, start: Array) -> Vertex | None:
    """Go from amounts that keep the rows to the optimum; None where the start does not keep them.

    Parameters
    ----------
    a, b : (m_a, n), (m_a,) ndarray, the targets
    rows, rhs : (m, n), (m,) ndarray, the first `n_exact` of them exact, the others at most
    start : (n,) ndarray

    Returns
    -------
    Vertex or None
    """
    norms = np.linalg.norm(np.vstack([a, rows]), axis=0)
    scale = np.where(norms > 0.0, norms, 1.0)
    a, rows, x = a / scale, rows / scale, np.maximum(start, 0.0) * scale
    span = 1.0 + float(np.max(np.abs(rhs), initial=0.0)) + float(np.max(np.abs(x), initial=0.0))
    state = _onto_rows(x, rows, rhs, n_exact, NEARLY * span, ROUND_OFF * span)
    state = _onto_rows(x, rows, rhs, n_exact, ROUND_OFF * span, ROUND_OFF * span) if state is None else state
    if state is None:
        return None
    for _ in range(STEPS_PER_ROW * sum(rows.shape)):
        step = _step(state, a, b, rows)
        if float(np.max(np.abs(step), initial=0.0)) > ROUND_OFF * (1.0 + float(np.max(state.x, initial=0.0))):
            _walk(state, step, rows, rhs)
            continue
        price, gradient = _prices(state, a, b, rows)
        if not _let_go(state, price, gradient, n_exact, ROUND_OFF * (1.0 + float(np.linalg.norm(b)))):
            return Vertex(state.x / scale, price, settled=True)
    return Vertex(state.x / scale, _prices(state, a, b, rows)[0], settled=False)


def _onto_rows(x: Array, rows: Array, rhs: Array, n_exact: int, near: float, size: float) -> _State | None:
    """The start put exactly onto the rows it is near to; None where they, or another row, cannot be kept so."""
    is_open, held = x > 0.0, np.abs(rows @ x - rhs) <= near
    held[:n_exact] = True
    x, h = x.copy(), rows[np.ix_(held, is_open)]
    if h.size:
        x[is_open] += np.linalg.lstsq(h, rhs[held] - rows[held] @ x, rcond=None)[0]
    missed = rows @ x - rhs
    missed[held] = np.abs(missed[held])
    if np.any(x < -size) or np.any(missed > size):
        return None
    return _State(np.maximum(x, 0.0), is_open, held)


def _step(state: _State, a: Array, b: Array, rows: Array) -> Array:
    """The step to the least misfit that leaves closed columns and held rows where they are."""
    step = np.zeros(len(state.x))
    room = _null_space(rows[np.ix_(state.held, state.open)])
    if room.shape[1]:
        reduced = a[:, state.open] @ room
        step[state.open] = room @ np.linalg.lstsq(reduced, b - a @ state.x, rcond=1e-12)[0]
    return step


def _null_space(h: Array) -> Array:
    if h.shape[0] == 0:
        return np.eye(h.shape[1])
    _, values, directions = np.linalg.svd(h)
    rank = int(np.sum(values > 1e-12 * max(float(values[0]), 1e-300))) if values.size else 0
    return np.asarray(directions[rank:].T)


def _walk(state: _State, step: Array, rows: Array, rhs: Array) -> None:
    """Go as far as nothing is in the way; what stops the step is held from then on."""
    shrinking = state.open & (step < 0.0)
    to_zero = np.full(len(step), np.inf)
    to_zero[shrinking] = state.x[shrinking] / -step[shrinking]
    rise = rows @ step
    nearing = ~state.held & (rise > ROUND_OFF * (1.0 + np.abs(rhs)))
    to_bound = np.full(len(rhs), np.inf)
    to_bound[nearing] = np.maximum(rhs[nearing] - rows[nearing] @ state.x, 0.0) / rise[nearing]
    far = min(1.0, float(to_zero.min(initial=np.inf)), float(to_bound.min(initial=np.inf)))
    state.x = np.maximum(state.x + far * step, 0.0)
    if far < 1.0 and float(to_zero.min(initial=np.inf)) <= far:
        column = int(np.argmin(to_zero))
        state.open[column], state.x[column] = False, 0.0
    elif far < 1.0:
        state.held[int(np.argmin(to_bound))] = True


def _prices(state: _State, a: Array, b: Array, rows: Array) -> tuple[Array, Array]:
    """What the held rows cost, and what each column would gain after that."""
    gradient, price = a.T @ (a @ state.x - b), np.zeros(len(rows))
    h = rows[state.held]
    if h.size:
        price[state.held] = np.linalg.lstsq(h[:, state.open].T, -gradient[state.open], rcond=1e-12)[0]
    return price, gradient + rows.T @ price


def _let_go(state: _State, price: Array, gradient: Array, n_exact: int, size: float) -> bool:
    """Open the column or row that gains most; False where none does."""
    gain = np.where(state.open, 0.0, -gradient)
    gain_of_row = np.where(state.held, -price, 0.0)
    gain_of_row[:n_exact] = 0.0
    column, row = float(gain.max(initial=0.0)), float(gain_of_row.max(initial=0.0))
    if max(column, row) <= size:
        return False
    if column >= row:
        state.open[int(np.argmax(gain))] = True
    else:
        state.held[int(np.argmax(gain_of_row))] = False
    return True
