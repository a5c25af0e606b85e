"""The one thing to do in a state of a dosing, and what should be read after it."""

from __future__ import annotations

import math

from msgspec.structs import replace as with_changes

from core.bench.dosing import FIRST_SHARE, water_to_add_l
from core.blend.shelf import Source
from core.plan.feed_contents import Contents, conductivities_ms_per_cm, look
from core.plan.feed_tanks import FeedTanks
from core.plan.feeding_ph import drop_of, first_acid
from core.plan.feeding_records import Asked, Pour, Step
from core.plan.feeding_state import Rise, State, rise_of, silent_parts, strength_of, tolerance_ms_per_cm

CLOUDS_ABOVE = 0.1
"""Saturation index of calcium phosphate above which hard water is given acid first though the recipe holds none: so far
above saturation that neither set of constants for it doubts it (this program's own choice; they differ by 0.05)."""

NOTHING: frozenset[str] = frozenset()


def present(tanks: FeedTanks, asked: Asked, state: State) -> Step:
    """Return the one thing to do in a state."""
    match state.phase:
        case "read-start":
            expected = tanks.water_ms_per_cm if asked.holds == "water" else None
            return Step("read-start", "now", expected_ms_per_cm=_known(expected))
        case "silicate":
            return _silicate(tanks, asked, state)
        case "acid-first":
            return _acid_first(state)
        case "pour-first" | "pour-rest":
            return _pour(tanks, asked, state)
        case "read":
            return _reading(tanks, asked, state)
        case "add-water":
            return _water(tanks, asked, state)
        case "read-ph":
            return Step("read-ph", "now", expected_ph=_known(look((state.contents,)).ph[0]))
        case "acid" | "base":
            return _trimming(state)
        case _:
            return Step("finish", "now")


def _known(value: float | None) -> float | None:
    return value if value is not None and math.isfinite(value) else None


def rise_wanted(asked: Asked, from_ms_per_cm: float, factor: float) -> float:
    """Return the EC that is to be added by the forecast [mS/cm], so that the meter shows what is wanted."""
    return max(asked.wanted_ms_per_cm - from_ms_per_cm, 0.0) / factor


def first_acids(tanks: FeedTanks, asked: Asked, state: State) -> tuple[tuple[Source, float], ...]:
    """Return the acids that go into fresh water before the tanks [mL or g of each].

    The recipe's own where it puts them there or the water is hard; without any, one that brings hard water down where
    calcium phosphate would cloud the finished feed.
    """
    if asked.holds != "water":
        return ()
    water_l = state.base.volume_l
    if tanks.first_acids:
        return tuple((source, per_l * water_l) for source, per_l in tanks.first_acids)
    if not tanks.hard or not look((finished(tanks, asked, state),)).brushite[0] > CLOUDS_ABOVE:
        return ()
    source, amount = first_acid(tanks, asked, water_l)
    return ((source, amount),) if amount > 0.0 else ()


def finished(tanks: FeedTanks, asked: Asked, state: State) -> Contents:
    """Return the contents of a state with the tanks that bring them to the EC wanted."""
    wanted = rise_wanted(asked, state.ms_per_cm, state.factor)
    strength = rise_of(tanks, state.contents, wanted, NOTHING).for_rise(wanted) or 0.0
    return tanks.poured(state.contents, tanks.dose_l(strength, state.contents.volume_l))


def rise_from_base(tanks: FeedTanks, asked: Asked, state: State) -> Rise:
    """Forecast the EC against the strength poured from the base on."""
    wanted = rise_wanted(asked, state.base_ms_per_cm, state.factor)
    return rise_of(tanks, state.base, wanted, silent_parts(tanks))


def pours_of(tanks: FeedTanks, litres: dict[str, float]) -> tuple[Pour, ...]:
    """Return amounts [L] as pours, in the order of the parts."""
    return tuple(Pour(p.name, p.content, 1000.0 * litres[p.name]) for p in tanks.parts if p.name in litres)


def _silicate(tanks: FeedTanks, asked: Asked, state: State) -> Step:
    wanted = rise_wanted(asked, state.base_ms_per_cm, state.factor)
    strength = rise_of(tanks, state.base, wanted, NOTHING).for_rise(wanted) or 0.0
    mains = frozenset(part.name for part in tanks.parts) - silent_parts(tanks)
    litres = tanks.dose_l(strength, state.base.volume_l, mains)
    return Step("silicate", "now", pours=pours_of(tanks, litres))


