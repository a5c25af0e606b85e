"""The goals beside the closest fit: cheapest and fewest, and what to say where one cannot be had."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from core.blend.cheapest import cheapest
from core.blend.demands import Demands
from core.blend.fewest import fewest
from core.blend.nutrients import Array
from core.blend.prices import prices_of
from core.blend.programme import Preference
from core.blend.ranges import ranges_of
from core.blend.shelf import Shelf
from core.recipe.records import Aim


@dataclass(frozen=True)
class Outcome:
    """How a goal other than the closest fit came out.

    Attributes
    ----------
    missed : why the closest blend is shown instead: "" where it is not, "ranges" where targets and limits cannot all
        be kept, "no-prices" where nothing has a price
    unpriced : keys of entries left aside for want of a price
    count, at_least : salts used and the proven least number, for "fewest"
    cost_gap : the most by which as few salts could be cheaper, as a share of the cost; 0 where that is proven
    """

    goal: Literal["cheapest", "fewest"]
    missed: Literal["", "ranges", "no-prices"] = ""
    unpriced: tuple[str, ...] = ()
    count: int | None = None
    at_least: int | None = None
    cost_gap: float = 0.0


@dataclass(frozen=True, eq=False)
class Reached:
    """Amounts (n,) [mg/L] over the free columns, keys swept out as dust, and the outcome; no amounts where missed."""

    x: Array | None
    dropped: tuple[str, ...]
    outcome: Outcome


def reach(
    goal: Literal["cheapest", "fewest"], aim: Aim, demands: Demands, shelf: Shelf, order: tuple[Preference, ...]
) -> Reached:
    """Go for a goal under the limits of a solve.

    Parameters
    ----------
    goal : "cheapest" or "fewest"
    aim, demands, shelf : the solve
    order : the usual order of preferences
    """
    ranges = ranges_of(aim, demands, shelf)
    if goal == "fewest":
        few = fewest(ranges, demands, shelf, order)
        if few is None:
            return Reached(None, (), Outcome("fewest", "ranges"))
        return Reached(few.x, (), Outcome("fewest", count=few.count, at_least=few.at_least, cost_gap=few.cost_gap))
    if not np.any(prices_of(demands, shelf).known):
        return Reached(None, (), Outcome("cheapest", "no-prices"))
    cheap = cheapest(ranges, demands, shelf, order)
    if cheap is None:
        return Reached(None, (), Outcome("cheapest", "ranges"))
    return Reached(cheap.x, cheap.dropped, Outcome("cheapest", unpriced=cheap.unpriced))
