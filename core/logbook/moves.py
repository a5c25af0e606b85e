"""What a diary says of volumes alone: what was there, what the crop used, what came in and went out at each entry."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.logbook.records import Entry, Reservoir

Doubt = Literal["volume-assumed", "fill-differs", "unlogged-water", "level-too-low", "drained-too-much"]

ML_PER_L = 1000.0

DIFFERS_SHARE = 0.05
"""Volumes noted twice may differ by this share of the reservoir before a word is said (this program's own choice)."""


@dataclass(frozen=True)
class Move:
    """One entry by volume [L].

    Attributes
    ----------
    before_l : what was there after the entry before; None where that is not known
    used_l : water the crop and the air took since; None where no level tells, and then none is counted
    drained_l, added_l : what was let out, and what came in: water and concentrates
    unlogged_l : what must have come in beside that, since the level is higher than can be
    after_l : what is there afterwards
    doubts : what does not add up, or had to be assumed
    """

    before_l: float | None
    used_l: float | None
    drained_l: float
    added_l: float
    unlogged_l: float
    after_l: float
    doubts: tuple[Doubt, ...] = ()

    @property
    def kept_share(self) -> float:
        """Share of the salts from before that is still there."""
        if self.before_l is None:
            return 1.0
        left = self.before_l - (self.used_l or 0.0)
        return max(left - self.drained_l, 0.0) / left if left > 0.0 else 0.0


def poured_l(entry: Entry) -> float:
    """Return the concentrates poured [L]; the volume of acid is too small to count."""
    return sum(entry.parts_ml.values()) / ML_PER_L


def moves(reservoir: Reservoir) -> tuple[Move, ...]:
    """Return the move of every entry, in the diary's order."""
    found: list[Move] = []
    volume: float | None = None
    for entry in reservoir.entries:
        move = _filled(entry, reservoir) if entry.fresh else _changed(entry, volume, reservoir)
        volume = move.after_l
        found.append(move)
    return tuple(found)


def _filled(entry: Entry, reservoir: Reservoir) -> Move:
    """A filling from empty: the level, where it was read, says how much water came in."""
    poured = poured_l(entry)
    noted = None if entry.water_l is None else entry.water_l + poured
    after = next((volume for volume in (entry.level_l, noted) if volume), None)
    doubts: tuple[Doubt, ...] = () if after is not None else ("volume-assumed",)
    if after is None:
        after = max(reservoir.volume_l, poured)
    elif noted is not None and abs(after - noted) > DIFFERS_SHARE * reservoir.volume_l:
        doubts = ("fill-differs",)
    return Move(0.0, 0.0, 0.0, max(after, poured), 0.0, max(after, poured), doubts)


def _changed(entry: Entry, before: float | None, reservoir: Reservoir) -> Move:
    drained, added = entry.drained_l or 0.0, (entry.water_l or 0.0) + poured_l(entry)
    if before is None:
        assumed: tuple[Doubt, ...] = () if entry.level_l is not None else ("volume-assumed",)
        after = reservoir.volume_l if entry.level_l is None else entry.level_l
        return Move(None, None, drained, added, 0.0, after, assumed)
    doubts: list[Doubt] = []
    if drained > before:
        drained = before
        doubts.append("drained-too-much")
    expected = before - drained + added
    if entry.level_l is None:
        return Move(before, None, drained, added, 0.0, expected, tuple(doubts))
    used, unlogged = max(expected - entry.level_l, 0.0), max(entry.level_l - expected, 0.0)
    if used > before - drained:
        used = before - drained
        doubts.append("level-too-low")
    if unlogged > DIFFERS_SHARE * reservoir.volume_l:
        doubts.append("unlogged-water")
    return Move(before, used, drained, added, unlogged, entry.level_l, tuple(doubts))
