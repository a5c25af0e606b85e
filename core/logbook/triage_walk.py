"""Readings of a stretch of a diary as each candidate foretells them, every step counted from the reading before."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from msgspec import structs
from numpy.typing import NDArray

from core.bench.meter import uncompensated_ms_per_cm
from core.blend.nutrients import COLUMN, Array
from core.logbook.batches import tank_totals
from core.logbook.forecast import Foretold
from core.logbook.moves import Move, moves
from core.logbook.records import Entry, MadeBatch
from core.logbook.stores import NOTHING, Amounts, Stores
from core.logbook.triage_tweaks import AS_WRITTEN, Candidate, Tweak
from core.plan.feed_contents import Contents, conductivities_ms_per_cm, look, milligrams_per_unit

COMPENSATED_C = (0.0, 50.0)
"""Where the linear compensation of temperature holds, see `core.chemistry.temperature`."""

SCALED_FROM_MS_PER_CM = 0.1
"""A reading below this says too little of what is in there to count the next step from it (our own choice)."""

SCALED_WITHIN = (0.2, 4.0)
"""A reading further from what a candidate foretells speaks against it; to count from it would lead nowhere (our own
choice)."""

STRONGEST_MMOL_PER_L = 200.0
"""All totals together; a feed of 3 mS/cm holds 60."""

MOST_EATEN, MOST_APPETITE = 0.95, 2.0
"""Most of a store that a crop takes, and salts per litre used over those in a litre (our own choice)."""

APPETITE_FROM_SHARE = 0.03
"""Less water used than this share of the volume does not tell an appetite from the scatter of readings (our own
choice)."""


@dataclass(frozen=True, eq=False)
class Walked:
    """Readings foretold: (n_readings, n_candidates) ndarrays, not a number outside the chemistry's range.

    `indices` are the places of the readings; `ph_low`, `ph_high` are not a number where no pH can be foretold.
    """

    indices: tuple[int, ...]
    ec_ms_per_cm: Array
    ph_low: Array
    ph_high: Array


class Walk:
    """Walks a stretch of a diary with all candidates side by side."""

    def __init__(self, stores: Stores, told: Sequence[Foretold], suspect: int) -> None:
        self._stores = stores
        self._told = told
        self._suspect = suspect
        self._event = same_day(stores.reservoir.entries, suspect)
        self._of_a_salt: dict[tuple[str, str, str], Amounts] = {}
        self._moves: dict[float, tuple[Move, ...]] = {1.0: tuple(one.move for one in told)}
        self._filled = next((i for i in reversed(range(suspect + 1)) if stores.reservoir.entries[i].fresh), None)
        self._usual = usual_appetite(stores.reservoir.entries, told)

    def walk(self, span: range, candidates: Sequence[Candidate]) -> Walked:
        """Foretell every reading of the span under every candidate."""
        states = [self._start(span.start, self._at(one, span.start - 1)) for one in candidates]
        indices, ecs, lows, highs = [], [], [], []
        for index in span:
            entry = self._stores.reservoir.entries[index]
            volumes = [self._move(index, one.tweak).after_l for one in candidates]
            states = [
                self._after(index, state, self._at(one, index), self._move(index, one.tweak))
                for state, one in zip(states, candidates, strict=True)
            ]
            if entry.ec_ms_per_cm is None or min(volumes) <= 0.0:
                continue
            at_c = self._stores.temperature_c(index)
            contents = [state.contents(volume, at_c) for state, volume in zip(states, volumes, strict=True)]
            true = _within_reach(contents)
            factors = np.array([_shown(entry, self._at(one, index)) for one in candidates])
            indices.append(index)
            ecs.append(true * factors)
            low, high = self._ph(index, contents)
            lows.append(low)
            highs.append(high)
            real = entry.ec_ms_per_cm / factors
            with np.errstate(divide="ignore", invalid="ignore"):
                scale = np.where(np.isfinite(true) & (true > SCALED_FROM_MS_PER_CM), real / true, 1.0)
            scale = np.clip(scale, *SCALED_WITHIN)
            states = [state.times(float(by)) for state, by in zip(states, scale, strict=True)]
        return Walked(tuple(indices), *(np.array(rows) for rows in (ecs, lows, highs)))

    def _at(self, candidate: Candidate, index: int) -> Tweak:
        """What is otherwise at an entry."""
        entries = self._stores.reservoir.entries
        holds = {
            "event": index in self._event,
            "since": index >= candidate.onset,
            "always": True,
            "batch": index >= 0 and entries[index].batch_id == self.batch_id(),
        }
        return candidate.tweak if holds[candidate.scope] else AS_WRITTEN

    def batch_id(self) -> str:
        """The batch in use at the entry asked about, "" where there is none."""
        batch = self._stores.batch_in_use(self._suspect)
        return "" if batch is None else batch.batch_id

    def _move(self, index: int, tweak: Tweak) -> Move:
        """An entry by volume, as the tweak has the filling."""
        if tweak.filling not in self._moves and self._filled is not None:
            entries = list(self._stores.reservoir.entries)
            entries[self._filled] = _filled_otherwise(entries[self._filled], tweak.filling)
            reservoir = structs.replace(self._stores.reservoir, entries=tuple(entries))
            self._moves[tweak.filling] = moves(reservoir)
        return self._moves.get(tweak.filling, self._moves[1.0])[index]

    def _start(self, first: int, tweak: Tweak) -> Amounts:
        """What was there before the stretch begins, by the reading taken of it."""
        if first == 0 or self._told[first - 1].contents is None:
            return NOTHING
        before, entry = self._told[first - 1], self._stores.reservoir.entries[first - 1]
        contents = before.contents
        assert contents is not None
        volume = before.move.after_l
        amounts = Amounts(volume, contents.totals * volume, contents.alkalinity * volume)
        if entry.ec_ms_per_cm is None or not before.ec_ms_per_cm:
            return amounts
        return amounts.times(entry.ec_ms_per_cm / _shown(entry, tweak) / before.ec_ms_per_cm)

    def _after(self, index: int, state: Amounts, tweak: Tweak, move: Move) -> Amounts:
        entry, told = self._stores.reservoir.entries[index], self._told[index]
        if told.anchored and told.basis != "filled" and told.contents is not None:
            volume = move.after_l
            return Amounts(volume, told.contents.totals * volume, told.contents.alkalinity * volume)
        brought = self._brought(index, entry, tweak, move.added_l + move.unlogged_l)
        if entry.fresh:
            return brought
        appetite = self._usual if tweak.appetite is None else tweak.appetite
        used, before = move.used_l or 0.0, move.before_l or 0.0
        eaten = min(appetite * used / before, MOST_EATEN) if before > 0.0 else 0.0
        return state.times(move.kept_share * (1.0 - eaten)).plus(brought)

    def _brought(self, index: int, entry: Entry, tweak: Tweak, came_l: float) -> Amounts:
        """What an entry brings: its water, parts and acid, as the tweak has them."""
        brought = self._water(index, tweak, came_l)
        for tank, millilitres in entry.parts_ml.items():
            source = tweak.exchanged.get(tank, tank)
            amount = millilitres * tweak.parts.get(tank, 1.0)
            brought = brought.plus(self.part(entry.batch_id, source, tweak), amount)
        for entry_id, millilitres in entry.acid_ml.items():
            acid = self._stores.acid(entry.batch_id, entry_id)
            mg = tweak.acid * millilitres * milligrams_per_unit(acid)
            brought = brought.plus(Amounts(0.0, acid.totals * mg, acid.alkalinity * mg))
        return Amounts(came_l, brought.totals, brought.alkalinity)

    def _water(self, index: int, tweak: Tweak, volume_l: float) -> Amounts:
        water = self._stores.of_water(index, volume_l)
        totals, alkalinity = tweak.water * water.totals, tweak.water * water.alkalinity
        lime = tweak.added_meq_per_l * volume_l
        totals[COLUMN["Ca"]] += lime / 2.0
        totals[COLUMN["C"]] += lime
        return Amounts(volume_l, totals, alkalinity + lime)

    def part(self, batch_id: str, tank: str, tweak: Tweak) -> Amounts:
        """A millilitre of a concentrate as the tweak has it."""
        made = self._stores.part(batch_id, tank)
        for entry_id, factor in tweak.salts.items():
            made = made.plus(self._salt(batch_id, tank, entry_id), factor - 1.0)
        return made.times(tweak.tanks.get(tank, 1.0))

    def batch(self, index: int) -> MadeBatch:
        """The batch in use at an entry."""
        batch = self._stores.batch_in_use(index)
        assert batch is not None, "a candidate of a batch where there is none"
        return batch

    def tank_with(self, entry_id: str, index: int) -> str:
        """The tank that holds most of a product."""
        weighed = [one for one in self.batch(index).weighed if one.entry_id == entry_id]
        return max(weighed, key=lambda one: one.weighed_g).tank

    def part_alone_ms_per_cm(self, tank: str, dose_ml_per_l: float, tweak: Tweak, index: int) -> float:
        """EC of a litre of an entry's water with one part in it [mS/cm]."""
        part = self.part(self.batch(index).batch_id, tank, tweak).times(dose_ml_per_l)
        made = self._stores.of_water(index, 1.0).plus(replace(part, volume_l=0.0))
        return float(conductivities_ms_per_cm((made.contents(1.0),))[0])

    def water_ms_per_cm(self, tweak: Tweak, index: int) -> tuple[float, float]:
        """EC of an entry's water as the tweak has it, and by its report [mS/cm]."""
        both = [self._water(index, one, 1.0).contents(1.0) for one in (tweak, AS_WRITTEN)]
        found = conductivities_ms_per_cm(both)
        return float(found[0]), float(found[1])

    def entry(self, index: int) -> Entry:
        """An entry of the diary."""
        return self._stores.reservoir.entries[index]

    def poured_ml(self) -> dict[str, float]:
        """What was poured of each tank on the day asked about [mL]."""
        return _summed(self._stores.reservoir.entries[n].parts_ml for n in self._event)

    def acid_ml(self) -> dict[str, float]:
        """What was poured of each acid on the day asked about [mL]."""
        return _summed(self._stores.reservoir.entries[n].acid_ml for n in self._event)

    def volume_l(self, index: int) -> float:
        """What is there after an entry, as written [L]."""
        return self._told[index].move.after_l

    def true_ms_per_cm(self, candidate: Candidate, index: int) -> float:
        """What an entry's reading stands for where the candidate is true [mS/cm at 25 degC]."""
        entry = self.entry(index)
        return (entry.ec_ms_per_cm or 0.0) / _shown(entry, candidate.tweak)

    def _salt(self, batch_id: str, tank: str, entry_id: str) -> Amounts:
        """What one product brings to a millilitre of a concentrate."""
        key = (batch_id, tank, entry_id)
        if key not in self._of_a_salt:
            totals, alkalinity = tank_totals(_alone(self._stores.batches[batch_id], entry_id), tank)
            self._of_a_salt[key] = Amounts(0.0, totals, alkalinity)
        return self._of_a_salt[key]

    def _ph(self, index: int, contents: Sequence[Contents]) -> tuple[Array, Array]:
        """The pH fresh and aired, after a filling whose pH was read; else nothing."""
        entry = self._stores.reservoir.entries[index]
        nothing = np.full(len(contents), np.nan)
        if entry.ph is None or not entry.fresh:
            return nothing, nothing
        weak = _weak(contents)
        seen = look([one for one, in_reach in zip(contents, weak, strict=True) if in_reach])
        low, high = nothing.copy(), nothing.copy()
        both = np.array([seen.ph, seen.ph_aired])
        low[weak], high[weak] = both.min(axis=0), both.max(axis=0)
        return low, high


