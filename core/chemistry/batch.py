"""What the balances of many solutions are computed from, as arrays with the solutions along the last axis."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

import numpy as np

from core.chemistry.layout import Layout
from core.chemistry.system import Constants, Precision, Reals, Rows

LN_PROTON_ABOUT = -14.0
"""Constants and the proton's powers are counted from here (pH 6), so that single precision holds them."""


class Climate(NamedTuple):
    """What depends on temperature, a column for each of n solutions or one for all of them.

    `factor` (b, n): equilibrium constants with the proton at `LN_PROTON_ABOUT`; `slope`, `size`, `linear`
    (classes, n): see `activity_columns`, of the classes in use.
    """

    factor: Reals
    slope: Reals
    size: Reals
    linear: Reals

    def take(self, places: Rows) -> Climate:
        """The same for some of the solutions."""
        return self if self.for_all else Climate(*(one.take(places, axis=1) for one in self))

    def part(self, places: slice) -> Climate:
        """The same for neighbouring solutions."""
        return self if self.for_all else Climate(*(one[:, places] for one in self))

    def to(self, precision: Precision) -> Climate:
        """The same in another precision."""
        return Climate(*(one.astype(precision, copy=False) for one in self))

    @property
    def for_all(self) -> bool:
        """Whether all solutions share one column."""
        return len(self.factor.T) == 1

    def ln_gamma(self, strength: Reals) -> tuple[Reals, Reals]:
        """Ln of the activity coefficient by class, and its derivative by ln I, (classes, n) each."""
        root = np.sqrt(strength)
        below = self.size * root
        below += 1.0
        part = self.slope * root
        part /= below
        linear = self.linear * strength
        ln_gamma = linear - part
        part *= 0.5
        part /= below
        linear -= part
        return ln_gamma, linear


def climate_of(told: Layout, constants: Constants) -> Climate:
    """What a layout needs to know of the constants."""
    factor = constants.ln_k.take(told.species, axis=0)
    factor += told.protons * LN_PROTON_ABOUT
    by_class = (constants.slope, constants.size, constants.linear)
    slope, size, linear = (one[told.classes] for one in by_class)
    width = (len(told.classes), factor.shape[1])
    return Climate(np.exp(factor, factor), slope, np.broadcast_to(size, width), linear)


class Batch(NamedTuple):
    """What is known of n solutions.

    `groups` (g, n), `ligands` (k, n): totals [mol/kg] by the rows of a layout; `lone_sums` (r, n): what totals of one
    form add to the sums; `alkalinity` (n,) [eq/kg]: None where pH is known; `gas` (n,): where a solution is open to a
    gas the ln of its carbonate activity times that of H+ squared, NaN where it is closed, None if all are closed.
    """

    groups: Reals
    ligands: Reals
    lone_sums: Reals
    alkalinity: Reals | None
    gas: Reals | None

    def take(self, places: Rows) -> Batch:
        """The same for some of the solutions."""
        return self._each(lambda one: one.take(places, axis=-1))

    def part(self, places: slice) -> Batch:
        """The same for neighbouring solutions."""
        return self._each(lambda one: one[..., places])

    def to(self, precision: Precision) -> Batch:
        """The same in another precision."""
        return self._each(lambda one: one.astype(precision, copy=False))

    def _each(self, change: Callable[[Reals], Reals]) -> Batch:
        return Batch(
            change(self.groups),
            change(self.ligands),
            change(self.lone_sums),
            None if self.alkalinity is None else change(self.alkalinity),
            None if self.gas is None else change(self.gas),
        )


class Course(NamedTuple):
    """Solutions on their way: their columns in the problem (n,), unknowns (k + 2, n), totals and constants."""

    columns: Rows
    unknowns: Reals
    known: Batch
    climate: Climate

    def take(self, places: Rows) -> Course:
        """Some of the solutions."""
        some = self.unknowns.take(places, axis=1)
        return Course(self.columns[places], some, self.known.take(places), self.climate.take(places))

    def part(self, places: slice) -> Course:
        """Neighbouring solutions."""
        some = self.unknowns[:, places]
        return Course(self.columns[places], some, self.known.part(places), self.climate.part(places))


def joined(courses: list[Course]) -> Course:
    """Several lots of solutions as one."""
    return Course(
        np.concatenate([one.columns for one in courses]),
        np.concatenate([one.unknowns for one in courses], axis=1),
        Batch(*(_beside(parts) for parts in zip(*(one.known for one in courses), strict=True))),
        courses[0].climate
        if courses[0].climate.for_all
        else Climate(*(_beside(parts) for parts in zip(*(one.climate for one in courses), strict=True))),
    )


def _beside(parts: tuple[Any, ...]) -> Any:
    return None if parts[0] is None else np.concatenate(parts, axis=-1)
