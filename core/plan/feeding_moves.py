"""What becomes of a dosing when the present step was done: poured as told or otherwise, read, or left out."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from msgspec.structs import replace as with_changes

from core.bench.dosing import DoseOutOfReach
from core.bench.meter import PLAUSIBLE
from core.bench.topup import mixed_ec_ms_per_cm
from core.chemistry import OutOfRange
from core.plan.feed_contents import look
from core.plan.feed_tanks import FeedTanks
from core.plan.feeding_ph import needed, product_for, trim, wanted_ph
from core.plan.feeding_records import DROPS, POURS, Asked, Done, Drop, Remark, Step, StepKind
from core.plan.feeding_state import State, begin, near, silent_parts, strength_of
from core.plan.feeding_steps import (
    first_acids,
    foretold_rise_ms_per_cm,
    present,
    water_ms_per_cm,
    whole_strength,
    with_poured,
)

NO_RISE = 0.3
"""A rise under this share of the forecast is no strength of a tank but a meter, a unit or a pour gone wrong (own
choice)."""

READ_AGAIN = (0.6, 1.0 / 0.6)
"""A rise outside these shares of the forecast is read once more before anything is done about it (this program's own
choice: wider than two scales of ppm taken for each other, 1.4, narrower than a tank poured twice)."""

SAME_SHARE = 0.05
"""Two readings this near say the same (this program's own choice; a pen shows 2 %)."""

ODD = ("factor-odd", "factor-twice")
"""What is said of a rise that no meter explains once it goes on all the same."""

SOUR_BELOW = 0.5
"""A pH this far under the forecast is no carbonic acid that air will take away (this program's own choice)."""

WATER_OFF, WATER_OFF_MS_PER_CM = 0.25, 0.1
"""A water that reads further from its report is another water, or another scale (this program's own choice)."""


def started(tanks: FeedTanks, asked: Asked) -> State:
    """Return the state in which the first thing is to be done.

    Raises
    ------
    core.chemistry.OutOfRange : for a pH that no feed like this can have.
    """
    state = begin(tanks, asked)
    if asked.start_ms_per_cm is None:
        return state
    if asked.holds == "water":
        off = abs(asked.start_ms_per_cm - tanks.water_ms_per_cm)
        if off > max(WATER_OFF * tanks.water_ms_per_cm, WATER_OFF_MS_PER_CM):
            data = {"read_ms_per_cm": asked.start_ms_per_cm, "report_ms_per_cm": tanks.water_ms_per_cm}
            state = state.says(Remark("check", "water-reads-off", data))
    return _by_reading(tanks, asked, state, "silicate")


def _by_reading(tanks: FeedTanks, asked: Asked, state: State, short: Literal["silicate", "pour-rest"]) -> State:
    """What follows from the last reading: water where it is too strong, pH where it is right, else what is missing."""
    if near(asked, state.ms_per_cm):
        return _ec_stands(state)
    if state.ms_per_cm > asked.wanted_ms_per_cm:
        return _thinned(tanks, asked, state)
    if short == "pour-rest":
        return _pouring(tanks, asked, state, "pour-rest")
    if silent_parts(tanks):
        return state.to("silicate")
    return _after_silicate(tanks, asked, state)


def _ec_stands(state: State) -> State:
    return state.to("read-ph")


def _thinned(tanks: FeedTanks, asked: Asked, state: State) -> State:
    try:
        present(tanks, asked, state.to("add-water"))
    except DoseOutOfReach as error:
        data = {"water_ms_per_cm": error.nearest_ms_per_cm, "wanted_ms_per_cm": error.target_ms_per_cm}
        return _ec_stands(state.says(Remark("stop", "water-too-strong", data)))
    return state.to("add-water")


def _after_silicate(tanks: FeedTanks, asked: Asked, state: State) -> State:
    if whole_strength(tanks, asked, state) is None:  # told before any acid is in
        return _pouring(tanks, asked, state, "pour-first")
    first = first_acids(tanks, asked, state)
    return state.to("acid-first", first=first) if first else _pouring(tanks, asked, state, "pour-first")


def _pouring(tanks: FeedTanks, asked: Asked, state: State, phase: StepKind) -> State:
    if whole_strength(tanks, asked, state) is None:
        return _ec_stands(state.says(Remark("stop", "out-of-reach", {"wanted_ms_per_cm": asked.wanted_ms_per_cm})))
    return state.to(phase)


def advance(tanks: FeedTanks, asked: Asked, state: State, step: Step, done: Done) -> tuple[State, Step]:
    """Return the state after a step, and the step as it was done.

    Parameters
    ----------
    step : what `present` told for this state
    done : what was really poured or read; what it leaves open was done as told
    """
    if step.kind in POURS:
        return _after_pour(tanks, asked, state, step, done)
    if step.kind in DROPS:
        return _after_drop(tanks, asked, state, step, done)
    if step.kind == "add-water":
        return _after_water(tanks, asked, state, step, done)
    if step.kind == "read-ph":
        return _after_ph(tanks, asked, state, step, done)
    assert step.kind in ("read", "read-start"), f"nothing follows {step.kind}"
    return _after_reading(tanks, asked, state, step, done)


def _after_pour(tanks: FeedTanks, asked: Asked, state: State, step: Step, done: Done) -> tuple[State, Step]:
    pours = tuple(with_changes(p, ml=done.parts_ml.get(p.name, p.ml)) for p in step.pours)
    litres = {pour.name: pour.ml / 1000.0 for pour in pours}
    parts = {name: state.parts_l.get(name, 0.0) + litres.get(name, 0.0) for name in {**state.parts_l, **litres}}
    as_done = with_changes(step, state="done", pours=pours)
    if step.kind == "silicate":
        after = _on_new_base(replace(state, contents=tanks.poured(state.contents, litres), parts_l=parts))
        return _after_silicate(tanks, asked, after), as_done
    return replace(with_poured(tanks, state, litres), parts_l=parts).to("read"), as_done


def _on_new_base(state: State) -> State:
    """The rise counts from here, the EC of what is new in it foretold."""
    ec = state.base_ms_per_cm + state.factor * foretold_rise_ms_per_cm(state)
    return replace(state, base=state.contents, base_ms_per_cm=ec, ms_per_cm=ec, since_l={}, chord=None, points=())


def _after_drop(tanks: FeedTanks, asked: Asked, state: State, step: Step, done: Done) -> tuple[State, Step]:
    assert step.drop is not None, "an acid step names its acid"
    drop = step.drop if done.amount is None else with_changes(step.drop, amount=done.amount)
    as_done = with_changes(step, state="done", drop=drop)
    source = state.first[0][0] if step.kind == "acid-first" else product_for(tanks, asked, _kind(step))
    after = replace(
        state, contents=state.contents.with_product(source, drop.amount), drops=_with_drop(state.drops, drop)
    )
    if step.kind != "acid-first":
        return replace(after, read_ph=None, trim=None).to("read-ph"), as_done
    after = _on_new_base(replace(after, first=state.first[1:]))
    return (after if after.first else _pouring(tanks, asked, after, "pour-first")), as_done


def _kind(step: Step) -> Literal["acid", "base"]:
    return "base" if step.kind == "base" else "acid"


def _with_drop(drops: tuple[Drop, ...], drop: Drop) -> tuple[Drop, ...]:
    """All that went in, each product once."""
    same = next((one for one in drops if with_changes(one, amount=0.0) == with_changes(drop, amount=0.0)), None)
    if same is None:
        return (*drops, drop)
    return tuple(with_changes(one, amount=one.amount + drop.amount) if one is same else one for one in drops)


def _after_water(tanks: FeedTanks, asked: Asked, state: State, step: Step, done: Done) -> tuple[State, Step]:
    litres = (step.water_l or 0.0) if done.water_l is None else done.water_l
    water = water_ms_per_cm(tanks, asked)
    ec = mixed_ec_ms_per_cm(((state.contents.volume_l, state.ms_per_cm), (litres, water)))
    contents = state.contents.mixed(tanks.of_water(litres)) if litres else state.contents
    after = replace(
        state, contents=contents, base=contents, base_ms_per_cm=ec, ms_per_cm=ec, since_l={}, chord=None, points=(),
        water_l=state.water_l + litres,
    )  # fmt: skip
    return after.to("read"), with_changes(step, state="done", water_l=litres)


def _after_reading(tanks: FeedTanks, asked: Asked, state: State, step: Step, done: Done) -> tuple[State, Step]:
    ec = done.ec_ms_per_cm
    if ec is None:  # believed without a reading
        ec = step.expected_ms_per_cm or state.ms_per_cm
        as_done = with_changes(step, state="done", skipped=True)
        return _by_reading(tanks, asked, replace(state, ms_per_cm=ec), "pour-rest"), as_done
    as_done = with_changes(step, state="done", read_ms_per_cm=ec)
    at = strength_of(tanks, state.since_l, state.base.volume_l, silent_parts(tanks))
    if at <= 0.0:
        after = replace(state, base_ms_per_cm=ec, ms_per_cm=ec)
        return _by_reading(tanks, asked, after, "pour-rest"), as_done
    foretold, measured = foretold_rise_ms_per_cm(state), ec - state.base_ms_per_cm
    if not measured > NO_RISE * foretold:
        data = {"read_ms_per_cm": ec, "expected_ms_per_cm": step.expected_ms_per_cm or 0.0}
        return _without_doubts(state).says(Remark("stop", "no-rise", data)), as_done
    factor = measured / foretold
    as_done = with_changes(as_done, factor=factor)
    doubtful = not READ_AGAIN[0] <= factor <= READ_AGAIN[1]
    if doubtful and not _says_the_same(state, ec):
        asks = _without_doubts(state).says(Remark("stop", "factor-doubtful", {"factor": factor}))
        return replace(asks, doubted_ms_per_cm=ec), as_done
    after = replace(
        _without_doubts(state), ms_per_cm=ec, factor=factor, measured=True, chord=measured / at,
        points=(*state.points, (at, ec)),
    )  # fmt: skip
    if not PLAUSIBLE[0] <= factor <= PLAUSIBLE[1]:
        after = after.says(Remark("check", "factor-twice" if doubtful else "factor-odd", {"factor": factor}))
    return _by_reading(tanks, asked, after, "pour-rest"), as_done


def _without_doubts(state: State) -> State:
    """The state without what was said of the reading before."""
    remarks = tuple(one for one in state.remarks if one.code not in ("no-rise", "factor-doubtful", *ODD))
    return replace(state, remarks=remarks, doubted_ms_per_cm=None)


def _says_the_same(state: State, ec: float) -> bool:
    """Whether a reading bears out the one that was doubted."""
    doubted = state.doubted_ms_per_cm
    return doubted is not None and abs(ec - doubted) <= SAME_SHARE * doubted


def _after_ph(tanks: FeedTanks, asked: Asked, state: State, step: Step, done: Done) -> tuple[State, Step]:
    if done.ph is None:
        return state.to("finish"), with_changes(step, state="done", skipped=True)
    as_done = with_changes(step, state="done", read_ph=done.ph)
    try:
        contents = state.contents.at_ph(done.ph)
    except OutOfRange:
        contents = state.contents
    sour = asked.holds == "feed" or (step.expected_ph is not None and done.ph < step.expected_ph - SOUR_BELOW)
    return _by_ph(tanks, asked, replace(state, contents=contents, sour=sour), done.ph), as_done


def _by_ph(tanks: FeedTanks, asked: Asked, state: State, ph: float) -> State:
    """What follows from a pH that was read: acid or base where it is off, else nothing more."""
    state = replace(state, read_ph=ph, remarks=tuple(one for one in state.remarks if one.code != "ph-out-of-reach"))
    kind = needed(tanks, asked, ph, look((state.contents,)).ph_aired[0], sour=state.sour)
    if kind is None:
        return state.to("finish")
    way = trim(state.contents, ph, wanted_ph(tanks, asked), product_for(tanks, asked, kind))
    if way is None:
        return state.says(Remark("check", "ph-out-of-reach", {"ph": ph})).to("finish")
    return state.to(kind, trim=way)


def rethought(tanks: FeedTanks, asked: Asked, state: State) -> State:
    """Return what is to be done in a state now that something else is wanted; what was done stays."""
    if not state.parts_l and not state.drops and not state.water_l:
        return replace(started(tanks, asked), read_ph=state.read_ph)
    if state.phase == "read":
        return state
    if state.phase in ("silicate", "acid-first", "pour-first"):
        return _pouring(tanks, asked, state, "pour-first") if state.phase == "pour-first" else state
    state = replace(state, remarks=tuple(one for one in state.remarks if one.code in (*ODD, "water-reads-off")))
    if not near(asked, state.ms_per_cm):
        return _by_reading(tanks, asked, state, "pour-rest")
    if state.phase in ("acid", "base", "finish") and state.read_ph is not None:
        return _by_ph(tanks, asked, state, state.read_ph)
    return state.to("read-ph")


def expected_done(step: Step) -> Done:
    """Return a step done just as told and read just as expected."""
    if step.kind in ("read", "read-start"):
        return Done(ec_ms_per_cm=step.expected_ms_per_cm)
    if step.kind == "read-ph":
        return Done(ph=step.expected_ph)
    return Done()
