"""Interpolation that keeps to the trend of its points, for solubility tables."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from core.chemistry.concentrates.floats import Floats


def interpolate(x: float, points: Sequence[float], values: Sequence[float]) -> float:
    """Value at x by a piecewise cubic that is monotone where the points are; held at the ends.

    x : float in the unit of points; points : ascending; values : any one unit.
    Source: Fritsch & Butland 1984, SIAM J. Sci. Stat. Comput. 5, 300.
    """
    at, value = np.array(points, dtype=float), np.array(values, dtype=float)
    if x <= at[0] or x >= at[-1]:
        return float(value[0] if x <= at[0] else value[-1])
    slope = _slopes(at, value)
    k = int(np.searchsorted(at, x, side="right")) - 1
    width = at[k + 1] - at[k]
    t = (x - at[k]) / width
    rising = t * t * (3.0 - 2.0 * t)
    bent = width * t * (1.0 - t) * ((1.0 - t) * slope[k] - t * slope[k + 1])
    return float(value[k] + (value[k + 1] - value[k]) * rising + bent)


def _slopes(at: Floats, value: Floats) -> Floats:
    """Slopes at the points: weighted harmonic means inside, one-sided three-point slopes at the ends."""
    width = np.diff(at)
    secant = np.diff(value) / width
    left, right = secant[:-1], secant[1:]
    w_left, w_right = 2.0 * width[1:] + width[:-1], width[1:] + 2.0 * width[:-1]
    with np.errstate(divide="ignore", invalid="ignore"):
        mean = (w_left + w_right) / (w_left / left + w_right / right)
    inside = np.where(left * right > 0.0, mean, 0.0)
    return np.concatenate(([_end(width, secant)], inside, [_end(width[::-1], secant[::-1])]))


def _end(width: Floats, secant: Floats) -> float:
    slope = float(((2.0 * width[0] + width[1]) * secant[0] - width[0] * secant[1]) / (width[0] + width[1]))
    if slope * secant[0] <= 0.0:
        return 0.0
    if secant[0] * secant[1] < 0.0 and abs(slope) > 3.0 * abs(secant[0]):
        return 3.0 * float(secant[0])
    return slope
