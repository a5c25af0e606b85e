"""Interpolates a table smoothly without overshooting it.

Source: Fritsch & Carlson 1980, SIAM J. Numer. Anal. 17:238, with the slopes of Fritsch & Butland 1984, SIAM J. Sci.
Stat. Comput. 5:300: a cubic between each two points that keeps the table's rises and falls. Plain Python, so that
reading the catalog loads no scipy.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence


def interpolate(x: float, xs: Sequence[float], ys: Sequence[float]) -> float:
    """Return the monotone cubic through (xs, ys) at x.

    xs, ys : (n,) the table, xs rising, n >= 2. Raises ValueError for an x outside the table.
    """
    if not xs[0] <= x <= xs[-1]:
        raise ValueError(f"{x:g} is outside the table from {xs[0]:g} to {xs[-1]:g}")
    k = min(bisect_right(xs, x), len(xs) - 1) - 1
    step = xs[k + 1] - xs[k]
    t = (x - xs[k]) / step
    slopes = _slope(k, xs, ys) * step, _slope(k + 1, xs, ys) * step
    rise = ys[k + 1] - ys[k]
    return ys[k] + t * (slopes[0] + t * (3 * rise - 2 * slopes[0] - slopes[1] + t * (slopes[0] + slopes[1] - 2 * rise)))


def _slope(k: int, xs: Sequence[float], ys: Sequence[float]) -> float:
    """Return the slope at point k: a weighted harmonic mean of its neighbours' slopes, 0 at a turning point."""
    last = len(xs) - 1
    if last == 1:
        return _secant(0, xs, ys)
    if k in (0, last):
        return _end_slope(0 if k == 0 else last - 1, 1 if k == 0 else last - 2, xs, ys)
    before, after = _secant(k - 1, xs, ys), _secant(k, xs, ys)
    if before * after <= 0:
        return 0.0
    left, right = xs[k] - xs[k - 1], xs[k + 1] - xs[k]
    weights = 2 * right + left, right + 2 * left
    return (weights[0] + weights[1]) / (weights[0] / before + weights[1] / after)


def _end_slope(near: int, far: int, xs: Sequence[float], ys: Sequence[float]) -> float:
    """Return the slope at an end of the table from its first two intervals, held to the shape of the first."""
    first, second = _secant(near, xs, ys), _secant(far, xs, ys)
    h0, h1 = xs[near + 1] - xs[near], xs[far + 1] - xs[far]
    slope = ((2 * h0 + h1) * first - h0 * second) / (h0 + h1)
    if slope * first <= 0:
        return 0.0
    if first * second < 0 and abs(slope) > 3 * abs(first):
        return 3 * first
    return slope


def _secant(k: int, xs: Sequence[float], ys: Sequence[float]) -> float:
    """Return the mean slope from point k to the next."""
    return (ys[k + 1] - ys[k]) / (xs[k + 1] - xs[k])