def _weak(contents: Sequence[Contents]) -> NDArray[np.bool_]:
    """Which contents the chemistry can say something of; none so strong is a feed, and one would hold up all."""
    return np.array([float(one.totals.sum()) < STRONGEST_MMOL_PER_L for one in contents])


def _within_reach(contents: Sequence[Contents]) -> Array:
    """EC of contents [mS/cm], not a number where they are too strong."""
    weak, found = _weak(contents), np.full(len(contents), np.nan)
    if weak.any():
        found[weak] = conductivities_ms_per_cm([one for one, near in zip(contents, weak, strict=True) if near])
    return found


def _summed(groups: Iterable[dict[str, float]]) -> dict[str, float]:
    summed: dict[str, float] = {}
    for group in groups:
        for name, value in group.items():
            summed[name] = summed.get(name, 0.0) + value
    return summed


def same_day(entries: Sequence[Entry], index: int) -> range:
    """Return the places of the entries of one day around an entry: a filling may be written down in several lines."""
    day, first, last = entries[index].at[:10], index, index
    while first > 0 and entries[first - 1].at[:10] == day:
        first -= 1
    while last + 1 < len(entries) and entries[last + 1].at[:10] == day:
        last += 1
    return range(first, last + 1)


def usual_appetite(entries: Sequence[Entry], told: Sequence[Foretold]) -> float:
    """Return what the crop takes of the salts per litre it uses, over those in a litre: from days with no more to them.

    Pooled over the diary; 0 where too little water was used to tell.
    """
    taken = used = volume = 0.0
    for index in range(1, len(entries)):
        before, after, move = entries[index - 1].ec_ms_per_cm, entries[index].ec_ms_per_cm, told[index].move
        if entries[index].fresh or move.added_l or move.unlogged_l or not move.used_l or not before or after is None:
            continue
        volume = move.before_l or 0.0
        taken += volume - after / before * (volume - move.used_l)
        used += move.used_l
    return min(max(taken / used, 0.0), MOST_APPETITE) if used > APPETITE_FROM_SHARE * volume else 0.0


def _filled_otherwise(entry: Entry, factor: float) -> Entry:
    """A filling of another volume than written, with the same parts."""
    water, level = (None if value is None else factor * value for value in (entry.water_l, entry.level_l))
    return structs.replace(entry, water_l=water, level_l=level)


def _alone(batch: MadeBatch, entry_id: str) -> MadeBatch:
    """The batch with nothing in its tanks but one product."""
    return structs.replace(batch, weighed=tuple(one for one in batch.weighed if one.entry_id == entry_id))


def _shown(entry: Entry, tweak: Tweak) -> float:
    """What the meter shows over what is true."""
    if not tweak.no_compensation:
        return tweak.reading
    low, high = COMPENSATED_C
    temperature = tweak.assumed_c if entry.temperature_c is None else entry.temperature_c
    return tweak.reading * uncompensated_ms_per_cm(1.0, min(max(temperature, low), high))
