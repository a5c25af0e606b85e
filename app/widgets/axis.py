"""The axes of every plot: round steps, and where a value lies between two ends."""

from __future__ import annotations

import math
from typing import NamedTuple

ROUND = (1.0, 2.0, 2.5, 5.0, 10.0)
"""Steps that people count in, times a power of ten."""


class Axis(NamedTuple):
    """A span of values with the values its ticks stand at."""

    low: float
    high: float
    ticks: tuple[float, ...]

    def share(self, value: float) -> float:
        """Return where along the axis a value lies, 0 to 1 between its ends."""
        return (value - self.low) / (self.high - self.low) if self.high > self.low else 0.0


def round_step(least: float) -> float:
    """Return the smallest round step that is no smaller than this one, over 0."""
    size = 10.0 ** math.floor(math.log10(least))
    return next(size * factor for factor in ROUND if size * factor >= least * (1.0 - 1e-9))


def ticks_within(low: float, high: float, at_most: float) -> tuple[float, ...]:
    """Return round values from `low` to `high`, about as many as wanted and no more."""
    step = round_step((high - low) / at_most)
    return tuple(n * step for n in range(math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9) + 1))


def axis_up_to(high: float, ticks_at_most: int) -> Axis:
    """Return an axis from 0 to a value, its ticks at round numbers."""
    return Axis(0.0, high, ticks_within(0.0, high, ticks_at_most - 1))


def axis_around(low: float, high: float, ticks: int) -> Axis:
    """Return an axis that holds both values and ends at round numbers."""
    step = round_step(max(high - low, abs(high) * 0.05, 1e-6) / max(1, ticks - 1))
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    last = max(last, first + 1)
    return Axis(first * step, last * step, tuple(n * step for n in range(first, last + 1)))
