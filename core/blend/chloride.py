"""Chlorides of the macros are opened where the others cannot do it, not for the last per cent of a fit.

Chloride is not asked for, and a grower opens a bag of it when calcium or another cation outruns the nitrate it would
come with. Up to the usual limit of added chloride least squares would take a little of it nearly always.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from core.blend.ammonium import off_target
from core.blend.choose import USED_MG_PER_L
from core.blend.demands import Demands
from core.blend.fit import Array, fit
from core.blend.nutrients import ROW
from core.blend.shelf import Shelf

SLIGHT = 0.02
"""Most, relative to its target, that a macro may be further off without chloride for the chloride to be left out (own
choice: a change growers do not notice, well inside the usual 5 %). What weighs little need only stay in its range."""


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
    reached = zip(targets, then, strict=True)
    light = np.array([row.weight < 1.0 and row.low <= row.target * (1.0 + off) <= row.high for row, off in reached])
    as_well = (np.abs(then) - np.abs(now) <= SLIGHT) | light
    return kept if without.possible and bool(np.all(as_well)) else None


def _is_macro_chloride(shelf: Shelf, column: int) -> bool:
    """True for a salt bought for a macro that brings chloride; one with a least amount of its own stays in."""
    source = shelf.sources[column]
    chloride = source.kind == "salt" and not source.is_trace and source.brings[ROW["Cl"]] > 0.0
    return bool(chloride and not source.entry.at_least_mg_per_l)
