"""How strong a concentrate may be: the dilution ratio at which its first solid saturates."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.chemistry.concentrates.assess import LEAST_WATER_KG_PER_L, MOST_STRENGTH_MOL_PER_KG, checked, look
from core.chemistry.concentrates.filling import CHARGES, fill
from core.chemistry.concentrates.floats import Floats
from core.chemistry.concentrates.forms import Forms, share_out
from core.chemistry.concentrates.solids import Reference, reference, solids

INJECTOR_RATIOS = (10, 16, 20, 25, 32, 40, 50, 64, 80, 100, 125, 128, 150, 200, 250, 300, 400, 500, 800, 1000)
"""Dilution ratios fertigation injectors are commonly built or marked for."""

_CLOSE_ENOUGH = 2e-3
_MAX_ROUNDS = 14
_LARGEST_STEP = 0.5
_FIRST_SLOPES = (2.0, 2.8)
_SLOPES = (0.6, 8.0)
"""A salt of n ions rises by about n with log10 of the strength; outside this a secant is not believed."""


@dataclass(frozen=True, eq=False)
class StrengthLimit:
    """Ratios at which tanks reach a line; arrays are (n_temperatures, n_tanks).

    Attributes
    ----------
    saturated_ratio : first solid saturated by Pitzer (phosphates at +0.3); inf where none is before the model ends
    limited_by : per temperature and tank that solid, or None
    clear_ratio : largest ratio that is still "clear", where the concentration product agrees; inf as above
    clear_limited_by : per temperature and tank the solid that ends it, or None
    model_ends_at : ratio of 15 mol/kg ionic strength, beyond which nothing is said
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
    start_ratio: float = 100.0,
) -> StrengthLimit:
    """Find the strength limits of tanks by a secant on the logarithm of the ratio.

    contents_per_ratio_mol_per_l : (n_components, n_tanks) ndarray, what a litre of tank holds at ratio 1, that is what
    it brings to a litre of finished feed [mol/L]; temperatures_c [degC]; fill_water_mol_per_l : (n_components,)
    ndarray [mol/L] that every tank holds whatever its ratio; start_ratio : where to begin, the tank's own is best.
    Raises ValueError as `assess` does. Limits are met within 0.3 % of the ratio.
    """
    contents = checked(contents_per_ratio_mol_per_l)
    water = np.zeros(len(contents)) if fill_water_mol_per_l is None else fill_water_mol_per_l
    at = reference(tuple(map(float, temperatures_c)))
    search = _Search(contents, checked(water[:, None]), at)
    ratio, solid = search.run(start_ratio)
    n_tanks = contents.shape[1]
    names = tuple(tuple(None if k < 0 else solids()[k].id for k in row) for row in solid.tolist())
    return StrengthLimit(
        saturated_ratio=ratio[:, :n_tanks],
        limited_by=tuple(row[:n_tanks] for row in names),
        clear_ratio=ratio[:, n_tanks:],
        clear_limited_by=tuple(row[n_tanks:] for row in names),
        model_ends_at=np.broadcast_to(10.0 ** search.end[:n_tanks], ratio[:, :n_tanks].shape),
    )


class _Search:
    """Columns of tanks, the first half after Pitzer's line, the second half after the line of "clear"."""

    def __init__(self, contents: Floats, water: Floats, at: Reference) -> None:
        self.contents, self.water, self.at = np.concatenate((contents, contents), axis=1), water, at
        self.end = np.tile(np.log10(_model_ends_at(contents, water)), 2)

    def run(self, start_ratio: float) -> tuple[Floats, np.ndarray[tuple[int, ...], np.dtype[np.intp]]]:
        """Ratios and places of the solids, (n_temperatures, n_columns) each; inf and -1 where nothing saturates."""
        shape = (len(self.at.ln_product), self.contents.shape[1])
        x = np.minimum(np.full(shape, np.log10(start_ratio)), self.end)
        y, solid = self.excess(x)
        slope = np.where(np.arange(shape[1]) < shape[1] // 2, *_FIRST_SLOPES) * np.ones(shape)
        for _ in range(_MAX_ROUNDS):
            step = np.clip(-y / slope, -_LARGEST_STEP, _LARGEST_STEP)
            there = np.minimum(x + step, self.end)
            if (self.found(x, y) | (there == x)).all():
                break
            y_there, solid = self.excess(there)
            moved = there - x
            secant = np.divide(y_there - y, moved, out=slope.copy(), where=np.abs(moved) > 1e-9)
            slope = np.clip(secant, *_SLOPES)
            x, y = there, y_there
        free = y < -_CLOSE_ENOUGH
        return np.where(free, np.inf, 10.0**x), np.where(free, -1, solid)

    def found(self, x: Floats, y: Floats) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
        """Columns on their line, or below it at the end of the model."""
        return (np.abs(y) <= _CLOSE_ENOUGH) | ((x >= self.end) & (y < 0.0))

    def excess(self, x: Floats) -> tuple[Floats, np.ndarray[tuple[int, ...], np.dtype[np.intp]]]:
        """Excess of the worst solid [log10], and its place, at log10 ratios x (n_temperatures, n_columns)."""
        totals = self.water[:, :, None] + self.contents[:, None, :] * 10.0**x
        flat = totals.reshape(len(totals), -1)
        kg_per_l = np.maximum(fill(flat).water_kg_per_l, LEAST_WATER_KG_PER_L)
        judged = look(_by_temperature(share_out(flat / kg_per_l), x.shape), self.at).judged
        half = x.shape[1] // 2
        excess = np.concatenate((judged.beyond[:, :, :half], judged.excess[:, :, half:]), axis=2)
        solid = excess.argmax(axis=1)
        return np.take_along_axis(excess, solid[:, None], axis=1)[:, 0], solid


def _by_temperature(tank: Forms, shape: tuple[int, ...]) -> Forms:
    molality = np.moveaxis(tank.molality.reshape(-1, *shape), 1, 0)
    rest = (part.reshape(shape) for part in (tank.acid, tank.carbon, tank.citrate, tank.silicon))
    return Forms(np.ascontiguousarray(molality), *rest)


def _model_ends_at(contents: Floats, water: Floats) -> Floats:
    """(n_tanks,) ratios of 15 mol/kg ionic strength or of too little water, found within 0.5 % by two grids."""
    ratio = 0.01 / np.maximum(contents.sum(axis=0), 1e-12)
    for widths in (np.geomspace(1.0, 3000.0, 60), np.geomspace(1.0, 3000.0 ** (1.0 / 59.0), 30)):
        tried = widths[:, None] * ratio
        flat = (water[:, :, None] + contents[:, None, :] * tried).reshape(len(contents), -1)
        kg_per_l = fill(flat).water_kg_per_l
        strength = 0.5 * (CHARGES**2 @ flat) / np.maximum(kg_per_l, LEAST_WATER_KG_PER_L)
        within = (kg_per_l >= LEAST_WATER_KG_PER_L) & (strength <= MOST_STRENGTH_MOL_PER_KG)
        last = np.maximum(within.reshape(tried.shape).sum(axis=0) - 1, 0)
        ratio = tried[last, np.arange(len(last))]
    end: Floats = ratio
    return end
