"""How strong a concentrate may be: the dilution ratio at which its first solid saturates."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from core.chemistry.concentrates.assess import (
    LEAST_WATER_KG_PER_L,
    MOST_STRENGTH_MOL_PER_KG,
    ConcentrateState,
    Looked,
    assess,
    checked,
    look,
    look_at_parts,
    state_of,
)
from core.chemistry.concentrates.crossing import Lines, Places, crossings
from core.chemistry.concentrates.filling import CHARGES, Filling, fill
from core.chemistry.concentrates.floats import Floats
from core.chemistry.concentrates.forms import share_out
from core.chemistry.concentrates.solids import Reference, reference, solids

INJECTOR_RATIOS = (10, 16, 20, 25, 32, 40, 50, 64, 80, 100, 125, 128, 150, 200, 250, 300, 400, 500, 800, 1000)
"""Dilution ratios fertigation injectors are commonly built or marked for."""

_SPAN = 600.0
"""Ratios are looked at down to this part of where the model ends."""
_STEPS, _STEPS_UP = 24, 16
"""Ratios looked at: over the whole range, 1.32 apart; and from the ratio in use to where the model ends."""
_TOTALS = np.geomspace(0.03, 30.0, 32)[:, None]
"""Sums of totals among which 15 mol/kg of ionic strength are looked for [mol/L]."""


@dataclass(frozen=True, eq=False)
class StrengthLimit:
    """Ratios at which tanks reach a line; arrays are (n_temperatures, n_tanks) unless said otherwise.

    Attributes
    ----------
    saturated_ratio : first solid saturated by Pitzer (phosphates at +0.3); inf where none is before the model ends
    limited_by : per temperature and tank that solid, or None
    clear_ratio : largest ratio that is still "clear", where the concentration product agrees; inf as above
    clear_limited_by : per temperature and tank the solid that ends it, or None
    solid_ratio : (n_temperatures, n_solids, n_tanks) where each solid saturates by Pitzer, inf as above
    model_ends_at : (n_tanks,) ratio of 15 mol/kg ionic strength, beyond which nothing is said
    """

    saturated_ratio: Floats
    limited_by: tuple[tuple[str | None, ...], ...]
    clear_ratio: Floats
    clear_limited_by: tuple[tuple[str | None, ...], ...]
    solid_ratio: Floats
    model_ends_at: Floats


class Standing(NamedTuple):
    """Tanks at the ratio in use, and their limits at the first of the temperatures alone."""

    state: ConcentrateState
    limit: StrengthLimit


def injector_step(ratio: float) -> int | None:
    """Next real injector ratio at or below this one, None below the smallest."""
    place = bisect_right(INJECTOR_RATIOS, ratio)
    return INJECTOR_RATIOS[place - 1] if place else None


def strength_limit(
    contents_per_ratio_mol_per_l: Floats,
    temperatures_c: Sequence[float],
    fill_water_mol_per_l: Floats | None = None,
) -> StrengthLimit:
    """Find where tanks made stronger and stronger first reach a line.

    contents_per_ratio_mol_per_l : (n_components, n_tanks) ndarray, what a litre of tank holds at ratio 1, that is what
    it brings to a litre of finished feed [mol/L]; temperatures_c [degC]; fill_water_mol_per_l : (n_components,)
    ndarray [mol/L] that every tank holds whatever its ratio.
    Raises ValueError as `assess` does. Met within 0.3 % of the ratio, of 3450 random tanks once within 0.8 %; below
    1/600 of `model_ends_at` only roughly.
    """
    tanks = _Tanks(contents_per_ratio_mol_per_l, temperatures_c, fill_water_mol_per_l)
    grid = tanks.grid(np.log10(tanks.end / _SPAN), _STEPS)
    return tanks.limit(tanks.lines(grid, tanks.look(grid)), 0)


def stand(
    contents_per_ratio_mol_per_l: Floats,
    ratio: float,
    temperatures_c: Sequence[float],
    fill_water_mol_per_l: Floats | None = None,
) -> Standing:
    """Judge tanks at the ratio in use and find their limits at the first temperature, looking as seldom as can be.

    The limit told is the first one above the ratio in use where the tank is clear there, else the largest ratio below
    that is clear: beside alkaline fill water a very weak tank may cloud, which is no reason to call a strong one bad.
    Where no weaker one is clear, the limit lies below 1/600 of `model_ends_at` and is told only roughly.
    Arguments as `strength_limit`; ratio : float, over 0 [-].
    """
    tanks = _Tanks(contents_per_ratio_mol_per_l, temperatures_c, fill_water_mol_per_l)
    grid = tanks.grid(np.full(len(tanks.end), np.log10(ratio)), _STEPS_UP)
    flat, filling = tanks.filled(grid)
    return tanks.standing(grid, flat, filling, tanks.look_at(flat, filling, reference(tanks.temperatures_c)))


def stand_beside(
    others_mol_per_l: Floats,
    contents_per_ratio_mol_per_l: Floats,
    ratio: float,
    temperatures_c: Sequence[float],
    fill_water_mol_per_l: Floats | None = None,
) -> tuple[ConcentrateState, Standing] | None:
    """Do what `assess` does of other tanks at the first temperature, and `stand`, in one look; half as long as two.

    others_mol_per_l : (n_components, n_others) ndarray [mol per litre of filled concentrate]; else as `stand`.
    Returns how the others stand, of which only the first temperature counts, and the Standing; None where they do not
    come to rest in equally many rounds or are too strong, so that they must be looked at one after the other.
    """
    tanks, others = (
        _Tanks(contents_per_ratio_mol_per_l, temperatures_c, fill_water_mol_per_l),
        checked(others_mol_per_l),
    )
    grid = tanks.grid(np.full(len(tanks.end), np.log10(ratio)), _STEPS_UP)
    flat, filling = tanks.filled(grid)
    every, count = np.concatenate((others, flat), axis=1), others.shape[1]
    ahead = fill(others)
    water = np.maximum(np.concatenate((ahead.water_kg_per_l, filling.water_kg_per_l)), LEAST_WATER_KG_PER_L)
    first, rest = slice(count), slice(count, None)
    parts = ((slice(1), first), (slice(None), rest))
    looked = look_at_parts(share_out(every / water), reference(tanks.temperatures_c), np.inf, parts)
    if looked is None or looked.rest.ionic_strength[0, first].max() > MOST_STRENGTH_MOL_PER_KG:
        return None
    state = state_of(looked.at(first), tanks.temperatures_c, *ahead)
    return state, tanks.standing(grid, flat, filling, looked.at(rest))


class _Tanks:
    """Some tanks whose ratio may change."""

    def __init__(self, contents: Floats, temperatures_c: Sequence[float], water: Floats | None) -> None:
        self.contents = checked(contents)
        self.water = checked(np.zeros((len(contents), 1)) if water is None else water[:, None])
        self.temperatures_c = tuple(map(float, temperatures_c))
        self.end = _model_ends_at(self.contents, self.water)

    def grid(self, low: Floats, steps: int, high: Floats | None = None) -> Floats:
        """log10 ratios from low to where the model ends, (n_tanks, steps)."""
        top = np.log10(self.end) if high is None else high
        grid: Floats = low[:, None] + np.maximum(top - low, 0.0)[:, None] * np.linspace(0.0, 1.0, steps)
        return grid

    def look(self, x: Floats, rows: int | None = None) -> Looked:
        """The tanks at log10 ratios x (n_tanks, steps), flat, at the first so many temperatures."""
        return self.look_at(*self.filled(x), reference(self.temperatures_c[:rows]))

    def filled(self, x: Floats) -> tuple[Floats, Filling]:
        """Contents and water of the tanks at log10 ratios x, flat."""
        flat = (self.water[:, :, None] + self.contents[:, :, None] * 10.0**x).reshape(len(self.contents), -1)
        return flat, fill(flat)

    @staticmethod
    def look_at(flat: Floats, filling: Filling, at: Reference) -> Looked:
        """Filled tanks, whatever their ionic strength."""
        water = np.maximum(filling.water_kg_per_l, LEAST_WATER_KG_PER_L)
        return look(share_out(flat / water), at, np.inf)

    def standing(self, x: Floats, flat: Floats, filling: Filling, looked: Looked) -> Standing:
        """How the tanks stand at the first of log10 ratios x (n_tanks, steps) rising from it, and their limits."""
        lines, start = self.lines(x, looked, rows=1), 0
        if (lines.excess[..., 0] > 0.0).any():
            start, end = _STEPS, np.log10(self.end)
            weaker = self.grid(np.log10(self.end / _SPAN), start + 1, np.minimum(x[:, 0], end))[:, :-1]
            lines = self.lines(weaker, self.look(weaker, 1)).then(lines)
        return Standing(self._state(flat, filling, looked, slice(None, None, x.shape[1])), self.limit(lines, start))

    def _state(self, flat: Floats, filling: Filling, looked: Looked, some: slice) -> ConcentrateState:
        now = looked.at(some)
        if now.rest.ionic_strength.max() > MOST_STRENGTH_MOL_PER_KG:
            return assess(flat[:, some], self.temperatures_c)
        return state_of(now, self.temperatures_c, *(part[some] for part in filling))

    def lines(self, x: Floats, looked: Looked, rows: int | None = None) -> Lines:
        """How far over their lines solids are at log10 ratios x, at the first so many temperatures."""
        both = np.concatenate((looked.judged.by_pitzer[:rows], looked.judged.by_product[:rows]), axis=1)
        return Lines(x, both.reshape(*both.shape[:-1], *x.shape))

    def limit(self, lines: Lines, start: int) -> StrengthLimit:
        """The limits nearest to where the lines start."""
        rows = len(lines.excess)
        found = crossings(lines, start, lambda x: self.lines(x, self.look(x, rows)).excess)
        return StrengthLimit(
            saturated_ratio=found.ratio[0],
            limited_by=_names(found.solid[0]),
            clear_ratio=found.ratio[1],
            clear_limited_by=_names(found.solid[1]),
            solid_ratio=found.each,
            model_ends_at=self.end,
        )


def _names(places: Places) -> tuple[tuple[str | None, ...], ...]:
    return tuple(tuple(None if k < 0 else solids()[k].id for k in row) for row in places.tolist())


def _model_ends_at(contents: Floats, water: Floats) -> Floats:
    """(n_tanks,) ratios of 15 mol/kg ionic strength or of too little water, within 1 % by interpolation on a grid."""
    ratio = _TOTALS / np.maximum(contents.sum(axis=0), 1e-12)
    flat = (water[:, :, None] + contents[:, None, :] * ratio).reshape(len(contents), -1)
    kg_per_l = fill(flat).water_kg_per_l
    strength = 0.5 * (CHARGES**2 @ flat) / np.maximum(kg_per_l, LEAST_WATER_KG_PER_L)
    emptied = np.log(np.maximum(kg_per_l, 1e-9)) / np.log(LEAST_WATER_KG_PER_L)
    full = np.maximum(strength / MOST_STRENGTH_MOL_PER_KG, emptied)
    full = np.maximum(full.reshape(ratio.shape), 1e-12)
    last = np.minimum(np.maximum((full <= 1.0).sum(axis=0), 1), len(ratio) - 1)
    tank = np.arange(len(last))
    step = np.log(full[last, tank] / full[last - 1, tank])
    share = np.minimum(np.maximum(-np.log(full[last - 1, tank]) / np.maximum(step, 1e-12), 0.0), 1.0)
    end: Floats = ratio[last - 1, tank] * (ratio[1, 0] / ratio[0, 0]) ** share
    return end
