"""The smallest repair after a weight went wrong: another weight, or a tank filled to more than planned.

Nothing is ever taken out of a tank: what is in can only be added to, what is not yet in may be weighed differently,
and a tank may be filled further. While every nutrient is still in its range, nothing is changed. One change alone is
tried first, each place exactly; only where none will do are several chosen together by a linear programme that makes
the sum of all changes least, or, where no repair brings every nutrient back, the worst miss.

How changes compare is this program's own choice: relative size, a weight already in the tank counted a little more
than one still to be weighed, and more water than planned above both, since a larger vessel may not be at hand.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from core.bench.repair_records import (
    ADD_COST,
    FILL_COST,
    MOST_LARGER,
    MOST_TIMES,
    WEIGH_COST,
    Bench,
    Filling,
    NewVolume,
    NewWeight,
    Repair,
    Wanted,
    step_of,
)
from core.bench.repair_together import change_together

if TYPE_CHECKING:
    from core.blend.nutrients import Array

_Change = tuple[float, tuple[NewWeight, ...], tuple[NewVolume, ...]]


def propose(bench: Bench, wanted: Wanted) -> Repair | None:
    """Return the smallest repair, or None where every nutrient is in its range.

    A nutrient that the plan itself leaves outside its range only has to come back to where it was planned.

    Parameters
    ----------
    bench : the batch as it stands
    wanted : the ranges
    """
    before = bench.planned().feed_mg_per_l()
    wanted = Wanted(np.minimum(wanted.low_mg_per_l, before), np.maximum(wanted.high_mg_per_l, before))
    miss = wanted.miss(bench.feed_mg_per_l())
    if not miss.any():
        return None
    worst = int(miss.argmax())
    found = [change for change in (*_one_weight(bench, wanted), *_one_volume(bench, wanted)) if change is not None]
    if found:
        _cost, weights, volumes = min(found, key=lambda change: change[0])
        return Repair(worst, weights, volumes, mended=True)
    weights, volumes = _several(bench, wanted)
    tried = Repair(worst, weights, volumes, mended=False)
    left = wanted.miss(bench.after(tried).feed_mg_per_l())
    if left.max() >= miss.max():
        return Repair(worst, (), (), mended=False)
    return replace(tried, mended=not left.any())


def _one_weight(bench: Bench, wanted: Wanted) -> list[_Change | None]:
    feed, per_gram = bench.feed_mg_per_l(), bench.per_gram()
    return [
        _weight_change(f, _interval(feed - f.asked_g * brings, brings, wanted))
        for f, brings in zip(bench.fillings, per_gram, strict=True)
        if f.movable
    ]


def _weight_change(filling: Filling, interval: tuple[float, float] | None) -> _Change | None:
    """The nearest whole scale step within an interval of grams that mends all."""
    if interval is None:
        return None
    step = step_of(filling)
    least = max(interval[0], filling.weighed_g or 0.0)
    most = min(interval[1], MOST_TIMES * filling.planned_g)
    rising = least > filling.asked_g
    steps = math.ceil(least / step - 1e-9) if rising else math.floor(most / step + 1e-9)
    grams = float(f"{steps * step:.12g}")
    if not least * (1.0 - 1e-12) <= grams <= most * (1.0 + 1e-12):
        return None
    cost = abs(grams - filling.asked_g) / filling.planned_g
    return cost * (WEIGH_COST if filling.weighed_g is None else ADD_COST), (_new_weight(filling, grams),), ()


def _new_weight(filling: Filling, grams: float) -> NewWeight:
    added = None if filling.weighed_g is None else float(f"{grams - filling.weighed_g:.12g}")
    return NewWeight(filling.tank, filling.entry_id, grams, added)


def _one_volume(bench: Bench, wanted: Wanted) -> list[_Change | None]:
    feed, per_gram = bench.feed_mg_per_l(), bench.per_gram()
    grams = np.array([f.asked_g for f in bench.fillings])
    changes = []
    for tank, litres in bench.filled_l.items():
        here = np.array([f.tank == tank for f in bench.fillings], dtype=bool)
        brings = (grams * here) @ per_gram
        changes.append(_volume_change(tank, litres, _interval(feed - brings, brings, wanted)))
    return changes


def _volume_change(tank: str, litres: float, shares: tuple[float, float] | None) -> _Change | None:
    """The least filling further within an interval of what is left of the tank's strength."""
    if shares is None or shares[1] >= 1.0 or shares[1] <= 0.0:
        return None
    new = round_up_l(litres / shares[1])
    if new > MOST_LARGER * litres or litres / new < shares[0]:
        return None
    return FILL_COST * (new / litres - 1.0), (), (NewVolume(tank, new),)


def round_up_l(litres: float) -> float:
    """Return a volume rounded up to three digits: what a mark on a tank can tell [L]."""
    step = 10.0 ** (math.floor(math.log10(litres)) - 2)
    return float(f"{math.ceil(litres / step - 1e-9) * step:.12g}")


def _interval(rest: Array, brings: Array, wanted: Wanted) -> tuple[float, float] | None:
    """Every x for which rest + x * brings is in range; None where there is none, or what x leaves alone is out."""
    moved = brings > 0.0
    if wanted.miss(np.where(moved, np.clip(rest, wanted.low_mg_per_l, wanted.high_mg_per_l), rest)).any():
        return None
    low = (wanted.low_mg_per_l[moved] - rest[moved]) / brings[moved]
    high = (wanted.high_mg_per_l[moved] - rest[moved]) / brings[moved]
    least, most = float(np.max(low, initial=0.0)), float(np.min(high, initial=math.inf))
    return (least, most) if least <= most else None


def _several(bench: Bench, wanted: Wanted) -> tuple[tuple[NewWeight, ...], tuple[NewVolume, ...]]:
    """Several changes together, rounded to what scales and marks tell."""
    shares, _ = change_together(bench, wanted)
    larger = {tank: share < 0.9999 for tank, share in shares.items()}
    filled = {t: round_up_l(litres / shares[t]) if larger[t] else litres for t, litres in bench.filled_l.items()}
    settled = {tank: bench.filled_l[tank] / litres for tank, litres in filled.items()}
    _, grams = change_together(bench, wanted, settled)
    weights = []
    for filling, wanted_g in zip(bench.fillings, grams, strict=True):
        step = step_of(filling)
        told = float(f"{round(wanted_g / step) * step:.12g}")
        told = max(told, filling.weighed_g or 0.0)
        if filling.movable and abs(told - filling.asked_g) >= 0.99 * step:
            weights.append(_new_weight(filling, told))
    volumes = tuple(NewVolume(tank, litres) for tank, litres in filled.items() if litres > bench.filled_l[tank])
    return tuple(weights), volumes
