"""Chlorides of the macros are opened where the others cannot do it, not for the last per cent of a fit.

Chloride is not asked for, and a grower opens a bag of it when calcium or another cation outruns the nitrate it would
come with. Up to the usual limit of added chloride least squares would take a little of it nearly always.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from core.blend.ammonium import ROUND_OFF, off_target
from core.blend.choose import USED_MG_PER_L
from core.blend.demands import Demands, TargetRow
from core.blend.fit import Array, fit
from core.blend.nutrients import ROW
from core.blend.shelf import Shelf

SLIGHT = 0.02
"""Most, relative to its target, that a macro out of its range may be further off without chloride for the chloride to
be left out (own choice: a change growers do not notice). In its range any of them may be anywhere."""


def columns_without_chloride(demands: Demands, shelf: Shelf, x: Array) -> NDArray[np.intp] | None:
    """The free columns less the chlorides of macros, where a blend uses some and does about as well without.

    Parameters
    ----------
    x : (n,) ndarray [mg/L], the amounts found over the free columns

    Returns
    -------
    Positions among the free columns; None where no chloride is used, it is needed, or the aim limits it itself.
    """
    if all(row.code != "chloride" for row in demands.limits):
        return None
    chloride = np.array([_is_macro_chloride(shelf, column) for column in demands.free], dtype=bool)
    if not np.any(x[chloride] > USED_MG_PER_L):
        return None
    kept, problem, targets = np.flatnonzero(~chloride), demands.problem, demands.targets
    without = fit(problem.only(kept))
    other = np.zeros(len(x))
    other[kept] = without.x
    if not targets:
        return None
    now, then = off_target(problem, targets, x), off_target(problem, targets, other)
    as_near = np.abs(then) - np.abs(now) <= SLIGHT
    as_well = as_near | (_out_of_range(targets, then) <= _out_of_range(targets, now))
    return kept if without.possible and bool(np.all(as_well)) else None


def _out_of_range(targets: tuple[TargetRow, ...], off: Array) -> Array:
    """How far each target ends out of its range, relative to it; round-off counts as in."""
    low = np.array([row.low / row.target - 1.0 for row in targets])
    high = np.array([row.high / row.target - 1.0 for row in targets])
    return np.asarray(np.maximum(np.maximum(low - off, off - high) - ROUND_OFF, 0.0))


def _is_macro_chloride(shelf: Shelf, column: int) -> bool:
    """True for a salt bought for a macro that brings chloride; one with a least amount of its own stays in."""
    source = shelf.sources[column]
    chloride = source.kind == "salt" and not source.is_trace and source.brings[ROW["Cl"]] > 0.0
    return bool(chloride and not source.entry.at_least_mg_per_l)
