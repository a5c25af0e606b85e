"""Linear and whole-number programmes over amounts: dense rows in, amounts out, one silent solver per thread.

Only the solver's public bindings are used, and they are told to print nothing. A solver is kept per thread, because
making one costs more than a small solve and one solver must not serve two threads.
"""

from __future__ import annotations

import math
import threading
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import highspy
import numpy as np
from numpy.typing import NDArray

from core.blend.fit import Array
from core.blend.stopping import asked_to_stop

INFINITE = highspy.kHighsInf

REDUCED_COST = 1e-7
"""Relative reduced cost above which a column cannot enter without making a settled aim worse."""

_local = threading.local()


@dataclass(frozen=True, eq=False)
class Preference:
    """One aim of the order: what a milligram of each column costs in it, any unit."""

    name: str
    per_mg: Array

    def only(self, columns: NDArray[np.intp]) -> Preference:
        """The same aim over some of the columns."""
        return Preference(self.name, self.per_mg[columns])


@dataclass(frozen=True, eq=False)
class Rows:
    """The conditions of a programme: `lower <= matrix @ x <= upper`, and `0 <= x <= most`.

    Attributes
    ----------
    matrix : (m, n) ndarray
    lower, upper : (m,) ndarray; INFINITE with its sign where there is no bound
    most : (n,) ndarray or None, for no upper bound on any column
    """

    matrix: Array
    lower: Array
    upper: Array
    most: Array | None = None

    def without(self, columns: NDArray[np.bool_]) -> Rows:
        """The same conditions with some columns held at nothing."""
        most = np.full(self.matrix.shape[1], INFINITE) if self.most is None else self.most
        return Rows(self.matrix, self.lower, self.upper, np.where(columns, 0.0, most))


@dataclass(frozen=True, eq=False)
class WholeAnswer:
    """What the whole-number solver found: the columns, their objective, and the proven least it can be.

    `x` is None and the objective infinite where it was ended before it found anything; `work` is how often the solver
    asked whether to go on.
    """

    x: Array | None
    objective: float
    bound: float
    work: int


def _quiet() -> highspy.Highs:
    solver = highspy.Highs()  # type: ignore[no-untyped-call]
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)
    return solver


def linear_solver() -> highspy.Highs:
    """The solver of this thread for linear programmes."""
    solver: highspy.Highs | None = getattr(_local, "linear", None)
    if solver is None:
        solver = _quiet()
        solver.setOptionValue("presolve", "off")
        _local.linear = solver
    return solver


def _whole_solver() -> highspy.Highs:
    solver: highspy.Highs | None = getattr(_local, "whole", None)
    if solver is None:
        solver = _quiet()
        _local.whole = solver
    return solver


def _sparse(rows: Rows) -> tuple[Array, Array, NDArray[np.int32], NDArray[np.int32], Array]:
    """Bounds of the rows, where each begins, and the columns and numbers of their coefficients, scaled row by row."""
    scale = np.abs(rows.matrix).max(axis=1, initial=0.0)
    scale = 1.0 / np.where(scale > 0.0, scale, 1.0)
    scaled = rows.matrix * scale[:, None]
    row_index, column_index = np.nonzero(scaled)
    start = np.searchsorted(row_index, np.arange(len(scale) + 1)).astype(np.int32)
    return (
        rows.lower * scale, rows.upper * scale, start, column_index.astype(np.int32), scaled[row_index, column_index]
    )  # fmt: skip


def model_of(rows: Rows) -> highspy.HighsLp:
    """The solver's model of these rows, without an objective; every row is scaled to a largest coefficient of 1."""
    lower, upper, start, column_index, coefficients = _sparse(rows)
    m, n = rows.matrix.shape
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = n, m
    model.col_cost_ = np.zeros(n)
    model.col_lower_ = np.zeros(n)
    model.col_upper_ = np.full(n, INFINITE) if rows.most is None else rows.most
    model.row_lower_, model.row_upper_ = lower, upper
    model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    model.a_matrix_.start_ = start
    model.a_matrix_.index_ = column_index
    model.a_matrix_.value_ = coefficients
    return model


def load(rows: Rows) -> highspy.Highs:
    """Give this thread's linear solver these rows and a fresh start."""
    solver = linear_solver()
    lower, upper, start, column_index, coefficients = _sparse(rows)
    m, n = rows.matrix.shape
    most, continuous = np.full(n, INFINITE) if rows.most is None else rows.most, np.zeros(n, dtype=np.int32)
    solver.clearSolver()
    solver.passModel(
        n, m, len(coefficients), int(highspy.MatrixFormat.kRowwise), int(highspy.ObjSense.kMinimize), 0.0,
        np.zeros(n), np.zeros(n), most, lower, upper, start, column_index, coefficients, continuous,
    )  # fmt: skip
    return solver


