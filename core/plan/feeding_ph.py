"""Trimming the pH of a reservoir: how much acid or base, in small equal steps, and what each of them does."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from core.blend.alkalinity import is_acid, is_base
from core.blend.shelf import Source, compile_shelf
from core.blend.strength import alkalinity_at_ph
from core.plan.feed_contents import Contents, Look, look
from core.plan.feed_tanks import FeedTanks, NeitherAcidNorBase, ph_product, residual_to_leave_meq_per_l
from core.plan.feeding_records import Asked, Drop, PhForecast

PH_PER_STEP = 0.4
"""The most one step should move the pH (this program's own choice: three steps from 6.8 to 5.6)."""

PH_TOLERANCE = 0.2
"""How near to a wanted pH is near enough (this program's own choice; growers allow 0.3)."""

USUAL_PH = 5.8
"""Wanted pH where neither aim nor crop names one (middle of what most published feeds want, 5.5 to 6.2)."""

USUAL_ACID, USUAL_BASE = "phosphoric-acid", "potassium-bicarbonate"
"""Looked at where the shelf holds none; a base that cannot overshoot far."""

SEARCHED = 31
WIDER = 1.5
MOST_STEPS = 8
"""Points a dose of acid is read off from, how much further each widening looks, and into how many steps it is parted
at most (own choices)."""


@dataclass(frozen=True)
class Trim:
    """A dose that brings the closed pH where it is wanted: all of it, the equal steps, what is read after each."""

    drop: Drop
    count: int
    steps: tuple[tuple[float, float], ...]
    aired: float
    after: Contents


def wanted_range(tanks: FeedTanks, asked: Asked) -> tuple[float, float]:
    """Return the pH to stay within: around the one asked for, else the aim's or the crop's range."""
    if asked.wanted_ph is not None:
        return asked.wanted_ph - PH_TOLERANCE, asked.wanted_ph + PH_TOLERANCE
    low, high = (USUAL_PH, USUAL_PH) if tanks.wanted_ph is None else tanks.wanted_ph
    short = max(PH_TOLERANCE - (high - low) / 2.0, 0.0)
    return low - short, high + short


def wanted_ph(tanks: FeedTanks, asked: Asked) -> float:
    """Return the pH to go for: the middle of the range."""
    return sum(wanted_range(tanks, asked)) / 2.0


def product_for(tanks: FeedTanks, asked: Asked, kind: Literal["acid", "base"]) -> Source:
    """Return the acid or base to use: the one asked for, else the shelf's first of its kind, else a usual one."""
    fits = is_acid if kind == "acid" else is_base
    if asked.product:
        try:
            chosen = ph_product(tanks.recipe, asked.product, asked.strength_percent)
        except NeitherAcidNorBase:
            chosen = None
        if chosen is not None and fits(chosen):
            return chosen
    own = [one for one in compile_shelf(tanks.recipe.shelf).sources if fits(one) and one.alkalinity != 0.0]
    return own[0] if own else ph_product(tanks.recipe, USUAL_ACID if kind == "acid" else USUAL_BASE)


def needed(tanks: FeedTanks, asked: Asked, ph: float, ph_aired: float, *, sour: bool) -> Literal["acid", "base"] | None:
    """Return what a pH calls for.

    A low pH of carbonic acid calls for nothing but air, which will lift it; a `sour` feed, far below what was foretold
    or old, has lost its alkalinity and takes a base.
    """
    low, high = wanted_range(tanks, asked)
    if ph > high:
        return "acid"
    return "base" if ph < low and (sour or ph_aired < low) else None


def drop_of(source: Source, amount: float) -> Drop:
    """Return an amount of a product as it is told."""
    unit: Literal["mL", "g"] = "g" if source.density_kg_per_l is None else "mL"
    strength = None if unit == "g" else source.strength_percent
    return Drop(source.key, source.entry.salt, strength, unit, amount)


def first_acid(tanks: FeedTanks, asked: Asked, water_l: float) -> tuple[Source, float]:
    """Return how much of an acid brings fresh hard water down to the alkalinity to be left [mL or g]."""
    source = product_for(tanks, asked, "acid")
    surplus = (tanks.water.alkalinity - residual_to_leave_meq_per_l(tanks)) * water_l
    one = Contents(1.0, tanks.water.totals * 0.0, 0.0).with_product(source, 1.0)
    return source, max(surplus, 0.0) / -one.alkalinity


def trim(contents: Contents, ph_now: float, ph: float, source: Source) -> Trim | None:
    """Plan the way from one closed pH to another.

    Parameters
    ----------
    contents : what the reservoir holds, its pH that of the reading
    ph_now, ph : closed pH now and wanted
    source : acid to go down, base to go up

    Returns
    -------
    Trim, or None where the product does not reach that pH or the chemistry does not hold.
    """
    most = _search_to(contents, ph, source)
    if most is None:
        return None
    amounts = np.linspace(0.0, most, SEARCHED)
    found = np.array(look([contents.with_product(source, amount) for amount in amounts.tolist()]).ph)
    down = ph < ph_now
    if not np.isfinite(found).all() or (found[-1] > ph if down else found[-1] < ph):
        return None
    order = slice(None, None, -1) if down else slice(None)
    whole = float(np.interp(ph, found[order], amounts[order]))
    count = min(max(math.ceil(abs(ph_now - ph) / PH_PER_STEP - 0.05), 1), MOST_STEPS)
    cumulative = [whole * (step + 1) / count for step in range(count)]
    after = contents.with_product(source, whole)
    steps = tuple((amount, float(np.interp(amount, amounts, found))) for amount in cumulative)
    return Trim(drop_of(source, whole), count, steps, look((after,)).ph_aired[0], after)


def _search_to(contents: Contents, ph: float, source: Source) -> float | None:
    """An amount [mL or g] that surely passes the pH, going by the alkalinity the feed holds there."""
    held = alkalinity_at_ph(contents.totals, ph, contents.temperature_c)
    if held is None:
        return None
    one = contents.with_product(source, 1.0)
    per_unit = one.alkalinity - contents.alkalinity
    needed = (held - contents.alkalinity) / per_unit
    if needed <= 0.0:
        return None
    for _ in range(6):
        needed *= WIDER
        reached = look((contents.with_product(source, needed),)).ph[0]
        if math.isnan(reached) or (reached < ph if per_unit < 0.0 else reached > ph):
            break
    return needed


def ph_forecast(
    tanks: FeedTanks, asked: Asked, contents: Contents, told: Look, measured: float | None, *, sour: bool
) -> PhForecast | None:
    """Return the pH of contents and what trimming would do, None outside the chemistry's range.

    told : what `look` says of these very contents; `measured` is the pH read of them, if any; `sour` as in `needed`
    """
    fresh, aired = told.ph[0], told.ph_aired[0]
    if math.isnan(fresh):
        return None
    now = fresh if measured is None else measured
    kind, way = needed(tanks, asked, now, aired, sour=sour), None
    if kind is not None:
        way = trim(contents, now, wanted_ph(tanks, asked), product_for(tanks, asked, kind))
    return PhForecast(
        ph=now,
        ph_aired=aired,
        measured=measured is not None,
        aim=round(wanted_ph(tanks, asked), 2),
        wanted=wanted_range(tanks, asked),
        drop=None if way is None else way.drop,
        steps=() if way is None else way.steps,
        ph_aired_after=aired if way is None else way.aired,
        alkalinity_meq_per_l=contents.alkalinity,
        alkalinity_after_meq_per_l=contents.alkalinity if way is None else way.after.alkalinity,
    )
