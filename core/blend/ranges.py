"""The wanted ranges of an aim as rows: what cheapest, fewest and the frontier keep instead of a nearest fit."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from core.blend.demands import Demands, TargetRow, target_row
from core.blend.nutrients import MG_PER_MMOL, ROW, Array
from core.blend.programme import INFINITE, Rows, load, minimise
from core.blend.shelf import Shelf
from core.recipe.records import Aim


@dataclass(frozen=True, eq=False)
class Ranges:
    """The targets of an aim over the free columns, each row divided by its target.

    Attributes
    ----------
    targets : the targets that are rows
    brings : (m, n) ndarray [1/mg], what a milligram of each column adds, relative to the target
    base : (m,) ndarray [-], what water and fixed amounts bring, relative to the target
    low, high : (m,) ndarray [-], the wanted range, relative to the target
    limits : Rows, the exact rows and limits of the solve
    beyond : nutrients no amount of anything can bring into range; they bind nothing, or only that no more is added
    """

    targets: tuple[TargetRow, ...]
    brings: Array
    base: Array
    low: Array
    high: Array
    limits: Rows
    beyond: tuple[str, ...]

    def rows(self) -> Rows:
        """Every target in its range, every limit kept."""
        matrix = np.vstack([self.brings, self.limits.matrix])
        lower = np.concatenate([self.low - self.base, self.limits.lower])
        return Rows(matrix, lower, np.concatenate([self.high - self.base, self.limits.upper]))


def limit_rows(demands: Demands) -> Rows:
    """The exact rows and the limits of a solve, less what holds the salts of a closest fit beside an acid.

    Every goal keeps the alkalinity exactly; within ranges it is for cost and count to say which salts bring it.
    """
    problem = demands.problem
    kept = np.array([not len(problem.e_rhs) or row.code != "alkalinity" for row in demands.limits], dtype=bool)
    limits, at_most = problem.g[kept], problem.g_rhs[kept]
    lower = np.concatenate([problem.e_rhs, np.full(len(at_most), -INFINITE)])
    return Rows(np.vstack([problem.e, limits]), lower, np.concatenate([problem.e_rhs, at_most]))


def ranges_of(aim: Aim, demands: Demands, shelf: Shelf) -> Ranges:
    """The ranges of every target above zero.

    A row nothing free can move is left out; where water and fixed amounts are already over, no more may be added.
    Where no row of the solve keeps the alkalinity (no acid on the shelf, none asked for), the salts may not add to it
    as long as the ranges can be kept so: the closest fit leaves such salts by preference, and so must these goals.

    Parameters
    ----------
    aim : Aim, as it was solved for
    demands : Demands built from it
    shelf : Shelf

    Returns
    -------
    Ranges
    """
    base = MG_PER_MMOL @ demands.base_totals
    kept, beyond = [], []
    for target in (target_row(target) for target in aim.targets if target.mg_per_l > 0.0):
        here = float(base[ROW[target.nutrient]])
        movable = bool(np.any(shelf.brings[ROW[target.nutrient], demands.free] > 0.0))
        if here > target.high or (not movable and here < target.low):
            beyond.append(target.nutrient)
        if movable:
            kept.append(target)
    index = np.array([ROW[target.nutrient] for target in kept], dtype=np.intp)
    wanted = np.array([target.target for target in kept])
    already = base[index] / wanted
    high = np.maximum(np.array([target.high for target in kept]) / wanted, already)
    low = np.minimum(np.array([target.low for target in kept]) / wanted, high)
    brings = shelf.brings[np.ix_(index, demands.free)] / wanted[:, None] if kept else np.zeros((0, len(demands.free)))
    return _no_alkalinity_added(
        Ranges(tuple(kept), brings, already, low, high, limit_rows(demands), tuple(beyond)), demands, shelf
    )


def _no_alkalinity_added(ranges: Ranges, demands: Demands, shelf: Shelf) -> Ranges:
    alkalinity = shelf.alkalinity[demands.free]
    has_row = demands.problem.e.shape[0] > 0 or any(row.code == "alkalinity" for row in demands.limits)
    if has_row or not np.any(alkalinity > 0.0):
        return ranges
    limits = ranges.limits
    kept = Rows(
        np.vstack([limits.matrix, alkalinity]), np.append(limits.lower, -INFINITE), np.append(limits.upper, 0.0)
    )
    without = replace(ranges, limits=kept)
    return ranges if minimise(load(without.rows()), np.zeros(len(alkalinity))) is None else without
