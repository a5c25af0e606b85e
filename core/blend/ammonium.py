"""How much of the nitrogen may come as ammonium and urea, and where the usual share gives way.

A share the aim names is a limit like any other. The usual share is only a default: where an amount that was fixed, or
the least of a product, forces ammonium in, it gives way as far as the macros need it, and no further.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from core.blend.fit import Array, Fit, Problem, fit
from core.blend.nutrients import ROW
from core.recipe.records import MACROS, Aim, ShelfEntry

if TYPE_CHECKING:
    from core.blend.demands import LimitRow, TargetRow
    from core.blend.shelf import Shelf, Source

AMMONIUM_SHARE_PERCENT = 10.0
"""Most nitrogen as ammonium and urea together when neither the aim nor its crop says more (own choice: published
nitrate-based feeds for soilless crops mostly stay under it)."""

YIELDED = "ammonium-yielded"
"""Note of a solve whose usual share gave way."""

ROUND_OFF = 1e-9
"""Share of a bound it is widened by, so that the blend it was widened for keeps it."""


def ammonium_share_percent(aim: Aim, crop_share_percent: float | None) -> float:
    """The most nitrogen that may come as ammonium and urea, in per cent of all nitrogen."""
    from core.blend.demands import target_row

    if aim.ammonium_share_at_most_percent is not None:
        return aim.ammonium_share_at_most_percent
    share = max(AMMONIUM_SHARE_PERCENT, crop_share_percent or 0.0)
    rows = {target.nutrient: target_row(target) for target in aim.targets if target.nutrient in ("N", "NO3-N", "NH4-N")}
    if "NH4-N" in rows:
        nitrate = rows["NO3-N"].target if "NO3-N" in rows else 0.0
        total = rows["N"].target if "N" in rows else nitrate + rows["NH4-N"].target
        share = max(share, 100.0 * rows["NH4-N"].high / total if total else 100.0)
    return min(share, 100.0)


def is_bound_in(entry: ShelfEntry) -> bool:
    """True where the recipe fixes an amount of a product, or the least of it."""
    return bool(entry.exactly_mg_per_l or entry.at_least_mg_per_l)


def brings_ammonium(source: Source) -> bool:
    """True for a product with nitrogen as ammonium or urea."""
    return bool(source.brings[ROW["NH4-N"]] + source.brings[ROW["urea-N"]] > 0.0)


def is_forced(aim: Aim, shelf: Shelf) -> bool:
    """True where only the usual share stands against ammonium that a bound of the shelf forces in."""
    return aim.ammonium_share_at_most_percent is None and binds_ammonium(shelf)


@lru_cache(maxsize=64)
def binds_ammonium(shelf: Shelf) -> bool:
    """True where a bound of the shelf forces ammonium or urea in."""
    return any(is_bound_in(source.entry) and brings_ammonium(source) for source in shelf.sources)


def yielded(problem: Problem, limits: tuple[LimitRow, ...], targets: tuple[TargetRow, ...]) -> Problem | None:
    """The problem with the usual share widened to the least ammonium with which the macros are in range.

    Parameters
    ----------
    problem : Problem, whose `g` rows are those of `limits` and whose `a` rows those of `targets`

    Returns
    -------
    Problem, or None where the share stands in the way of nothing
    """
    share = np.array([row.code == "ammonium-share" for row in limits], dtype=bool)
    if not share.any():
        return None
    held = fit(problem)
    missed = _missed(problem, targets, held.x)
    if held.possible and not missed.any():
        return None
    free = fit(replace(problem, g=problem.g[~share], g_rhs=problem.g_rhs[~share]))
    if held.possible and np.all(_missed(problem, targets, free.x) >= missed - ROUND_OFF):
        return None
    least = _least_ammonium(problem, share, targets, free)
    if least is None:
        return None
    reached = problem.g @ least
    widened = np.maximum(problem.g_rhs, reached + ROUND_OFF * (1.0 + np.abs(reached)))
    return replace(problem, g_rhs=np.where(share, widened, problem.g_rhs))


def _wanted(targets: tuple[TargetRow, ...]) -> tuple[Array, Array]:
    """Range of each macro, relative to its target and counted from it; anything for the others."""
    macro = np.array([row.nutrient in MACROS for row in targets], dtype=bool)
    low = np.array([row.low / row.target - 1.0 for row in targets])
    high = np.array([row.high / row.target - 1.0 for row in targets])
    return np.where(macro, low, -np.inf), np.where(macro, high, np.inf)


def off_target(problem: Problem, targets: tuple[TargetRow, ...], x: Array) -> Array:
    """Where each target ends, relative to it and counted from it."""
    weights = np.array([row.weight if row.weight > 0.0 else 1.0 for row in targets])
    return np.asarray((problem.a @ x - problem.b) / weights)


def _missed(problem: Problem, targets: tuple[TargetRow, ...], x: Array) -> Array:
    """How far each macro ends out of its range, relative to its target."""
    (low, high), off = _wanted(targets), off_target(problem, targets, x)
    return np.asarray(np.maximum(np.maximum(low - off, off - high), 0.0))


def _least_ammonium(
    problem: Problem, share: NDArray[np.bool_], targets: tuple[TargetRow, ...], free: Fit
) -> Array | None:
    """The blend of least ammonium with every macro in its range, or no further out than without the share."""
    from core.blend.programme import INFINITE, Preference, Rows, settle

    low, high = _wanted(targets)
    off = off_target(problem, targets, free.x)
    macro = np.isfinite(low)
    weights = np.array([row.weight if row.weight > 0.0 else 1.0 for row in targets])[macro]
    rows, at = problem.a[macro] / weights[:, None], problem.b[macro] / weights
    others, rhs = problem.g[~share], free.g_rhs
    conditions = Rows(
        np.vstack([rows, problem.e, others]),
        np.concatenate([at + np.minimum(low, off)[macro], free.e_rhs, np.full(len(rhs), -INFINITE)]),
        np.concatenate([at + np.maximum(high, off)[macro], free.e_rhs, rhs]),
    )
    ammonium = problem.g[np.flatnonzero(share)[-1]]
    return settle(conditions, (Preference("ammonium", ammonium),))
