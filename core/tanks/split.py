"""The split: which product goes into which concentrate tank."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from core.chemistry.concentrates import assess as assess_concentrates
from core.tanks.compatibility import rules_broken_within
from core.tanks.groups import group_items
from core.tanks.items import Array, Item
from core.tanks.placing import Filled, content_of, place_traces, reason_for
from core.tanks.plans import LETTERS, Place, TankPlan
from core.tanks.saturation import Assess, Saturation, salt_margin, with_rules
from core.tanks.search import Judge, best_way


def split(
    items: Sequence[Item],
    count: int,
    ratio: float,
    temperature_c: float,
    coldest_c: float | None = None,
    pins: Mapping[str, str] | None = None,
    assess: Assess = assess_concentrates,
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
    pins : product key -> "A" to "D"; a pin to a tank beyond `count` is void, see `void_pins`
    assess : the chemistry of concentrates

    Returns
    -------
    The tanks in use, by letter.
    """
    if not items:
        return ()
    kept = _kept_pins(items, count, pins or {})
    coldest = temperature_c if coldest_c is None else min(coldest_c, temperature_c)
    tanks = _filled(items, count, ratio, kept, _judge(assess, coldest))
    order = sorted(tanks)
    temperatures_c = (coldest,) if coldest == temperature_c else (coldest, temperature_c)
    saturation = assess(_totals([tanks[letter] for letter in order], ratio), temperatures_c)
    return tuple(
        _plan(letter, tank, [tanks[other] for other in order], kept, ratio, saturation, order.index(letter))
        for letter, tank in ((letter, tanks[letter]) for letter in order)
    )


def void_pins(items: Sequence[Item], count: int, pins: Mapping[str, str]) -> tuple[str, ...]:
    """Return the keys whose pin cannot be kept: no such product, or no such tank among `count`."""
    return tuple(sorted(set(pins) - set(_kept_pins(items, count, pins))))


def _kept_pins(items: Sequence[Item], count: int, pins: Mapping[str, str]) -> dict[str, int]:
    letters, keys = LETTERS[:count], {item.key for item in items}
    return {key: letters.index(name) for key, name in pins.items() if key in keys and name and name in letters}


def _judge(assess: Assess, coldest_c: float) -> Judge:
    def judge(totals: Array) -> tuple[np.ndarray[tuple[int, ...], np.dtype[np.int64]], Array]:
        saturation = assess(totals.T, (coldest_c,))
        return saturation.rank[0], salt_margin(saturation, 0)

    return judge


def _filled(
    items: Sequence[Item], count: int, ratio: float, pins: Mapping[str, int], judge: Judge
) -> dict[int, Filled]:
    """Letter number -> filled tank."""
    groups = group_items(items, pins)
    opened = best_way(groups, ratio, count, judge).tanks if groups else {}
    tanks = {letter: Filled(shares, content_of(shares)) for letter, shares in opened.items()}
    placed = {item for tank in tanks.values() for item in tank.shares}
    in_order = [tanks[letter] for letter in sorted(tanks)]
    place_traces(in_order, [item for item in items if item not in placed], count, ratio)
    unused = [letter for letter in range(count) if letter not in tanks]
    return tanks | dict(zip(unused, in_order[len(tanks) :], strict=False))


def _totals(tanks: Sequence[Filled], ratio: float) -> Array:
    """What the tanks hold, (n_components, n_tanks) [mol per litre of concentrate]."""
    held = [[share * np.array(item.ions) for item, share in tank.shares.items()] for tank in tanks]
    return ratio * np.array([np.sum(contents, axis=0) for contents in held]).T


def _plan(
    letter: int,
    tank: Filled,
    tanks: Sequence[Filled],
    pins: Mapping[str, int],
    ratio: float,
    saturation: Saturation,
    number: int,
) -> TankPlan:
    heaviest = sorted(tank.shares.items(), key=lambda pair: (-pair[0].g_per_l_feed * pair[1], pair[0].key))
    broken = rules_broken_within([item for item, _ in heaviest])
    contents = tuple(
        Place(item.key, share, reason_for(item, tank, tanks, pins, ratio, bool(broken))) for item, share in heaviest
    )
    cold, warm = (with_rules(saturation, at, number, broken, tuple(tank.shares)) for at in (0, -1))
    return TankPlan(
        name=LETTERS[letter],
        content=tank.content,
        contents=contents,
        verdict=warm.verdict,
        cold_verdict=cold.verdict,
        margin=cold.margin,
        limited_by=cold.limited_by,
        settling=cold.settling,
        broken=broken,
    )
