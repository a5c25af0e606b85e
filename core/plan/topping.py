"""Topping up a reservoir that was drunk from: what each custom does to EC and to every nutrient.

Water that is filled in gets the recipe's own acid, litre by litre as in dosing. What is left is told by its EC as a
feed of these tanks in water so served; where the water used is known, by what plants took out of it as well, and the
difference of the two is what an EC meter cannot see.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from msgspec import Struct, field

from core.bench.topup import LETTUCE_DRY_G_PER_L, LETTUCE_TISSUE_PERCENT, mixed_ec_ms_per_cm, refill_mg_per_l
from core.blend.nutrients import ROW, Array, nutrients_mg_per_l
from core.plan.feed_contents import Contents, conductivities_ms_per_cm
from core.plan.feed_tanks import FeedTanks
from core.plan.feeding_ph import drop_of
from core.plan.feeding_records import Drop, Pour
from core.plan.feeding_state import Rise, rise_of

Refill = Literal["water", "half", "full", "balance"]
REFILLS: tuple[Refill, ...] = ("water", "half", "full", "balance")

SHOWN = ("N", "P", "K", "Ca", "Mg", "S", "Na", "Cl")
"""Nutrients told of a reservoir that is topped up: the macros, and what piles up."""

UNSEEN_SHARE = 0.15
"""A nutrient further than this from what the EC suggests is named as unseen (this program's own choice)."""

MOST_BALANCE = 1.5
"""Strongest refill offered to balance what plants take, in feeds as wanted (own choice)."""


class TopUpAsked(Struct, frozen=True):
    """What is left in the reservoir and how it is to be filled up; EC at 25 degC.

    `wanted_ms_per_cm` is the feed's; `used_l` the water used since it was filled with that feed, None where nobody
    knows. `tissue_percent` of the dry plant and `dry_g_per_l` of water used say what plants take.
    """

    left_l: float
    left_ms_per_cm: float
    fill_to_l: float
    wanted_ms_per_cm: float
    water_ms_per_cm: float | None = None
    used_l: float | None = None
    tissue_percent: dict[str, float] = field(default_factory=lambda: dict(LETTUCE_TISSUE_PERCENT))
    dry_g_per_l: float = LETTUCE_DRY_G_PER_L


class Option(Struct, frozen=True):
    """One way to fill up: `strength` of the wanted feed, what to pour, the EC of it and of the reservoir after.

    `acids_first` go into the water before the tanks, `acids_last` of soft water into the reservoir after them.
    """

    refill: Refill
    strength: float
    water_l: float
    pours: tuple[Pour, ...]
    refill_ms_per_cm: float
    after_ms_per_cm: float
    after_mg_per_l: dict[str, float]
    acids_first: tuple[Drop, ...] = ()
    acids_last: tuple[Drop, ...] = ()


class LeftRow(Struct, frozen=True):
    """One nutrient of what is left [mg/L]: as the EC suggests, by what plants took, and what they take per litre.

    `by_uptake_mg_per_l` None where the water used is not known; `wanted_mg_per_l` that of the feed.
    """

    nutrient: str
    by_ec_mg_per_l: float
    by_uptake_mg_per_l: float | None
    taken_mg_per_l: float | None
    wanted_mg_per_l: float


class TopUpTold(Struct, frozen=True):
    """The ways to fill up, what is left by nutrient, and which of them the meter does not show."""

    options: tuple[Option, ...]
    left: tuple[LeftRow, ...]
    short: tuple[str, ...]
    piled: tuple[str, ...]


def top_up(tanks: FeedTanks, asked: TopUpAsked) -> TopUpTold:
    """Say what each way of filling up does.

    Parameters
    ----------
    tanks : from `core.plan.feed_tanks.feed_tanks`
    asked : `fill_to_l` above `left_l`
    """
    served = _served(tanks, asked)
    wanted = served.feed_at(asked.wanted_ms_per_cm)
    left_by_ec = nutrients_mg_per_l(served.feed_at(asked.left_ms_per_cm).totals)
    taken = {name: refill_mg_per_l(percent, asked.dry_g_per_l) for name, percent in asked.tissue_percent.items()}
    left = _left_by_uptake(asked, nutrients_mg_per_l(wanted.totals), left_by_ec, taken)
    rows = _rows(wanted, left_by_ec, left, taken)
    known = left_by_ec if left is None else left
    options = tuple(_option(served, asked, wanted, known, taken, refill) for refill in REFILLS)
    return TopUpTold(options, rows, _off(rows, short=True), _off(rows, short=False))


@dataclass(frozen=True, eq=False)
class _Served:
    """The water that is filled in with its acid in it, its EC, and what the tanks add to it."""

    tanks: FeedTanks
    water: Contents
    water_ms_per_cm: float
    rise: Rise

    def feed_at(self, ms_per_cm: float) -> Contents:
        """A feed of the tanks with this EC."""
        return self.tanks.poured(self.water, self.dose_l(ms_per_cm))

    def dose_l(self, ms_per_cm: float) -> dict[str, float]:
        """How much of each part a litre of this water takes to that EC [L]."""
        rise, more = self.rise, max(ms_per_cm - self.water_ms_per_cm, 0.0)
        strength = float(np.interp(more, rise.ec_ms_per_cm - rise.ec_ms_per_cm[0], rise.strength))
        return self.tanks.dose_l(strength, 1.0)


def _served(tanks: FeedTanks, asked: TopUpAsked) -> _Served:
    """The water as read, else as reported; the acid changes its EC by as much as foretold."""
    water = tanks.of_served_water(1.0)
    rise = rise_of(tanks, water, max(asked.wanted_ms_per_cm, asked.left_ms_per_cm), frozenset())
    before, after = conductivities_ms_per_cm((tanks.of_water(1.0), water)).tolist()
    read = before if asked.water_ms_per_cm is None else asked.water_ms_per_cm
    return _Served(tanks, water, read + after - before, rise)


def _left_by_uptake(asked: TopUpAsked, fresh: Array, by_ec: Array, taken: dict[str, float]) -> Array | None:
    """Mass balance since the reservoir was filled with the wanted feed; what nobody states stays as the EC suggests."""
    if asked.used_l is None:
        return None
    left = by_ec.copy()
    filled_l = asked.left_l + asked.used_l
    for name in SHOWN:
        took = taken.get(name)
        if took is None and name not in ("Na", "Cl"):
            continue  # of the ballast plants are taken to leave all, of a nutrient nobody stated nothing is known
        kept = filled_l * fresh[ROW[name]] - asked.used_l * (took or 0.0)
        left[ROW[name]] = max(kept, 0.0) / asked.left_l
    return left


def _rows(wanted: Contents, by_ec: Array, left: Array | None, taken: dict[str, float]) -> tuple[LeftRow, ...]:
    feed = nutrients_mg_per_l(wanted.totals)
    return tuple(
        LeftRow(
            name,
            float(by_ec[ROW[name]]),
            None if left is None else float(left[ROW[name]]),
            taken.get(name),
            float(feed[ROW[name]]),
        )
        for name in SHOWN
    )


def _off(rows: tuple[LeftRow, ...], *, short: bool) -> tuple[str, ...]:
    """Nutrients that stand well below, or above, what the EC suggests."""
    found = []
    for row in rows:
        if row.by_uptake_mg_per_l is None or row.by_ec_mg_per_l <= 0.0:
            continue
        off = row.by_uptake_mg_per_l / row.by_ec_mg_per_l - 1.0
        if off < -UNSEEN_SHARE if short else off > UNSEEN_SHARE:
            found.append(row.nutrient)
    return tuple(found)


def _option(
    served: _Served, asked: TopUpAsked, wanted: Contents, left: Array, taken: dict[str, float], refill: Refill
) -> Option:
    strength = {"water": 0.0, "half": 0.5, "full": 1.0}.get(refill, 0.0)
    if refill == "balance":
        strength = _balanced_strength(served.water, wanted, taken)
    tanks, water = served.tanks, served.water
    added_l = asked.fill_to_l - asked.left_l
    refilled = water.totals + strength * (wanted.totals - water.totals)
    ec = served.water_ms_per_cm + strength * (asked.wanted_ms_per_cm - served.water_ms_per_cm)
    after = (asked.left_l * left + added_l * nutrients_mg_per_l(refilled)) / asked.fill_to_l
    full_l = served.dose_l(asked.wanted_ms_per_cm)
    pours = tuple(
        Pour(part.name, part.content, 1000.0 * added_l * strength * full_l[part.name] / (1.0 + sum(full_l.values())))
        for part in tanks.parts
    )
    water_l = added_l - sum(pour.ml for pour in pours) / 1000.0
    return Option(
        refill=refill,
        strength=strength,
        water_l=water_l,
        pours=pours,
        refill_ms_per_cm=ec,
        after_ms_per_cm=mixed_ec_ms_per_cm(((asked.left_l, asked.left_ms_per_cm), (added_l, ec))),
        after_mg_per_l={name: float(after[ROW[name]]) for name in SHOWN},
        acids_first=tuple(drop_of(source, per_l * water_l) for source, per_l in tanks.first_acids),
        acids_last=tuple(drop_of(source, per_l * water_l) for source, per_l in tanks.last_acids),
    )


def _balanced_strength(served: Contents, wanted: Contents, taken: dict[str, float]) -> float:
    """The strength whose nitrogen is what plants take per litre: nitrogen runs out first and the meter hides it."""
    water = float(nutrients_mg_per_l(served.totals)[ROW["N"]])
    feed = float(nutrients_mg_per_l(wanted.totals)[ROW["N"]])
    if feed <= water:
        return 0.0
    return float(np.clip((taken.get("N", 0.0) - water) / (feed - water), 0.0, MOST_BALANCE))
