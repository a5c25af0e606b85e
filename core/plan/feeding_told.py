"""All that is shown of a dosing beside its steps: the curve, the pH, why in this order, and what is in by now."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from msgspec.structs import replace

from core.blend.nutrients import Array
from core.plan.feed_contents import look
from core.plan.feed_tanks import FeedTanks
from core.plan.feeding_ph import first_acid, ph_forecast
from core.plan.feeding_records import Asked, Curve, Order, PhForecast
from core.plan.feeding_state import State, begin, silent_parts
from core.plan.feeding_steps import finished, first_acids, rise_from_base, whole_strength

EC_STANDS = ("read-ph", "acid", "base", "finish")
"""Steps at which no more of the tanks goes in."""


def curve_of(tanks: FeedTanks, asked: Asked, state: State) -> Curve | None:
    """Return the EC against what is poured, None where the first reading is missing or nothing can be foretold."""
    mains = [part for part in tanks.parts if part.name not in silent_parts(tanks)]
    if asked.start_ms_per_cm is None or not mains:
        return None
    rise = rise_from_base(tanks, asked, state)
    strength = rise.strength
    added = rise.ec_ms_per_cm - rise.ec_ms_per_cm[0]
    factor = asked.factor if state.chord is not None else state.factor
    forecast = state.base_ms_per_cm + factor * added
    middle = forecast if state.chord is None else state.base_ms_per_cm + state.chord * strength
    at, ec = state.points[-1] if state.points else (0.0, state.base_ms_per_cm)
    beyond = np.maximum(middle - ec, 0.0) * tanks.band_percent / 100.0
    ml = mains[0].ml_per_l * state.base.volume_l
    whole = whole_strength(tanks, asked, state)
    wanted = None if whole is None else (ml * whole, asked.wanted_ms_per_cm)
    if state.phase in EC_STANDS and state.points:
        wanted = (ml * at, ec)
    return Curve(
        lead=mains[0].name,
        lead_content=mains[0].content,
        equal=len({part.ml_per_l for part in mains}) == 1,
        dose_ml=_plain(ml * strength),
        forecast=_plain(forecast),
        low=_plain(middle - beyond),
        high=_plain(middle + beyond),
        line=None if state.chord is None else _plain(middle),
        points=((0.0, state.base_ms_per_cm), *((ml * dose, read) for dose, read in state.points)),
        wanted=wanted,
        range_ms_per_cm=tanks.wanted_ms_per_cm,
    )


def _plain(values: Array) -> tuple[float, ...]:
    return tuple(values.tolist())


def ph_of(tanks: FeedTanks, asked: Asked, state: State, end: State) -> PhForecast | None:
    """Return the pH of the feed once its EC stands, and the way to the wanted one.

    end : the state in which the EC stands if all goes as told, which is `state` itself where it does already
    """
    if asked.start_ms_per_cm is None:
        return None
    read = state.read_ph if state.phase in EC_STANDS else None
    return ph_forecast(tanks, asked, end.contents, look((end.contents,)), read, sour=end.sour)


@lru_cache(maxsize=8)
def order_of(tanks: FeedTanks, asked: Asked) -> Order:
    """Return why acid goes first or last in this water."""
    nothing = Order(False, tanks.hard, tanks.water.alkalinity, None, None)
    if asked.holds != "water" or asked.start_ms_per_cm is None:
        return nothing
    state = begin(tanks, asked)
    own = first_acids(tanks, asked, state)
    acids = own or (first_acid(tanks, asked, state.base.volume_l),)
    without = with_acid = finished(tanks, asked, state)
    for source, amount in acids:
        with_acid = with_acid.with_product(source, amount)
    found = look((without, with_acid)).brushite
    if not all(map(math.isfinite, found)):
        return replace(nothing, acid_first=bool(own))
    return replace(nothing, acid_first=bool(own), brushite_without=found[0], brushite_with=found[1])
