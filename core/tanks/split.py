"""The split: which product goes into which concentrate tank."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from core.chemistry.concentrates import assess as by_ions
from core.tanks.compatibility import breakers, rules_broken_within
from core.tanks.groups import group_items
from core.tanks.items import INDEX, Array, Item
from core.tanks.placing import Filled, content_of, place_traces, reason_for, told_content
from core.tanks.plans import LETTERS, Place, TankPlan
from core.tanks.saturation import Assess, Saturation, salt_margin, with_rules
from core.tanks.search import Opened, best_way
from core.tanks.solubility import assess_with_bounds

_HARDNESS = [INDEX["Ca"], INDEX["Mg"]]
HARD_MOL_PER_L = 1.5e-3
"""Calcium and magnesium in fill water above which a base or silicate drops them: 60 mg/L of calcium (READ, a trade list
of reactions gives 60 of calcium or 30 of magnesium; taken here as their sum in moles)."""


@dataclass(frozen=True, eq=False)
class Arrangement:
    """Which product stands in which tank, before anything is said of the tanks.

    tanks : letter number -> filled tank; pins : product key -> letter number of the pins that hold; ratio : litres of
    finished feed per litre of concentrate; hard_fill : True where the tanks are filled up with hard water.
    """

    tanks: dict[int, Filled]
    pins: dict[str, int]
    ratio: float
    hard_fill: bool = False

    @cached_property
    def mol_per_l_feed(self) -> Array:
        """What the tanks bring to the finished feed, by letter, (n_components, n_tanks) [mol/L]."""
        held = []
        for letter in sorted(self.tanks):
            shares = self.tanks[letter].shares
            held.append(np.array(list(shares.values())) @ np.array([item.ions for item in shares]))
        return np.array(held).T


def split(
    items: Sequence[Item],
    count: int,
    ratio: float,
    temperature_c: float,
    coldest_c: float | None = None,
    pins: Mapping[str, str] | None = None,
    assess: Assess | None = None,
    fill_water: Array | None = None,
) -> tuple[TankPlan, ...]:
    """Put every product into a tank so that the concentrates stay clear, as few tanks as do it.

    The answer does not depend on the order of `items`. Nothing is dropped and no amount is changed: where no split
    stays clear, the tanks say what settles and which rule is broken.

    Parameters
    ----------
    items : products with an amount over 0, keys unique
    count : tanks that may be used, 1 to 4
    ratio : litres of finished feed per litre of concentrate
    temperature_c, coldest_c : of the tanks, and of the coldest night [°C]; the latter defaults to the former
    pins : product key -> "A" to "D"; a pin to a tank beyond `count` is void
    assess : the chemistry of concentrates; None for that of Pitzer beside the products' own solubilities
    fill_water : (n_components,) totals of the water the tanks are filled up with [mol/L], None where it is pure

    Returns
    -------
    The tanks in use, by letter.
    """
    if not items:
        return ()
    temperatures_c = tank_temperatures_c(temperature_c, coldest_c)
    arranged = arrange(items, count, ratio, temperatures_c[0], pins, assess, fill_water)
    totals = ratio * arranged.mol_per_l_feed
    judged = assess or assess_with_bounds(items)
    return describe(arranged, judged(_with(totals, fill_water), temperatures_c))


def tank_temperatures_c(temperature_c: float, coldest_c: float | None) -> tuple[float, ...]:
    """The temperatures tanks are judged at [°C]: first the coldest, then their own where that is another."""
    coldest = temperature_c if coldest_c is None else min(coldest_c, temperature_c)
    return (coldest,) if coldest == temperature_c else (coldest, temperature_c)


Ahead = Callable[[Array, "Arrangement"], Saturation | None]
"""Judges (n_components, n_tanks) totals [mol per litre of concentrate] in the coldest room, and looks at the
arrangement that is hoped for at the same time; None where that cannot be done."""


def arrange(
    items: Sequence[Item],
    count: int,
    ratio: float,
    coldest_c: float,
    pins: Mapping[str, str] | None = None,
    assess: Assess | None = None,
    fill_water: Array | None = None,
    ahead: Ahead | None = None,
) -> Arrangement:
    """Find the tank of every product (at least one); arguments as `split`.

    ahead : tried in place of the chemistry of concentrates, where no product's own solubility comes into it. The
        arrangement returned is one that it was shown, or another
    """
    assess = assess or assess_with_bounds(item for item in items if not item.trace)
    filling = _Filling(items, count, ratio, pins or {}, fill_water)
    judge = _Judge(filling, assess, coldest_c, fill_water, ahead if assess is by_ions else None)
    return judge.arrangement(best_way(filling.groups, ratio, count, judge).tanks if filling.groups else {})


def describe(arranged: Arrangement, saturation: Saturation) -> tuple[TankPlan, ...]:
    """Say of every tank what stands in it, why, and how it stands.

    saturation : of the tanks by letter, at `tank_temperatures_c`
    """
    order = sorted(arranged.tanks)
    in_order = [arranged.tanks[letter] for letter in order]
    return tuple(
        _plan(letter, tank, in_order, arranged, saturation, number)
        for number, (letter, tank) in enumerate(zip(order, in_order, strict=True))
    )


def _kept_pins(items: Sequence[Item], count: int, pins: Mapping[str, str]) -> dict[str, int]:
    letters, keys = LETTERS[:count], {item.key for item in items}
    return {key: letters.index(name) for key, name in pins.items() if key in keys and name and name in letters}


def _with(totals: Array, fill_water: Array | None) -> Array:
    """Totals (n_components, n_tanks) with what the tanks are filled up with."""
    return totals if fill_water is None else totals + fill_water[:, None]


class _Filling:
    """The products of one split and the tanks there are for them."""

    def __init__(
        self, items: Sequence[Item], count: int, ratio: float, pins: Mapping[str, str], fill_water: Array | None
    ) -> None:
        self.items, self.count, self.ratio = items, count, ratio
        self.pins = _kept_pins(items, count, pins)
        self.groups = group_items(items, self.pins)
        self.hard_fill = fill_water is not None and float(fill_water[_HARDNESS].sum()) > HARD_MOL_PER_L

    def arrangement(self, opened: Opened) -> Arrangement:
        """Tanks with their main products, and the traces placed among them."""
        tanks = {letter: Filled(dict(shares), content_of(shares)) for letter, shares in opened.items()}
        placed = {item for tank in tanks.values() for item in tank.shares}
        in_order = [tanks[letter] for letter in sorted(tanks)]
        place_traces(in_order, [item for item in self.items if item not in placed], self.count, self.ratio)
        unused = [letter for letter in range(self.count) if letter not in tanks]
        tanks |= dict(zip(unused, in_order[len(tanks) :], strict=False))
        return Arrangement(tanks, self.pins, self.ratio, self.hard_fill)


@dataclass
class _Judge:
    """Judges tanks for the search; keeps the arrangement it looked ahead at, and the way that stands for."""

    filling: _Filling
    assess: Assess
    coldest_c: float
    fill_water: Array | None
    ahead: Ahead | None
    hoped: tuple[Opened, Arrangement] | None = None

    def __call__(self, totals: Array, hoped: Opened | None) -> tuple[NDArray[np.int64], Array]:
        contents, saturation = _with(totals.T, self.fill_water), None
        if self.ahead is not None and hoped is not None:
            self.hoped = hoped, self.filling.arrangement(hoped)
            saturation = self.ahead(contents, self.hoped[1])
        if saturation is None:
            saturation = self.assess(contents, (self.coldest_c,))
        return saturation.rank[0], salt_margin(saturation, 0)

    def arrangement(self, opened: Opened) -> Arrangement:
        """The arrangement a way stands for: the one looked ahead at, where it is that."""
        if self.hoped is not None and self.hoped[0] is opened:
            return self.hoped[1]
        return self.filling.arrangement(opened)


def _plan(
    letter: int,
    tank: Filled,
    tanks: Sequence[Filled],
    arranged: Arrangement,
    saturation: Saturation,
    number: int,
) -> TankPlan:
    heaviest = sorted(tank.shares.items(), key=lambda pair: (-pair[0].g_per_l_feed * pair[1], pair[0].key))
    held = [item for item, _ in heaviest]
    broken = rules_broken_within(held, arranged.hard_fill)
    pins, ratio = arranged.pins, arranged.ratio
    contents = tuple(
        Place(item.key, share, reason_for(item, tank, tanks, pins, ratio, bool(broken))) for item, share in heaviest
    )
    cold, warm = (with_rules(saturation, at, number, broken, tuple(tank.shares)) for at in (0, -1))
    return TankPlan(
        name=LETTERS[letter],
        content=told_content(tank, tanks),
        contents=contents,
        verdict=warm.verdict,
        cold_verdict=cold.verdict,
        margin=cold.margin,
        limited_by=cold.limited_by,
        settling=cold.settling,
        broken=broken,
        breakers=tuple(tuple(item.key for item in breakers(rule, held, arranged.hard_fill)) for rule in broken),
    )
