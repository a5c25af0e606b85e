"""Dust: salts a blend uses so little of that nobody would open the bag."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from core.blend.alkalinity import is_acid
from core.blend.choose import USED_MG_PER_L
from core.blend.demands import Demands
from core.blend.nutrients import MG_PER_MMOL, Array, read_only
from core.blend.shelf import Shelf, Source
from core.recipe.records import NUTRIENTS

DUST_SHARE = 0.015
"""A macro salt that brings less than this share of every nutrient is a candidate to leave out (own choice: a third of
what weighing itself is off by)."""

DUST_LOSS = 0.003
"""Most that leaving it out may lose: of any weighted row relative to its target, or of the cost (own choice: too little
to see on any meter or bill)."""

_MACRO_ROWS = np.array([NUTRIENTS.index(name) for name in ("N", "P", "K", "Ca", "Mg", "S")])
_MACRO_MG_PER_MMOL = MG_PER_MMOL[_MACRO_ROWS]


def dust(demands: Demands, shelf: Shelf, x: Array) -> list[int]:
    """The macro salts that bring under the dust share of every nutrient, those that bring least first."""
    brought = _macros(shelf)[:, demands.free] * x
    feed = _MACRO_MG_PER_MMOL @ demands.base_totals + brought.sum(axis=1)
    shares = np.divide(brought, feed[:, None], out=np.zeros_like(brought), where=feed[:, None] > 0.0)
    largest = shares.max(axis=0, initial=0.0)
    candidates = [
        i
        for i in np.flatnonzero((x > USED_MG_PER_L) & (largest < DUST_SHARE)).tolist()
        if _may_go(shelf.sources[demands.free[i]])
    ]
    return sorted(candidates, key=lambda i: float(largest[i]))


@lru_cache(maxsize=64)
def _macros(shelf: Shelf) -> Array:
    """What a milligram of each source brings of the macros, (6, n_sources) [mg]."""
    macros: Array = shelf.brings[_MACRO_ROWS]
    read_only(macros)
    return macros


def _may_go(source: Source) -> bool:
    """True for a salt bought for a macro of which no least amount is asked for."""
    minor = source.is_trace or is_acid(source) or source.entry.at_least_mg_per_l
    return not minor and bool(np.any(source.brings[_MACRO_ROWS] > 0.0))
