"""What comes into a reservoir, as totals and alkalinity: its water, parts of made batches, acid of their shelves."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from core.blend.nutrients import Array
from core.blend.shelf import Source, source_of
from core.blend.waters import REFERENCE_C, WaterTotals, feed_c, recipe_water, water_totals
from core.chemistry.components import COMPONENTS
from core.logbook.batches import tank_totals, tanks_of_batch
from core.logbook.moves import ML_PER_L
from core.logbook.records import Entry, Logbook, MadeBatch, Reservoir
from core.plan.feed_contents import Contents, conductivities_ms_per_cm, milligrams_per_unit
from core.recipe.records import Water

STRENGTHS = np.linspace(0.0, 4.0, 33)
"""Planned strengths between which a feed of a known EC is looked for (own choice)."""


@dataclass(frozen=True, eq=False)
class Amounts:
    """Matter in a volume: (n_components,) ndarray of totals [mmol], alkalinity [meq]; `volume_l` [L]."""

    volume_l: float
    totals: Array
    alkalinity: float

    def plus(self, other: Amounts, share: float = 1.0) -> Amounts:
        """Both together, with a share of the other."""
        return Amounts(
            self.volume_l + share * other.volume_l,
            self.totals + share * other.totals,
            self.alkalinity + share * other.alkalinity,
        )

    def times(self, share: float) -> Amounts:
        """A share of it."""
        return Amounts(share * self.volume_l, share * self.totals, share * self.alkalinity)

    def contents(self, volume_l: float, temperature_c: float = REFERENCE_C) -> Contents:
        """The solution it makes in a volume [L], its pH told at a temperature [°C]."""
        return Contents(volume_l, self.totals / volume_l, self.alkalinity / volume_l, temperature_c)


NOTHING = Amounts(0.0, np.zeros(len(COMPONENTS)), 0.0)


@dataclass(eq=False)
class Stores:
    """Everything a reservoir is filled from; what was worked out once is kept."""

    logbook: Logbook
    reservoir: Reservoir
    batches: dict[str, MadeBatch] = field(init=False)
    _in_use: list[MadeBatch | None] = field(default_factory=list)
    _parts: dict[tuple[str, str], Amounts] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.batches = {batch.batch_id: batch for batch in self.logbook.batches}

    def batch_in_use(self, index: int) -> MadeBatch | None:
        """The batch poured at an entry, or else last before it, or else first after it."""
        if not self._in_use:
            self._in_use = self._used()
        return self._in_use[index]

    def _used(self) -> list[MadeBatch | None]:
        """The batch in use at every entry."""
        named = [self.batches.get(one.batch_id) for one in self.reservoir.entries]
        last = next((batch for batch in named if batch is not None), None)
        found = []
        for batch in named:
            last = batch or last
            found.append(last)
        return found

    def water_report(self, index: int) -> Water | None:
        """The report of the water an entry brings; None where no water and no batch is known."""
        if self.reservoir.water is not None:
            return self.reservoir.water
        batch = self.batch_in_use(index)
        return None if batch is None else batch.recipe.water

    def water(self, index: int) -> WaterTotals:
        """The water an entry brings; pure where none is known."""
        batch = self.batch_in_use(index)
        if self.reservoir.water is None and batch is not None:
            return recipe_water(batch.recipe)  # which may be two waters
        return water_totals(self.reservoir.water or Water())

    def temperature_c(self, index: int) -> float:
        """The temperature an entry's pH is of [°C]: as read, else that of the water it brings."""
        read_c = self.reservoir.entries[index].temperature_c
        return self.water(index).temperature_c if read_c is None else feed_c(read_c)

    def part(self, batch_id: str, tank: str) -> Amounts:
        """A millilitre of one concentrate, without its water."""
        key = (batch_id, tank)
        if key not in self._parts:
            totals, alkalinity = tank_totals(self.batches[batch_id], tank)
            self._parts[key] = Amounts(1.0 / ML_PER_L, totals, alkalinity)
        return self._parts[key]

    def acid(self, batch_id: str, entry_id: str) -> Source:
        """A product of the batch's shelf."""
        return source_of(next(one for one in self.batches[batch_id].recipe.shelf if one.key == entry_id))

    def of_water(self, index: int, volume_l: float) -> Amounts:
        """So much of an entry's water."""
        water = self.water(index)
        return Amounts(volume_l, volume_l * water.totals, volume_l * water.alkalinity)

    def concentrates(self, entry: Entry) -> Amounts:
        """The parts and the acid of an entry, without the water in them."""
        brought = NOTHING
        for tank, millilitres in entry.parts_ml.items():
            brought = brought.plus(self.part(entry.batch_id, tank), millilitres)
        for entry_id, millilitres in entry.acid_ml.items():
            source = self.acid(entry.batch_id, entry_id)
            mg = millilitres * milligrams_per_unit(source)
            brought = brought.plus(Amounts(0.0, source.totals * mg, source.alkalinity * mg))
        return brought

    def added(self, index: int, volume_l: float) -> Amounts:
        """All an entry brings, in a volume of water and concentrates [L]; those count as the reservoir's water."""
        brought = self.concentrates(self.reservoir.entries[index])
        water = self.of_water(index, volume_l)
        return Amounts(volume_l, brought.totals + water.totals, brought.alkalinity + water.alkalinity)

    def feed(
        self, index: int, batch: MadeBatch, strength: float = 1.0, doses: Mapping[str, float] | None = None
    ) -> Contents:
        """A litre of a batch's feed in an entry's water, at a share of the planned dose, or at doses by tank [mL/L]."""
        each = ML_PER_L / batch.recipe.tanks.ratio
        wanted = {tank: strength * each for tank in tanks_of_batch(batch)} if doses is None else doses
        made = self.of_water(index, 1.0)
        for tank, millilitres in wanted.items():
            part = self.part(batch.batch_id, tank)
            made = Amounts(
                1.0, made.totals + millilitres * part.totals, made.alkalinity + millilitres * part.alkalinity
            )
        return made.contents(1.0)

    def feed_of_ec(self, index: int, ec_ms_per_cm: float) -> Contents | None:
        """A litre of the feed of the batch in use that has this EC; None where there is none."""
        batch = self.batch_in_use(index)
        if batch is None or not batch.weighed:
            return None
        grid = conductivities_ms_per_cm([self.feed(index, batch, float(strength)) for strength in STRENGTHS])
        known = np.isfinite(grid)
        if not known.any() or ec_ms_per_cm > float(np.max(grid[known])):
            return None
        return self.feed(index, batch, float(np.interp(ec_ms_per_cm, grid[known], STRENGTHS[known])))