def _acid_first(state: State) -> Step:
    source, amount = state.first[0]
    after = state.contents.with_product(source, amount)
    return Step("acid-first", "now", drop=drop_of(source, amount), expected_ph=_known(look((after,)).ph[0]))


def _pour(tanks: FeedTanks, asked: Asked, state: State) -> Step:
    """Most of the dose before anything was read, else what is missing of each part."""
    whole = whole_strength(tanks, asked, state) or 0.0
    share = FIRST_SHARE if state.phase == "pour-first" else 1.0
    dose = tanks.dose_l(share * whole, state.base.volume_l, silent_parts(tanks))
    litres = {name: max(amount - state.since_l.get(name, 0.0), 0.0) for name, amount in dose.items()}
    expected = expected_ms_per_cm(tanks, with_poured(tanks, state, litres))
    return Step(state.phase, "now", pours=pours_of(tanks, litres), expected_ms_per_cm=expected)


def with_poured(tanks: FeedTanks, state: State, litres: dict[str, float]) -> State:
    """Return a state after parts were poured in [L of each]."""
    since = {name: state.since_l.get(name, 0.0) + litres.get(name, 0.0) for name in {**state.since_l, **litres}}
    return state.to(state.phase, contents=tanks.poured(state.contents, litres), since_l=since)


def whole_strength(tanks: FeedTanks, asked: Asked, state: State) -> float | None:
    """Return the strength to be poured since the base in all; None where no dose gives the EC wanted.

    After a reading the rest goes in proportion to the rise that was measured, along the straight line through both
    readings: the true curve bends down a little, so it lands some hundredths short rather than over.
    """
    if state.chord is not None:
        at = strength_of(tanks, state.since_l, state.base.volume_l, silent_parts(tanks))
        return at + max(asked.wanted_ms_per_cm - state.ms_per_cm, 0.0) / state.chord
    wanted = rise_wanted(asked, state.base_ms_per_cm, state.factor)
    return rise_from_base(tanks, asked, state).for_rise(wanted)


def expected_ms_per_cm(tanks: FeedTanks, state: State) -> float | None:
    """Return what should be read of a state: along the line through the readings, else by the forecast."""
    if not any(state.since_l.values()):
        return state.base_ms_per_cm
    if state.chord is not None:
        at = strength_of(tanks, state.since_l, state.base.volume_l, silent_parts(tanks))
        return state.base_ms_per_cm + state.chord * at
    return _known(state.base_ms_per_cm + state.factor * foretold_rise_ms_per_cm(state))


def foretold_rise_ms_per_cm(state: State) -> float:
    """Return the EC that was added since the base, by the forecast alone."""
    before, after = conductivities_ms_per_cm((state.base, state.contents)).tolist()
    return float(after - before)


def _reading(tanks: FeedTanks, asked: Asked, state: State) -> Step:
    wanted, water, tenth = asked.wanted_ms_per_cm, water_ms_per_cm(tanks, asked), None
    if water < wanted:
        tenth = water_to_add_l(state.contents.volume_l, wanted + 0.1, wanted, water)
    return Step(
        "read",
        "now",
        expected_ms_per_cm=expected_ms_per_cm(tanks, state),
        over_ms_per_cm=wanted + tolerance_ms_per_cm(asked),
        water_per_tenth_l=tenth,
    )


def _water(tanks: FeedTanks, asked: Asked, state: State) -> Step:
    water = water_ms_per_cm(tanks, asked)
    litres = water_to_add_l(state.contents.volume_l, state.ms_per_cm, asked.wanted_ms_per_cm, water)
    return Step("add-water", "now", water_l=litres, expected_ms_per_cm=asked.wanted_ms_per_cm)


def water_ms_per_cm(tanks: FeedTanks, asked: Asked) -> float:
    """Return the EC of the water at hand: as read, else by its report [mS/cm]."""
    if asked.water_ms_per_cm is not None:
        return asked.water_ms_per_cm
    if asked.holds == "water" and asked.start_ms_per_cm is not None:
        return asked.start_ms_per_cm
    return tanks.water_ms_per_cm


def _trimming(state: State) -> Step:
    way = state.trim
    assert way is not None, "trimming follows from a way there"
    drop = with_changes(way.drop, amount=way.drop.amount / way.count)
    return Step(state.phase, "now", drop=drop, expected_ph=way.steps[0][1], number=1, of=way.count)
