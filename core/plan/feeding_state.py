"""Where a dosing stands between two steps, and the curve of EC against what is poured from there."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from core.bench.dosing import DoseOutOfReach, dose_for_rise, tabulated_rise
from core.blend.nutrients import Array
from core.blend.shelf import Source
from core.plan.feed_contents import Contents, conductivities_ms_per_cm
from core.plan.feed_tanks import FeedTanks
from core.plan.feeding_ph import Trim
from core.plan.feeding_records import Asked, Drop, Remark, StepKind

GRID = 17
"""Points of the curve; straight between them, which is off by less than 0.0005 mS/cm."""

BEYOND = 1.45
"""The curve ends at this many times the dose wanted (own choice)."""

LEAST_RISE_MS_PER_CM = 0.05
"""Tanks whose planned strength adds less than this are no feed to dose by EC (own choice)."""

LEAST_STRENGTH, MOST_STRENGTH = 0.3, 8.0
"""Shortest and longest curve, in planned strengths (own choices)."""

TOLERANCE_MS_PER_CM, TOLERANCE_SHARE = 0.05, 0.03
"""How near to the EC wanted is near enough (this program's own choice; a pen shows 2 %, growers allow 0.1)."""


@dataclass(frozen=True, eq=False)
class Rise:
    """EC against strength poured from some contents on, by the forecast.

    Attributes
    ----------
    strength : (n,) ndarray, planned strengths poured per litre there was
    ec_ms_per_cm : (n,) ndarray, as forecast, without any factor
    """

    strength: Array
    ec_ms_per_cm: Array

    def at(self, strength: float) -> float:
        """EC added by a strength [mS/cm]."""
        return tabulated_rise(self.strength.tolist(), self.ec_ms_per_cm.tolist())(strength)

    def for_rise(self, rise_ms_per_cm: float) -> float | None:
        """Strength that adds this EC [mS/cm], None where the curve ends before."""
        if rise_ms_per_cm > float(self.ec_ms_per_cm[-1] - self.ec_ms_per_cm[0]):
            return None
        try:
            return dose_for_rise(rise_ms_per_cm, self.at)
        except DoseOutOfReach:
            return None


NO_RISE = Rise(np.array([0.0, 1.0]), np.zeros(2))
"""What is known of contents outside the chemistry's range."""


@dataclass(frozen=True, eq=False)
class State:
    """Everything that the next step follows from.

    Attributes
    ----------
    base : contents before the first pour of the parts, or when water was last added
    base_ms_per_cm : EC read of them, or foretold from the last reading
    since_l : of each part, poured since [L]
    chord : EC measured per strength poured since [mS/cm], None before a reading
    points : (strength poured since, EC read)
    doubted_ms_per_cm : EC of a reading that is to be taken again before it is believed
    """

    phase: StepKind
    contents: Contents
    base: Contents
    base_ms_per_cm: float
    ms_per_cm: float
    factor: float
    measured: bool = False
    chord: float | None = None
    since_l: dict[str, float] = field(default_factory=dict)
    points: tuple[tuple[float, float], ...] = ()
    start_l: float = 0.0
    parts_l: dict[str, float] = field(default_factory=dict)
    drops: tuple[Drop, ...] = ()
    water_l: float = 0.0
    first: tuple[tuple[Source, float], ...] = ()
    trim: Trim | None = None
    read_ph: float | None = None
    sour: bool = False
    doubted_ms_per_cm: float | None = None
    remarks: tuple[Remark, ...] = ()

    def to(self, phase: StepKind, **changes: object) -> State:
        """The state with another thing to do."""
        return replace(self, phase=phase, **changes)  # type: ignore[arg-type]

    def says(self, remark: Remark) -> State:
        """The state with something to be said, once."""
        others = tuple(one for one in self.remarks if one.code != remark.code)
        return replace(self, remarks=(*others, remark))


def silent_parts(tanks: FeedTanks) -> frozenset[str]:
    """Return the parts that go in before the others, in whole: silicate."""
    return frozenset(part.name for part in tanks.parts if part.content == "silicate")


def strength_of(tanks: FeedTanks, poured_l: dict[str, float], volume_l: float, without: frozenset[str]) -> float:
    """Return the strength that poured amounts [L] make in a volume [L], the mean where they are out of step."""
    mains = [part for part in tanks.parts if part.name not in without]
    whole = sum(part.ml_per_l for part in mains) / 1000.0 * volume_l
    return sum(poured_l.get(part.name, 0.0) for part in mains) / whole if whole > 0.0 else 0.0


def rise_of(tanks: FeedTanks, base: Contents, wanted_rise_ms_per_cm: float, without: frozenset[str]) -> Rise:
    """Forecast the EC against the strength poured into contents, far enough to pass a rise [mS/cm] and be drawn."""
    per_strength = max(tanks.full_ms_per_cm - tanks.water_ms_per_cm, LEAST_RISE_MS_PER_CM)
    last = min(max(BEYOND * wanted_rise_ms_per_cm / per_strength, LEAST_STRENGTH), MOST_STRENGTH)
    while True:
        strength = np.linspace(0.0, last, GRID)
        contents = [tanks.poured(base, tanks.dose_l(s, base.volume_l, without)) for s in strength.tolist()]
        ec = conductivities_ms_per_cm(contents)
        known = np.isfinite(ec)
        if not known.all():
            return Rise(strength[known], ec[known]) if known[:2].all() else NO_RISE
        if ec[-1] - ec[0] > 1.1 * wanted_rise_ms_per_cm or last >= MOST_STRENGTH:
            return Rise(strength, ec)
        last = min(last * 1.6, MOST_STRENGTH)


def near(asked: Asked, ms_per_cm: float) -> bool:
    """Whether an EC is near enough to the one wanted."""
    return abs(ms_per_cm - asked.wanted_ms_per_cm) <= tolerance_ms_per_cm(asked)


def tolerance_ms_per_cm(asked: Asked) -> float:
    """How far from the EC wanted a reading may be [mS/cm]."""
    return max(TOLERANCE_MS_PER_CM, TOLERANCE_SHARE * asked.wanted_ms_per_cm)


def begin(tanks: FeedTanks, asked: Asked) -> State:
    """The state before anything is done; the first thing is a reading where there is none yet.

    Raises
    ------
    core.chemistry.OutOfRange : for a pH that no feed like this can have.
    """
    start = asked.start_ms_per_cm
    contents = tanks.of_water(1.0) if asked.holds == "water" else _left_feed(tanks, start)
    if asked.start_ph is not None:
        contents = contents.at_ph(asked.start_ph)
    volume_l = _start_volume_l(tanks, asked, contents)
    contents = replace(contents, volume_l=volume_l)
    ec = 0.0 if start is None else start
    return State("read-start", contents, contents, ec, ec, asked.factor, read_ph=asked.start_ph, start_l=volume_l)


def _left_feed(tanks: FeedTanks, ms_per_cm: float | None) -> Contents:
    """What is left of a feed of these tanks, told by its EC: nothing else is known of it."""
    if ms_per_cm is None:
        return tanks.of_water(1.0)
    water = tanks.of_served_water(1.0)
    rise = rise_of(tanks, water, max(ms_per_cm, 0.1), frozenset())
    ec = rise.ec_ms_per_cm
    strength = float(np.interp(ms_per_cm, ec, rise.strength))
    mixed = tanks.poured(water, tanks.dose_l(strength, 1.0))
    return replace(mixed, volume_l=1.0)


def _start_volume_l(tanks: FeedTanks, asked: Asked, contents: Contents) -> float:
    """What is in the reservoir before the first pour [L]; what will be poured fills it up where the end was stated."""
    if asked.volume_is == "start" or asked.start_ms_per_cm is None:
        return asked.volume_l
    wanted = (asked.wanted_ms_per_cm - asked.start_ms_per_cm) / asked.factor
    strength = rise_of(tanks, contents, max(wanted, 0.0), frozenset()).for_rise(max(wanted, 0.0)) or 0.0
    return asked.volume_l / (1.0 + sum(tanks.dose_l(strength, 1.0).values()))
