"""How a blend stands against its aim: misses, misfit, cost, and what changes between two blends."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.blend import prices
from core.blend.demands import TargetRow, target_row
from core.blend.nutrients import ROW
from core.blend.solve import Blend
from core.blend.why_records import Change

CLOSE = 1e-4
"""Relative distance from the end of a range that still counts as in it: solver round-off, far below any scale."""

NOTICED = 0.02
"""Share of its target by which a nutrient must move to be worth a word."""


@dataclass(frozen=True)
class Miss:
    """A target out of its range: `off` is how far beyond its end, relative to the target, weighted."""

    row: TargetRow
    feed_mg_per_l: float
    over: bool
    off: float


def target_rows(blend: Blend) -> tuple[TargetRow, ...]:
    """Every target of the blend's aim above zero."""
    return tuple(target_row(target) for target in blend.aim.targets if target.mg_per_l > 0.0)


def reached(blend: Blend, nutrient: str) -> float:
    """What the feed holds of a nutrient [mg/L]."""
    return float(blend.nutrients_mg_per_l[ROW[nutrient]])


def in_range(row: TargetRow, mg_per_l: float) -> bool:
    """True within the wanted range, round-off aside."""
    return row.low * (1.0 - CLOSE) <= mg_per_l <= row.high * (1.0 + CLOSE) + 1e-9


def misses(blend: Blend) -> tuple[Miss, ...]:
    """The targets out of their range, worst first."""
    found = []
    for row in target_rows(blend):
        feed = reached(blend, row.nutrient)
        if not in_range(row, feed):
            off = feed - row.high if feed > row.high else row.low - feed
            found.append(Miss(row, feed, feed > row.high, row.weight * off / row.target))
    return tuple(sorted(found, key=lambda miss: -miss.off))


def misfit(blend: Blend) -> float:
    """Sum of squared weighted relative deviations: what the closest fit makes least."""
    problem = blend.demands.problem
    return float(np.sum((problem.a @ blend.amounts_mg_per_l[blend.demands.free] - problem.b) ** 2))


def cost_per_1000_l(blend: Blend) -> float | None:
    """What 1000 L of feed cost; None where something used has no price."""
    cost, missing = prices.cost_per_1000_l(blend.shelf, blend.amounts_mg_per_l)
    return None if missing else cost or 0.0


def cost_change(before: Blend, after: Blend) -> float | None:
    """Change of the cost of 1000 L; None where either is not known."""
    was, now = cost_per_1000_l(before), cost_per_1000_l(after)
    return None if was is None or now is None else now - was


def changes(before: Blend, after: Blend) -> tuple[Change, ...]:
    """Targets that move noticeably between two blends, the furthest first."""
    found = []
    for row in target_rows(before):
        was, now = reached(before, row.nutrient), reached(after, row.nutrient)
        if abs(now - was) >= NOTICED * row.target:
            found.append((abs(now - was) / row.target, Change(row.nutrient, was, now, in_range(row, now))))
    return tuple(change for _, change in sorted(found, key=lambda pair: -pair[0]))
