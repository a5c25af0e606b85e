"""A batch on the bench as numbers: what is in, what is still to come, the ranges, and a repair."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from core.blend.nutrients import Array

WEIGH_COST, ADD_COST, FILL_COST = 1.0, 1.25, 3.0
"""What another weight, more of what is in already and filling up count against each other (own choice)."""

MOST_LARGER = 2.0
"""A tank is filled to at most this many times what it holds now (this program's own choice)."""

MOST_TIMES = 3.0
"""A weight is changed to at most this many times what was planned (this program's own choice)."""

ROUND_OFF = 1e-4
"""Relative distance from a bound that still counts as on it, as for the rows of a plan."""

FREE_STEP_DIGITS = 3
"""Without a scale a new weight is told to about four digits."""


@dataclass(frozen=True, eq=False)
class Filling:
    """One product of one tank.

    Attributes
    ----------
    planned_g : what was planned [g], over 0
    weighed_g : what is in the tank already [g]; None while it is still to be weighed
    asked_g : what is to be in the tank in the end, as things stand [g]
    step_g : the scale's step [g], None where no scale is known
    brings_mg_per_l : (n_nutrients,) what the planned weight brings to the feed [mg/L]
    movable : False where the weight cannot be told on the scale, as from a trace bottle
    """

    tank: str
    entry_id: str
    planned_g: float
    weighed_g: float | None
    asked_g: float
    step_g: float | None
    brings_mg_per_l: Array
    movable: bool = True


@dataclass(frozen=True, eq=False)
class Wanted:
    """Ranges of the feed, (n_nutrients,) each [mg/L]; minus and plus infinity where nothing is asked."""

    low_mg_per_l: Array
    high_mg_per_l: Array

    def miss(self, feed_mg_per_l: Array) -> Array:
        """Return how far outside its range each nutrient is, as a share of the bound it misses; 0 within."""
        below = _share(self.low_mg_per_l - feed_mg_per_l, self.low_mg_per_l)
        above = _share(feed_mg_per_l - self.high_mg_per_l, self.high_mg_per_l)
        off = np.maximum(np.maximum(below, above), 0.0)
        return np.where(off > ROUND_OFF, off, 0.0)


@dataclass(frozen=True)
class NewWeight:
    """A weight to change: what shall be in the tank in the end [g], and what is to be added to what is in [g]."""

    tank: str
    entry_id: str
    grams: float
    added_g: float | None


@dataclass(frozen=True)
class NewVolume:
    """A tank to fill further [L]."""

    tank: str
    litres: float


@dataclass(frozen=True)
class Repair:
    """What to do.

    Attributes
    ----------
    worst : row of the nutrient that is furthest out
    weights, volumes : the changes; none of either where nothing helps
    mended : True where every nutrient is back in its range
    """

    worst: int
    weights: tuple[NewWeight, ...]
    volumes: tuple[NewVolume, ...]
    mended: bool


@dataclass(frozen=True, eq=False)
class Bench:
    """The batch as it stands.

    Attributes
    ----------
    fillings : every product of every tank
    planned_l, filled_l : tank -> volume planned, and to be filled as things stand [L]
    base_mg_per_l : (n_nutrients,) what else is in the feed: water, and acid put there [mg/L]
    """

    fillings: tuple[Filling, ...]
    planned_l: Mapping[str, float]
    filled_l: Mapping[str, float]
    base_mg_per_l: Array

    def per_gram(self) -> Array:
        """Return what a gram of each filling brings to the feed, (n_fillings, n_nutrients) [mg/L per g]."""
        rows = [f.brings_mg_per_l / f.planned_g * self.planned_l[f.tank] / self.filled_l[f.tank] for f in self.fillings]
        return np.array(rows).reshape(len(rows), len(self.base_mg_per_l))

    def feed_mg_per_l(self) -> Array:
        """Return the feed as things stand, (n_nutrients,) [mg/L]."""
        grams = np.array([filling.asked_g for filling in self.fillings])
        total: Array = self.base_mg_per_l + grams @ self.per_gram()
        return total

    def planned(self) -> Bench:
        """Return the batch as it was planned."""
        fillings = tuple(replace(filling, asked_g=filling.planned_g) for filling in self.fillings)
        return replace(self, fillings=fillings, filled_l=self.planned_l)

    def after(self, repair: Repair) -> Bench:
        """Return the batch after a repair."""
        grams = {(new.tank, new.entry_id): new.grams for new in repair.weights}
        fillings = tuple(replace(f, asked_g=grams.get((f.tank, f.entry_id), f.asked_g)) for f in self.fillings)
        return replace(
            self, fillings=fillings, filled_l={**self.filled_l, **{v.tank: v.litres for v in repair.volumes}}
        )


def step_of(filling: Filling) -> float:
    """Return the step new weights are told in [g]: the scale's, or without one about four digits."""
    if filling.step_g is not None:
        return filling.step_g
    return float(10.0 ** (math.floor(math.log10(filling.planned_g)) - FREE_STEP_DIGITS))


def _share(part: Array, whole: Array) -> Array:
    """Part over whole, 0 where the whole is infinite, and plus infinity for anything over a bound of nothing."""
    finite = np.isfinite(whole) & (whole != 0.0)
    shares = np.divide(part, np.abs(whole), out=np.zeros_like(part), where=finite)
    return np.where((whole == 0.0) & (part > 1e-9), math.inf, shares)
