"""Dosing a reservoir step by step: what is asked and done so far -> the one thing to do now, and what comes after.

Silicate first, then bulk acid where the water is hard, most of the tanks, a reading, the rest in proportion to the
rise that was measured, and the pH at last in small equal steps. Everything follows from what was stated and done, so a
step is taken back by leaving it out.
"""

from __future__ import annotations

from dataclasses import dataclass

from msgspec.structs import replace as with_changes

from core.plan.feed_tanks import FeedTanks
from core.plan.feeding_moves import advance, expected_done, rethought, started
from core.plan.feeding_records import DROPS, Asked, Curve, Done, Feeding, Step
from core.plan.feeding_state import State
from core.plan.feeding_steps import present
from core.plan.feeding_told import EC_STANDS, curve_of, order_of, ph_of

MOST_COMING = 8

BEFORE_TANKS, TANK_POURS = ("silicate", "acid-first"), ("pour-first", "pour-rest")
"""Steps before the tanks whose rise is foretold, and those that pour them."""


@dataclass(frozen=True, eq=False)
class Walk:
    """A dosing as far as it was done; another step makes another walk, and the one before is the way back."""

    tanks: FeedTanks
    asked: Asked
    state: State
    steps: tuple[Step, ...]
    now: Step

    def after(self, done: Done) -> Walk:
        """Return the walk with the present step done; a finished one stays as it is.

        Raises
        ------
        core.chemistry.OutOfRange : for a pH of the start that no feed like this can have.
        """
        if self.now.kind == "finish":
            return self
        if self.now.kind == "read-start":
            asked = with_changes(self.asked, start_ms_per_cm=done.ec_ms_per_cm, start_ph=done.ph)
            return walk(self.tanks, asked)
        state, as_done = advance(self.tanks, self.asked, self.state, self.now, done)
        return Walk(self.tanks, self.asked, state, (*self.steps, as_done), present(self.tanks, self.asked, state))

    def wanting(self, asked: Asked) -> Walk:
        """Return the walk with another EC, pH or product wanted: what was done stays, what is to be done is new.

        asked : as before but for what is wanted; volume, start and contents belong to another walk
        """
        if self.now.kind == "read-start":
            return walk(self.tanks, asked)
        state = rethought(self.tanks, asked, self.state)
        return Walk(self.tanks, asked, state, self.steps, present(self.tanks, asked, state))

    def told(self) -> Feeding:
        """Return where the dosing stands, for whoever shows it; before the first reading as the report has it."""
        if self.now.kind == "read-start" and self.now.expected_ms_per_cm is not None:
            return self._foretold()
        tanks, asked, state = self.tanks, self.asked, self.state
        coming = self._coming()
        ahead = [one.state for one in (self, *coming)]
        stands = next((one for one in ahead if one.phase in EC_STANDS), ahead[-1])
        return Feeding(
            steps=(*self.steps, self.now, *(with_changes(one.now, state="coming") for one in coming)),
            now=len(self.steps),
            order=order_of(tanks, asked),
            curve=self._curve(coming),
            ph=ph_of(tanks, asked, state, stands),
            remarks=state.remarks,
            factor=state.factor,
            factor_measured=state.measured,
            start_l=state.start_l,
            volume_l=state.contents.volume_l,
            volume_end_l=ahead[-1].contents.volume_l,
            parts_ml={name: 1000.0 * litres for name, litres in state.parts_l.items()},
            drops=state.drops,
            water_l=state.water_l,
            ec_ms_per_cm=None if asked.start_ms_per_cm is None else state.ms_per_cm,
            read_ph=state.read_ph,
        )

    def _curve(self, coming: tuple[Walk, ...]) -> Curve | None:
        """The curve from where the tanks go in, silicate and acid that are due before them poured as told.

        What is wanted in all is what the steps come to: the rest goes along a straight line and ends a little short of
        the curve.
        """
        ahead = (self, *coming)
        here = next((one for one in ahead if one.state.phase not in BEFORE_TANKS), self)
        curve = curve_of(self.tanks, self.asked, here.state)
        if curve is None or curve.wanted is None or here.state.phase in EC_STANDS:
            return curve
        pours = [
            pour.ml for one in ahead if one.now.kind in TANK_POURS for pour in one.now.pours if pour.name == curve.lead
        ]
        in_all_ml = 1000.0 * here.state.since_l.get(curve.lead, 0.0) + sum(pours)
        points = curve.points if here is self else ((0.0, self.state.base_ms_per_cm),)
        return with_changes(curve, wanted=(in_all_ml, curve.wanted[1]), points=points)

    def _foretold(self) -> Feeding:
        """What will come if the water reads what its report makes; nothing of it was read."""
        ahead = self.after(Done(ec_ms_per_cm=self.now.expected_ms_per_cm, ph=self.asked.start_ph)).told()
        coming = tuple(with_changes(step, state="coming") for step in ahead.steps[1:])
        curve = None if ahead.curve is None else with_changes(ahead.curve, points=())
        return with_changes(
            ahead,
            steps=(self.now, *coming),
            now=0,
            curve=curve,
            remarks=(),
            ec_ms_per_cm=None,
            start_l=self.asked.volume_l,
        )

    def _coming(self) -> tuple[Walk, ...]:
        """The walks ahead if all goes as told, up to the pH, or to the first step of trimming it."""
        if self.now.kind == "read-start":
            return ()
        ahead: list[Walk] = []
        here = self
        while here.now.kind not in ("finish", *DROPS[1:]) and len(ahead) < MOST_COMING:
            here = here.after(expected_done(here.now))
            ahead.append(here)
        return tuple(ahead)


def walk(tanks: FeedTanks, asked: Asked) -> Walk:
    """Begin a dosing.

    Parameters
    ----------
    tanks : from `core.plan.feed_tanks.feed_tanks`
    asked : what is stated before anything is poured

    Raises
    ------
    core.chemistry.OutOfRange : for a pH of the start that no feed like this can have.
    """
    state = started(tanks, asked)
    steps: tuple[Step, ...] = ()
    if asked.start_ms_per_cm is not None:
        steps = (Step("read-start", "done", read_ms_per_cm=asked.start_ms_per_cm, read_ph=asked.start_ph),)
    return Walk(tanks, asked, state, steps, present(tanks, asked, state))


def feeding(tanks: FeedTanks, asked: Asked, done: tuple[Done, ...] = ()) -> Feeding:
    """Say where a dosing stands after some steps were done, each told by what was really poured or read."""
    here = walk(tanks, asked)
    for one in done:
        here = here.after(one)
    return here.told()
