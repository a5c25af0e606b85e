"""How strong a concentrate may be: the dilution ratio at which its first solid saturates."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from core.chemistry.concentrates.assess import LEAST_WATER_KG_PER_L, MOST_STRENGTH_MOL_PER_KG, checked, look
from core.chemistry.concentrates.filling import CHARGES, fill
from core.chemistry.concentrates.floats import Floats
from core.chemistry.concentrates.forms import Forms, share_out
from core.chemistry.concentrates.solids import Reference, reference, solids

Places: TypeAlias = NDArray[np.intp]

INJECTOR_RATIOS = (10, 16, 20, 25, 32, 40, 50, 64, 80, 100, 125, 128, 150, 200, 250, 300, 400, 500, 800, 1000)
"""Dilution ratios fertigation injectors are commonly built or marked for."""

_STEPS = 24
_SPAN = 600.0
"""A first look at 24 ratios over a range of 600, up to where the model ends: 1.32 apart."""
_APART = 1e-4
"""Points of a parabola nearer than this are one [log10]."""


@dataclass(frozen=True, eq=False)
class StrengthLimit:
    """Ratios at which tanks reach a line; arrays are (n_temperatures, n_tanks).

    Attributes
    ----------
    saturated_ratio : first solid saturated by Pitzer (phosphates at +0.3); inf where none is before the model ends
    limited_by : per temperature and tank that solid, or None
    clear_ratio : largest ratio that is still "clear", where the concentration product agrees; inf as above
    clear_limited_by : per temperature and tank the solid that ends it, or None
    model_ends_at : (n_tanks,) ratio of 15 mol/kg ionic strength, beyond which nothing is said
    """

    saturated_ratio: Floats
    limited_by: tuple[tuple[str | None, ...], ...]
    clear_ratio: Floats
    clear_limited_by: tuple[tuple[str | None, ...], ...]
    model_ends_at: Floats


def injector_step(ratio: float) -> int | None:
    """Next real injector ratio at or below this one, None below the smallest."""
    place = bisect_right(INJECTOR_RATIOS, ratio)
    return INJECTOR_RATIOS[place - 1] if place else None


def strength_limit(
    contents_per_ratio_mol_per_l: Floats,
    temperatures_c: Sequence[float],
    fill_water_mol_per_l: Floats | None = None,
) -> StrengthLimit:
    """Find the strength limits of tanks: look along a grid of ratios, then close in on the logarithm.

    contents_per_ratio_mol_per_l : (n_components, n_tanks) ndarray, what a litre of tank holds at ratio 1, that is what
    it brings to a litre of finished feed [mol/L]; temperatures_c [degC]; fill_water_mol_per_l : (n_components,)
    ndarray [mol/L] that every tank holds whatever its ratio.
    Raises ValueError as `assess` does. A limit is where a line is first crossed, met within 0.3 % of the ratio;
    below 1/600 of `model_ends_at` only roughly.
    """
    contents = checked(contents_per_ratio_mol_per_l)
    water = np.zeros(len(contents)) if fill_water_mol_per_l is None else fill_water_mol_per_l
    search = _Range(contents, checked(water[:, None]), reference(tuple(map(float, temperatures_c))))
    saturated, by_product = search.crossings()
    clear = saturated.first(by_product)
    return StrengthLimit(
        saturated_ratio=saturated.ratio,
        limited_by=saturated.names(),
        clear_ratio=clear.ratio,
        clear_limited_by=clear.names(),
        model_ends_at=search.end,
    )


class _Crossing(NamedTuple):
    """Where a line is crossed and by which solid, (n_temperatures, n_tanks); inf and -1 where it is not."""

    ratio: Floats
    solid: Places

    def first(self, other: _Crossing) -> _Crossing:
        """The lower of this and another."""
        return _Crossing(
            np.minimum(self.ratio, other.ratio), np.where(self.ratio <= other.ratio, self.solid, other.solid)
        )

    def names(self) -> tuple[tuple[str | None, ...], ...]:
        return tuple(tuple(None if k < 0 else solids()[k].id for k in row) for row in self.solid.tolist())


class _Range:
    """The ratios of some tanks from nearly nothing to the end of the model."""

    def __init__(self, contents: Floats, water: Floats, at: Reference) -> None:
        self.contents, self.water, self.at = contents, water, at
        self.end = _model_ends_at(contents, water)

    def crossings(self) -> tuple[_Crossing, _Crossing]:
        """First crossings by Pitzer and by the concentration product."""
        n_tanks, n_temperatures = self.contents.shape[1], len(self.at.ln_product)
        grid = np.log10(self.end) - np.linspace(np.log10(_SPAN), 0.0, _STEPS)[:, None]
        everywhere = np.broadcast_to(grid.reshape(1, -1), (n_temperatures, grid.size))
        steps = (n_temperatures, len(solids()), _STEPS, n_tanks)
        first = [_first_bracket(grid, excess.reshape(steps)) for excess in self.excess(everywhere)]
        x = np.concatenate([bracket.x.min(axis=1) for bracket in first], axis=1)
        by_pitzer, by_product = self.split(self.excess(x))
        return _close_in(first[0], x[:, :n_tanks], by_pitzer), _close_in(first[1], x[:, n_tanks:], by_product)

    def split(self, excess: tuple[Floats, Floats]) -> tuple[Floats, Floats]:
        """Of the excesses at both models' crossings, each model's own."""
        n_tanks = self.contents.shape[1]
        return excess[0][:, :, :n_tanks], excess[1][:, :, n_tanks:]

    def excess(self, x: Floats) -> tuple[Floats, Floats]:
        """Excess by both models [log10] at log10 ratios x (n_temperatures, k n_tanks): (.., n_solids, k n_tanks)."""
        contents = np.tile(self.contents, x.shape[1] // self.contents.shape[1])
        flat = (self.water[:, :, None] + contents[:, None, :] * 10.0**x).reshape(len(contents), -1)
        kg_per_l = np.maximum(fill(flat).water_kg_per_l, LEAST_WATER_KG_PER_L)
        judged = look(_by_temperature(share_out(flat / kg_per_l), x.shape), self.at, np.inf).judged
        return judged.by_pitzer, judged.by_product


class _Bracket(NamedTuple):
    """Between which points of the grid each solid crosses a line, each (n_temperatures, n_solids, n_tanks).

    x_low, x_high : log10 ratios; y_low, y_high : the excess there; x : where the chord crosses, x_high where none does.
    """

    x_low: Floats
    x_high: Floats
    y_low: Floats
    y_high: Floats
    x: Floats


def _first_bracket(grid: Floats, excess: Floats) -> _Bracket:
    """Where on the grid (n_steps, n_tanks) the excess (n_temperatures, n_solids, n_steps, n_tanks) gets above 0."""
    above = excess > 0.0
    first = np.clip(np.where(above.max(axis=2), above.argmax(axis=2), _STEPS - 1), 1, None)[:, :, None]
    y_low, y_high = (np.take_along_axis(excess, first - k, axis=2)[:, :, 0] for k in (1, 0))
    x_low, x_high = (np.take_along_axis(grid[None, None], first - k, axis=2)[:, :, 0] for k in (1, 0))
    share = np.clip(y_high / np.maximum(y_high - y_low, 1e-9), 0.0, 10.0)
    return _Bracket(x_low, x_high, y_low, y_high, x_high - share * (x_high - x_low))


def _close_in(bracket: _Bracket, x: Floats, excess: Floats) -> _Crossing:
    """Crossings by the parabola x(y) through each solid's bracket and its excess at x (n_temperatures, n_tanks)."""
    a, b, c = bracket.y_low, excess, bracket.y_high
    inside = (a < b - _APART) & (b < c - _APART)
    x_a, x_b, x_c = bracket.x_low, x[:, None], bracket.x_high
    a, b, c = (np.where(inside, y, other) for y, other in zip((a, b, c), (-1.0, 0.0, 1.0), strict=True))
    parabola = x_a * b * c / ((a - b) * (a - c)) + x_b * a * c / ((b - a) * (b - c)) + x_c * a * b / ((c - a) * (c - b))
    along = np.where(bracket.y_high > 0.0, np.where(inside, parabola, bracket.x), np.inf)
    first, solid = along.min(axis=1), along.argmin(axis=1)
    return _Crossing(10.0**first, np.where(np.isfinite(first), solid, -1))


