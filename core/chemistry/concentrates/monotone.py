"""Interpolation that keeps to the trend of its points, for solubility tables."""

from __future__ import annotations

from bisect import bisect_right
from functools import lru_cache


def interpolate(x: float, points: tuple[float, ...], values: tuple[float, ...]) -> float:
    """Value at x by a piecewise cubic that is monotone where the points are; held at the ends.

    x : float in the unit of points; points : ascending, at least three; values : any one unit.
    Source: Fritsch & Butland 1984, SIAM J. Sci. Stat. Comput. 5, 300.
    """
    if x <= points[0] or x >= points[-1]:
        return values[0] if x <= points[0] else values[-1]
    slopes = _slopes(points, values)
    k = bisect_right(points, x) - 1
    width = points[k + 1] - points[k]
    t = (x - points[k]) / width
    bent = width * t * (1.0 - t) * ((1.0 - t) * slopes[k] - t * slopes[k + 1])
    return values[k] + (values[k + 1] - values[k]) * t * t * (3.0 - 2.0 * t) + bent


@lru_cache(maxsize=64)
def _slopes(points: tuple[float, ...], values: tuple[float, ...]) -> tuple[float, ...]:
    """Slopes at the points: weighted harmonic means inside, one-sided three-point slopes at the ends."""
    width = [b - a for a, b in zip(points, points[1:], strict=False)]
    secant = [(b - a) / w for a, b, w in zip(values, values[1:], width, strict=False)]
    inside = [_inner(*width[k : k + 2], *secant[k : k + 2]) for k in range(len(width) - 1)]
    return (_end(*width[:2], *secant[:2]), *inside, _end(*width[:-3:-1], *secant[:-3:-1]))


def _inner(width_left: float, width_right: float, left: float, right: float) -> float:
    if left * right <= 0.0:
        return 0.0
    heavy_left, heavy_right = 2.0 * width_right + width_left, width_right + 2.0 * width_left
    return (heavy_left + heavy_right) / (heavy_left / left + heavy_right / right)


def _end(width: float, next_width: float, secant: float, next_secant: float) -> float:
    slope = ((2.0 * width + next_width) * secant - width * next_secant) / (width + next_width)
    if slope * secant <= 0.0:
        return 0.0
    if secant * next_secant < 0.0 and abs(slope) > 3.0 * abs(secant):
        return 3.0 * secant
    return slope
