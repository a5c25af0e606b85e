"""The best way to share groups out among tanks: every way that breaks no rule is looked at.

What is best, in this order: fewest pairs that break a rule; the usual letters (only where the user pinned something);
fewest tanks that settle in the coldest room, then fewest in doubt; fewest tanks; acid on the phosphate side and
chelates on the calcium side; most margin in the tank nearest to saturation, counted in steps and only up to what is
comfortable; no product shared; the heaviest tank as light as possible; and last the order of names.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.tanks.groups import Group, Loads, with_fewer
from core.tanks.items import Array
from core.tanks.lettering import Numbers, pinned_letters, usual_positions
from core.tanks.partitions import Masks, TooManyWays, halved_ways, tanks_used, ways

Judge = Callable[[Array], tuple[NDArray[np.int64], Array]]
"""(n_tanks, n_components) totals [mol per litre of concentrate] -> verdict ranks (0 clear, 1 doubtful, 2 settles) and
margins [log10 of the saturation ratio left], both (n_tanks,), in the coldest room."""

COMFORTABLE = 0.50
"""Margin [log10] beyond which more is no better: the ion product is a third of saturation. It covers what a model was
seen to miss on measured mixtures, 0.32 at worst (36 points of Wan & Wang 2018, J. Chem. 2018:8749345; derived), and a
night 5 °C colder than thought (0.19 for potassium nitrate at 10 °C, CRC Handbook 98th ed.; derived)."""

STEP = 0.05
"""Margins are compared in steps of this size [log10]; less than that no forecast can tell apart."""

SIDE = 4
"""Weight of keeping a side together, over any one preference for where acid, a chelate or a base stands."""

MOST_WAYS = 20_000
MOST_GROUPS = 60


@dataclass(frozen=True, eq=False)
class Way:
    """One way to fill the tanks: a mask of groups for each letter in use, and the group that is halved, or None."""

    score: tuple[float, ...]
    loads: Loads
    masks: dict[int, int]
    halved: int | None

    @property
    def in_doubt(self) -> bool:
        """True where a tank settles or may settle."""
        return self.score[2] > 0 or self.score[3] > 0

    @property
    def comfortable(self) -> bool:
        """True where no tank is near saturation, so that sharing a product could not help."""
        return not self.in_doubt and -self.score[6] >= round(COMFORTABLE / STEP)


def best_way(groups: tuple[Group, ...], ratio: float, count: int, judge: Judge) -> Way:
    """Return the best way to put groups (at least one) into at most `count` tanks; see the top of this module.

    Where there are more than 20 000 ways, light groups of one side travel together until there are fewer.
    """
    while len(groups) > MOST_GROUPS:
        groups = with_fewer(groups)
    while True:
        try:
            return _best(Loads.of(groups, ratio), count, judge)
        except TooManyWays:
            groups = with_fewer(groups)


def _best(loads: Loads, count: int, judge: Judge) -> Way:
    """Look at ways that break no rule, and only where there is none at those that break some."""
    pinned = any(group.pin is not None for group in loads.groups)
    found: list[Way] = []
    for rules in (True, False):
        forbidden = loads.forbidden(rules)
        for least, most in ((1, count),) if pinned or not rules else ((tanks, tanks) for tanks in range(1, count + 1)):
            found += _best_of(loads, _Listing(forbidden, least, most, count), judge)
            if found and not min(found, key=_score).in_doubt:
                break
        if found:
            break
    return min(found, key=_score)


def _score(way: Way) -> tuple[float, ...]:
    return way.score


@dataclass(frozen=True)
class _Listing:
    """Lists the ways that keep to `forbidden` and use from `least` to `most` tanks, padded to `count` columns."""

    forbidden: tuple[int, ...]
    least: int
    most: int
    count: int

    def whole(self) -> Masks:
        return self._exact(ways(self.forbidden, self.most, MOST_WAYS))

    def halved(self, group: int) -> Masks:
        return self._exact(halved_ways(self.forbidden, group, self.most, MOST_WAYS))

    def _exact(self, masks: Masks) -> Masks:
        return np.pad(masks[tanks_used(masks) >= self.least], ((0, 0), (0, self.count - self.most)))


def _best_of(loads: Loads, listing: _Listing, judge: Judge) -> list[Way]:
    """Return the best way with every product whole and, where that is not comfortable, the best with one in halves.

    A product is shared for the sake of saturation only, so a shared way must break as little and keep to the letters.
    """
    whole = _Table.of(loads, listing.whole(), None)
    if whole is None:
        return []
    best = _pick([whole], judge)
    if best.comfortable:
        return [best]
    halved = [
        _Table.of(loads.with_half(number), listing.halved(number), number)
        for number, group in enumerate(loads.groups)
        if group.shareable
    ]
    fair = [table for table in halved if table is not None and table.rules == best.score[:2]]
    return [best, _pick(fair, judge)] if fair else [best]


@dataclass(frozen=True, eq=False)
class _Table:
    """Ways that are alike in the rules they break and in how they keep to the letters, ready for the chemistry.

    Attributes
    ----------
    rules : pairs of products that break a rule, and what the letters cost
    masks, letters : (n_ways, n_tanks)
    kinds : (n_kinds,) every different tank of the ways; `place` (n_ways, n_tanks) is where each stands in it
    bits : (n_kinds, n_groups) the groups each holds, 0 or 1
    """

    loads: Loads
    halved: int | None
    rules: tuple[float, float]
    masks: Masks
    letters: Numbers
    kinds: Masks
    place: NDArray[np.intp]
    bits: Array

    @classmethod
    def of(cls, loads: Loads, masks: Masks, halved: int | None) -> _Table | None:
        """Keep of some ways those that break fewest rules, and of these the cheapest letters; None of none."""
        if not len(masks):
            return None
        broken = _broken(loads, masks)
        masks = masks[broken == broken.min()]
        cost, letters = _lettered(loads, masks)
        cheapest = cost == cost.min()
        masks, letters = masks[cheapest], letters[cheapest]
        kinds, place = np.unique(masks, return_inverse=True)
        rules = (float(broken.min()), float(cost.min()))
        bits = _bits(kinds, len(loads.groups))
        return cls(loads, halved, rules, masks, letters, kinds, place.reshape(masks.shape), bits)

    @property
    def totals(self) -> Array:
        """What each different tank holds, (n_kinds, n_components) [mol per litre of concentrate]."""
        return self.bits @ self.loads.totals

    def criteria(self, ranks: NDArray[np.int64], margins: Array) -> Array:
        """What chemistry and bench have to say, in order of weight, (n_criteria, n_ways); the least is best."""
        place, load = self.place, np.round(self.bits @ self.loads.g_per_l, 9)
        rows = (
            (ranks[place] == 2).sum(axis=1),
            (ranks[place] == 1).sum(axis=1),
            tanks_used(self.masks),
            _preference(self.loads, self.kinds)[place].sum(axis=1),
            -_steps(margins[place].min(axis=1)),
            np.full(len(place), float(self.halved is not None)),
            load[place].max(axis=1),
            *self.masks.T,
        )
        return np.array(rows, dtype=float)

    def way(self, row: int, score: tuple[float, ...]) -> Way:
        """Return one of the ways."""
        filled = zip(self.letters[row].tolist(), self.masks[row].tolist(), strict=True)
        return Way((*self.rules, *score), self.loads, {letter: mask for letter, mask in filled if mask}, self.halved)


def _pick(tables: list[_Table], judge: Judge) -> Way:
    """Return the best way of tables that keep the rules alike; all their tanks are judged in one call."""
    used = [table.kinds != 0 for table in tables]
    judged = judge(np.concatenate([table.totals[some] for table, some in zip(tables, used, strict=True)]))
    columns, start = [], 0
    for table, some in zip(tables, used, strict=True):
        ranks, margins = np.zeros(len(some), dtype=np.int64), np.full(len(some), np.inf)
        part = slice(start, start := start + int(some.sum()))
        ranks[some], margins[some] = judged[0][part], judged[1][part]
        columns.append(table.criteria(ranks, margins))
    criteria = np.concatenate(columns, axis=1)
    rows = np.arange(criteria.shape[1])
    for criterion in criteria:
        rows = rows[criterion[rows] == criterion[rows].min()]
    best, score = int(rows[0]), tuple(criteria[:, rows[0]].tolist())
    for table in tables:
        if best < len(table.masks):
            return table.way(best, score)
        best -= len(table.masks)
    raise AssertionError("the best way stands in one of the tables")


def _lettered(loads: Loads, masks: Masks) -> tuple[Numbers, Numbers]:
    if any(group.pin is not None for group in loads.groups):
        return pinned_letters(loads, masks)
    return np.zeros(len(masks), dtype=np.int64), usual_positions(loads, masks)


def _broken(loads: Loads, masks: Masks) -> Array:
    """Pairs of products that break a rule, (n_ways,)."""
    if not loads.clashes.any():
        return np.zeros(len(masks))
    kinds, place = np.unique(masks, return_inverse=True)
    bits = _bits(kinds, len(loads.groups))
    pairs = 0.5 * ((bits @ loads.clashes) * bits).sum(axis=1)
    total: Array = pairs[place.reshape(masks.shape)].sum(axis=1)
    return total


def _bits(masks: Masks, groups: int) -> Array:
    """Masks as rows of 0 and 1, (n_masks, n_groups)."""
    return ((masks[:, None] >> np.arange(groups)) & 1).astype(float)


def _steps(margin: Array) -> Array:
    """Margins as whole steps, none beyond what is comfortable; the rounding keeps binary dust from moving a step."""
    steps: Array = np.floor(np.round(np.minimum(margin, COMFORTABLE) / STEP, 6))
    return steps


def _preference(loads: Loads, masks: Masks) -> Numbers:
    """How far tanks are from what growers do, (n_masks,); summed over the tanks of a way.

    Calcium salts stay together, and so do phosphates and sulfates; acid stands on the phosphate side, else on the
    calcium side, else alone; a chelate stands on the calcium side; a base stands alone.
    """
    acid = (masks & loads.mask_where(lambda item: item.strong_acid)) != 0
    calcium = (masks & loads.mask_where(lambda item: item.calcium_side)) != 0
    apart = (masks & loads.mask_where(lambda item: item.apart_side and not item.strong_acid)) != 0
    chelate = (masks & loads.mask_where(lambda item: item.trace and item.chelate is not None)) != 0
    plain = (masks & loads.mask_where(lambda item: not item.strong_acid)) != 0
    base = (masks & loads.mask_where(lambda item: item.base)) != 0
    other = (masks & loads.mask_where(lambda item: not item.base)) != 0
    of_acid = np.select([~acid, apart, calcium], [0, 0, 1], default=2) + (acid & plain & ~apart & ~calcium)
    far: Numbers = of_acid + (chelate & ~calcium) + (base & other) + SIDE * (calcium.astype(int) + apart)
    return far