def _by_temperature(tank: Forms, shape: tuple[int, ...]) -> Forms:
    molality = np.moveaxis(tank.molality.reshape(-1, *shape), 1, 0)
    rest = (part.reshape(shape) for part in (tank.acid, tank.carbon, tank.citrate, tank.silicon))
    return Forms(np.ascontiguousarray(molality), *rest)


def _model_ends_at(contents: Floats, water: Floats) -> Floats:
    """(n_tanks,) ratios of 15 mol/kg ionic strength or of too little water, within 1 % by interpolation on a grid."""
    ratio = np.geomspace(0.01, 30.0, 80)[:, None] / np.maximum(contents.sum(axis=0), 1e-12)
    flat = (water[:, :, None] + contents[:, None, :] * ratio).reshape(len(contents), -1)
    kg_per_l = fill(flat).water_kg_per_l
    strength = 0.5 * (CHARGES**2 @ flat) / np.maximum(kg_per_l, LEAST_WATER_KG_PER_L)
    full = np.maximum(strength / MOST_STRENGTH_MOL_PER_KG, np.log(kg_per_l.clip(1e-9)) / np.log(LEAST_WATER_KG_PER_L))
    full = np.maximum(full.reshape(ratio.shape), 1e-12)
    last = (full <= 1.0).sum(axis=0).clip(1, len(ratio) - 1)
    tank = np.arange(len(last))
    step = np.log(full[last, tank] / full[last - 1, tank])
    share = np.clip(-np.log(full[last - 1, tank]) / np.maximum(step, 1e-12), 0.0, 1.0)
    end: Floats = ratio[last - 1, tank] * (ratio[1, 0] / ratio[0, 0]) ** share
    return end
