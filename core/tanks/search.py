"""The best way to share groups out among tanks: every way that breaks no rule is looked at.

What is best, in this order: fewest pairs that break a rule; the usual letters (only where the user pinned something);
fewest tanks that settle in the coldest room, then fewest in doubt; fewest tanks; what growers do (each side together,
acid with phosphate, chelates with calcium, a base alone); most margin in the tank nearest to saturation, counted in
steps and only up to what is comfortable; no product shared, which is only tried where that margin is not comfortable;
the heaviest tank as light as possible; and last the order of names.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.tanks.groups import Group, with_fewer
from core.tanks.items import Array, Item
from core.tanks.layout import Layout, lay_out
from core.tanks.partitions import TooManyWays
from core.tanks.tables import Table, table

Opened = dict[int, dict[Item, float]]
"""The products and their shares for each letter number in use."""

Judge = Callable[[Array, Opened | None], tuple[NDArray[np.int64], Array]]
"""(n_tanks, n_components) totals [mol per litre of concentrate] -> verdict ranks (0 clear, 1 doubtful, 2 settles) and
margins [log10 of the saturation ratio left], both (n_tanks,), in the coldest room. The other argument is the way to be
chosen if all tanks are found alike, for those who want to look further at once; None where there is no such way."""

COMFORTABLE = 0.50
"""Margin [log10] beyond which more is no better: the ion product is a third of saturation. It covers what a model was
seen to miss on measured mixtures, 0.32 at worst (36 points of Wan & Wang 2018, J. Chem. 2018:8749345; derived), and a
night 5 °C colder than thought (0.19 for potassium nitrate at 10 °C, CRC Handbook 98th ed.; derived)."""

STEP = 0.05
"""Margins are compared in steps of this size [log10]; less than that no forecast can tell apart."""

MOST_GROUPS = 60
"""Bit masks are whole numbers of 64 bits."""


@dataclass(frozen=True)
class Way:
    """One way to fill the tanks: the products and their shares for each letter number in use."""

    score: tuple[float, ...]
    tanks: Opened

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
            return _Search(groups, ratio, judge).best(count)
        except TooManyWays:
            groups = with_fewer(groups)


class _Search:
    """One search: groups with their amounts, and the chemistry to judge tanks by."""

    def __init__(self, groups: Sequence[Group], ratio: float, judge: Judge) -> None:
        self.groups, self.layout = lay_out(groups)
        self.judge = judge
        self.totals = ratio * np.array([_summed(group.items) for group in self.groups])
        self.g_per_l = ratio * np.array([group.g_per_l_feed for group in self.groups])

    def best(self, count: int) -> Way:
        """Look at ways that break no rule, and only where there is none at those that break some."""
        found: list[Way] = []
        for rules in (True, False):
            for least, most in _stages(self.layout, rules, count):
                found += self._best_of(rules, least, most)
                if found and not min(found, key=_score).in_doubt:
                    break
            if found:
                break
        return min(found, key=_score)

    def _best_of(self, rules: bool, least: int, most: int) -> list[Way]:
        """Return the best way with every product whole and, where it is not comfortable, the best with one in halves.

        A product is shared for the sake of saturation only: a shared way must break as little and keep to the letters.
        """
        whole = table(self.layout, rules, least, most, None)
        if whole is None:
            return []
        best = self._pick([whole])
        if best.comfortable:
            return [best]
        halved = [table(self.layout, rules, least, most, group) for group in self.layout.shareable]
        fair = [ways for ways in halved if ways is not None and ways.rules == best.score[:2]]
        return [best, self._pick(fair)] if fair else [best]

    def _pick(self, tables: list[Table]) -> Way:
        """Return the best way of tables that keep the rules alike; all their tanks are judged in one call."""
        loads = [np.round(ways.bits @ self.g_per_l, 9)[ways.place].max(axis=1) for ways in tables]
        first = self._if_alike(tables[0], loads[0]) if len(tables) == 1 else None
        hoped = None if first is None else self._opened(tables[0], first)
        ranks, margins = self.judge(np.concatenate([ways.bits[ways.used] for ways in tables]) @ self.totals, hoped)
        columns, start = [], 0
        for ways, load in zip(tables, loads, strict=True):
            part = slice(start, start := start + int(ways.used.sum()))
            columns.append(self._criteria(ways, ranks[part], margins[part], load))
        criteria = np.concatenate(columns, axis=1)
        row = _least(criteria)
        score = tuple(criteria[:, row].tolist())
        if hoped is not None and row == first:
            return Way((*tables[0].rules, *score), hoped)
        return self._way(tables, row, score)

    @staticmethod
    def _if_alike(ways: Table, load: Array) -> int:
        """The best way if chemistry has nothing to say, by its row."""
        return _least(np.array((ways.tanks, ways.odd, load, *ways.masks.T)))

    def _criteria(self, ways: Table, ranks: NDArray[np.int64], margins: Array, load: Array) -> Array:
        """What chemistry and bench have to say, in order of weight, (n_criteria, n_ways); the least is best."""
        rank, margin = np.zeros(len(ways.used), dtype=np.int64), np.full(len(ways.used), np.inf)
        rank[ways.used], margin[ways.used] = ranks, margins
        place = ways.place
        rows = (
            (rank == 2)[place].sum(axis=1),
            (rank == 1)[place].sum(axis=1),
            ways.tanks,
            ways.odd,
            -_steps(margin)[place].min(axis=1),
            np.full(len(place), float(ways.halved is not None)),
            load,
            *ways.masks.T,
        )
        return np.array(rows, dtype=float)

    def _way(self, tables: list[Table], row: int, score: tuple[float, ...]) -> Way:
        for ways in tables:
            if row < len(ways.masks):
                break
            row -= len(ways.masks)
        return Way((*ways.rules, *score), self._opened(ways, row))

    def _opened(self, ways: Table, row: int) -> Opened:
        filled = zip(ways.letters[row].tolist(), ways.masks[row].tolist(), strict=True)
        return {letter: self._shares(mask, ways.halved) for letter, mask in filled if mask}

    def _shares(self, mask: int, halved: int | None) -> dict[Item, float]:
        shares: dict[Item, float] = {}
        for number, group in enumerate(self.groups):
            if mask >> number & 1:
                shares.update(dict.fromkeys(group.items, 0.5 if number == halved else 1.0))
        return shares


def _stages(layout: Layout, rules: bool, count: int) -> Iterator[tuple[int, int]]:
    """Yield how many tanks to look at, from and to: one by one, but all at once where more may be better than fewer."""
    if layout.pinned or not rules:
        yield 1, count
    else:
        yield from ((tanks, tanks) for tanks in range(1, count + 1))


def _least(criteria: Array) -> int:
    """The column that is least by the first criterion, among equals by the next, and so on."""
    rows = np.arange(criteria.shape[1])
    for criterion in criteria:
        if len(rows) == 1:
            break
        values = criterion[rows]
        rows = rows[values == values.min()]
    return int(rows[0])


def _score(way: Way) -> tuple[float, ...]:
    return way.score


def _steps(margin: Array) -> Array:
    """Margins as whole steps, none beyond what is comfortable; the rounding keeps binary dust from moving a step."""
    steps: Array = np.floor(np.round(np.minimum(margin, COMFORTABLE) / STEP, 6))
    return steps


def _summed(items: Sequence[Item]) -> Array:
    """What products bring together, (n_components,) [mol per litre of finished feed]."""
    totals = np.array(items[0].ions)
    for item in items[1:]:
        totals += item.ions
    return totals