def minimise(solver: highspy.Highs, costs: Array) -> Array | None:
    """Minimise over the rows that were loaded, warm from the last solve; None where there is no optimum."""
    solver.changeColsCost(len(costs), np.arange(len(costs), dtype=np.int32), costs)
    solver.run()
    if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    return np.asarray(np.maximum(np.array(solver.getSolution().col_value), 0.0), dtype=float)


def settle(rows: Rows, preferences: tuple[Preference, ...]) -> Array | None:
    """Settle the preferences one after another; None when there is no amount that keeps the rows.

    After each step every column and row with a price of its own is frozen where it is: that is exactly the set of
    optima of the step, so the next one starts from the same vertex and nothing settled is lost. Where that leaves a
    single blend there is nothing to settle any more.

    Returns
    -------
    (n,) ndarray or None
    """
    solver = load(rows)
    open_columns = np.ones(rows.matrix.shape[1], dtype=bool)
    one_sided = rows.lower < rows.upper
    chosen: Array | None = None
    for preference in preferences:
        size = float(np.max(np.abs(preference.per_mg), initial=0.0))
        if size == 0.0 and chosen is not None:
            continue
        found = minimise(solver, preference.per_mg / (size or 1.0))
        if found is None:
            return chosen
        chosen = found
        if not freeze(solver, open_columns, one_sided):
            break
    return chosen


def freeze(solver: highspy.Highs, open_columns: NDArray[np.bool_], one_sided: NDArray[np.bool_]) -> bool:
    """Hold, after a minimum, every column and row that cannot move without losing it; updates `open_columns`.

    Returns
    -------
    bool, False where nothing can move any more: what has no price is then just what makes up the vertex, one column or
    slack for each row, and the rest of it is held.
    """
    solution = solver.getSolution()
    priced, tight = (np.abs(np.array(dual)) > REDUCED_COST for dual in (solution.col_dual, solution.row_dual))
    settled = np.flatnonzero(open_columns & priced)
    at = np.array(solution.col_value)[settled]
    solver.changeColsBounds(len(settled), settled.astype(np.int32), at, at)
    open_columns[settled] = False
    rows, reached = np.flatnonzero(one_sided & tight).tolist(), solution.row_value
    for row in rows:
        solver.changeRowBounds(row, reached[row], reached[row])
    return bool(np.count_nonzero(~priced) + np.count_nonzero(~tight) > len(tight))


def minimise_whole(
    rows: Rows,
    costs: Array,
    whole: NDArray[np.bool_],
    *,
    absolute_gap: float,
    relative_gap: float,
    work: int,
    seconds: float | None = None,
    stop: Callable[[], bool] | None = None,
) -> WholeAnswer:
    """Minimise with some columns whole numbers.

    Parameters
    ----------
    rows : Rows
    costs : (n,) ndarray
    whole : (n,) ndarray of bool, the columns that must be whole
    absolute_gap, relative_gap : how near the proven bound an answer is good enough
    work : how often the solver may ask whether to go on; unlike a clock it ends the same search at the same place
    seconds : float [s] or None, when to stop with what there is all the same
    stop : asked now and then; True ends the search with what there is, as does `core.blend.stopping`
    """
    solver = _whole_solver()
    solver.clearModel()
    model = model_of(rows)
    model.col_cost_ = costs
    kinds = (highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger)
    model.integrality_ = [kinds[int(is_whole)] for is_whole in whole]
    limit = INFINITE if seconds is None else seconds
    for name, value in (("mip_abs_gap", absolute_gap), ("mip_rel_gap", relative_gap), ("time_limit", limit)):
        solver.setOptionValue(name, value)
    solver.passModel(model)
    asked = _run(solver, work, stop)
    info, found = solver.getInfo(), np.array(solver.getSolution().col_value)
    bound = float(info.mip_dual_bound)
    if info.primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible or found.size == 0:
        return WholeAnswer(None, math.inf, bound, asked)
    return WholeAnswer(np.maximum(found, 0.0), float(info.objective_function_value), bound, asked)


def _run(solver: highspy.Highs, work: int, stop: Callable[[], bool] | None) -> int:
    asked = 0

    def ask(event: Any) -> None:
        nonlocal asked
        asked += 1
        # said each time: the solver keeps the last answer, even into the next search
        event.interrupt(asked > work or asked_to_stop() or (stop is not None and stop()))

    solver.cbMipInterrupt.subscribe(ask)
    try:
        solver.run()
    finally:
        solver.cbMipInterrupt.unsubscribe(ask)
    return asked
