"""Where solids cross their lines as a tank is made stronger, from a few ratios looked at."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from core.chemistry.concentrates.floats import Floats

Places: TypeAlias = NDArray[np.intp]

_APART = 1e-4
"""Points of a curve nearer than this are one [log10]."""
_SURE = 2e-4
"""A crossing is sure where curves of second and third degree agree on its log10 ratio to this, 0.05 % of the ratio."""
_FINER = 9
"""Points looked at within a step of the grid where they do not."""


class Lines(NamedTuple):
    """How far solids are over their lines along ratios.

    x : (n_tanks, n_steps) log10 ratios, rising; excess : (n_temperatures, 2 n_solids, n_tanks, n_steps) [log10], first
    of every solid by Pitzer, then of every solid by the concentration product: the worse of the two may have a kink.
    """

    x: Floats
    excess: Floats

    def then(self, more: Lines) -> Lines:
        """These and those above them."""
        return Lines(np.concatenate((self.x, more.x), axis=-1), np.concatenate((self.excess, more.excess), axis=-1))


class Crossings(NamedTuple):
    """Ratios where a tank's first solid crosses, and which: by Pitzer alone, and by the worse of both models.

    ratio, solid : (2, n_temperatures, n_tanks), inf and -1 where none does; each : (n_temperatures, n_solids, n_tanks)
    the ratios where each solid crosses by Pitzer.
    """

    ratio: Floats
    solid: Places
    each: Floats


class _Found(NamedTuple):
    """log10 ratios of crossings, inf where there is none, and whether they can be relied on."""

    x: Floats
    sure: NDArray[np.bool_]


def crossings(lines: Lines, start: int, look: Callable[[Floats], Floats]) -> Crossings:
    """Find the crossings nearest to a step of the lines: above it where a tank is clear there, else below it.

    start : the step, 0 where every tank is clear there or the first crossing is asked for; look : excess as in `Lines`
    at other log10 ratios (n_tanks, n_steps).
    """
    n_solids = lines.excess.shape[1] // 2
    each = _interpolated(lines, *_steps(lines.excess, start))
    told = [_first_of(lines, each, start, count, look) for count in (n_solids, 2 * n_solids)]
    ratio, line = (np.array(parts) for parts in zip(*told, strict=True))
    solid = np.where(np.isfinite(ratio), line % n_solids, -1)
    return Crossings(10.0**ratio, solid, 10.0 ** each.x[:, :n_solids])


def _first_of(
    lines: Lines, each: _Found, start: int, count: int, look: Callable[[Floats], Floats]
) -> tuple[Floats, Places]:
    """Where the worst of the first so many lines is crossed [log10 ratio], and which line that is."""
    some, at, sure = Lines(lines.x, lines.excess[:, :count]), each.x[:, :count], each.sure[:, :count]
    if start:
        at, sure = _below(some, start)
    line = at.argmin(axis=1)
    row, tank = np.arange(len(at))[:, None], np.arange(at.shape[2])
    first, doubtful = at[row, line, tank], ~sure[row, line, tank]
    doubtful &= first < np.inf
    if doubtful.any():
        worst, _ = _steps(some.excess.max(axis=1), start)
        for place in np.flatnonzero(doubtful.any(axis=1)).tolist():
            finer, which = _finer(lines.x, worst[place], look, place, count)
            chosen = doubtful[place] & np.isfinite(finer)
            first[place], line[place] = np.where(chosen, (finer, which), (first[place], line[place]))
    return first, line


def _below(lines: Lines, start: int) -> _Found:
    """As `_interpolated`, but every line of a tank within the step in which the worst of them crosses."""
    worst, found = _steps(lines.excess.max(axis=1), start)
    step = np.broadcast_to(worst[:, None], lines.excess.shape[:-1])
    crosses = np.take_along_axis(lines.excess, step[..., None], axis=-1)[..., 0] > 0.0
    return _interpolated(lines, step, crosses & found[:, None])


def _steps(excess: Floats, start: int) -> tuple[Places, NDArray[np.bool_]]:
    """The step at whose end each line is crossed, (..., n_tanks), and whether it is."""
    above: NDArray[np.bool_] = excess > 0.0
    later = above[..., start + 1 :]
    step: Places = later.argmax(axis=-1) + start + 1
    found: NDArray[np.bool_] = np.any(later, axis=-1)
    if start:
        clear = ~above[..., start - 1 :: -1]
        below = np.where(clear.any(axis=-1), start - clear.argmax(axis=-1), 1)
        step = np.where(above[..., start], below, step)
        found = found | above[..., start]
    return step, found


def _interpolated(lines: Lines, step: Places, found: NDArray[np.bool_]) -> _Found:
    """Where lines that were found to cross do, by the cubic x(excess) around their step."""
    row, line, tank = np.nonzero(found)
    first = np.minimum(np.maximum(step[row, line, tank] - 2, 0), lines.x.shape[-1] - 4)
    points = first + np.arange(4)[:, None]
    y, x = lines.excess[row, line, tank, points], lines.x[tank, points]
    rising = (y[1:] - y[:-1] > _APART).all(axis=0)
    y = np.where(rising, y, np.arange(-1.0, 3.0)[:, None])
    pair = (y[1:] * x[:-1] - y[:-1] * x[1:]) / (y[1:] - y[:-1])
    triple = (y[2:] * pair[:-1] - y[:-2] * pair[1:]) / (y[2:] - y[:-2])
    cubic = (y[3] * triple[0] - y[0] * triple[1]) / (y[3] - y[0])
    agree = np.abs(triple - cubic).min(axis=0) <= _SURE
    at, sure = np.full(found.shape, np.inf), np.zeros(found.shape, dtype=bool)
    at[row, line, tank], sure[row, line, tank] = cubic, rising & agree & (cubic >= x[0]) & (cubic <= x[3])
    return _Found(at, sure)


def _finer(x: Floats, step: Places, look: Callable[[Floats], Floats], place: int, count: int) -> tuple[Floats, Places]:
    """The crossing of the worst of the first so many lines within each tank's step, by a chord of a grid of its own."""
    tank = np.arange(len(x))
    low, high = x[tank, step - 1], x[tank, step]
    x = low[:, None] + (high - low)[:, None] * np.linspace(0.0, 1.0, _FINER)
    y = look(x)[place, :count]
    above = (y.max(axis=0) > 0.0).argmax(axis=-1).clip(1)
    y_low, y_high = (y[:, tank, above - k] for k in (1, 0))
    share = np.clip(y_high / np.maximum(y_high - y_low, 1e-9), 0.0, 10.0)
    at = np.where(y_high > 0.0, x[tank, above] - share * (x[tank, above] - x[tank, above - 1]), np.inf)
    return at.min(axis=0), at.argmin(axis=0)
