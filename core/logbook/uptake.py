"""What the crop took up between two laboratory analyses, by balance, against what the feed brought.

Per litre of water used: start + additions - drained - end, over the water used. The crop is taken to have drawn
evenly from all the water it used in the time; then what was drained held what was there, and the balance has one
solution, without a guess. What is missing for a balance is said instead.

Source: the balance is GHVI's daily management (growers' extension, New Zealand, READ); the even draw is ours.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, time
from typing import Literal

from core.blend.nutrients import MG_PER_MMOL, ROW, Array
from core.logbook.forecast import forecast
from core.logbook.moves import Move, moves
from core.logbook.records import Entry, Logbook, Reservoir
from core.logbook.stores import Stores
from core.recipe.records import NUTRIENTS

Missing = Literal[
    "level-at-start", "level-at-end", "no-water-used", "filled-anew", "batch-not-weighed", "water-unknown"
]

UNSEEN_PERCENT = 10.0
"""A nutrient whose concentration changed by this much more than the EC, down or up, is told of (our own choice)."""

USED_LEAST_SHARE = 0.02
"""Less water used than this share of the volume at the start is lost in how well a level is read (our own choice)."""

_FORMS = ("NO3-N", "NH4-N", "urea-N")
_WATER_TELLS = ("N", "P", "K", "Ca", "Mg", "S", "Na", "Cl")
"""What a water is asked about; it is told where its report leaves one of these out."""


@dataclass(frozen=True)
class Taken:
    """One nutrient between two analyses.

    Attributes
    ----------
    start_mg_per_l, end_mg_per_l : as the laboratory found it
    mg_per_l_used : taken up per litre of water used [mg/L]; negative where more is there than can be
    mg_per_day : the same per day
    brought_mg_per_l : what came in, per litre that came in [mg/L]; None where nothing did
    change_percent : of the concentration from start to end; None from nothing
    """

    nutrient: str
    start_mg_per_l: float
    end_mg_per_l: float
    mg_per_l_used: float
    mg_per_day: float
    brought_mg_per_l: float | None
    change_percent: float | None


@dataclass(frozen=True)
class Unseen:
    """A nutrient that moved otherwise than the EC meter did [% of each at the start]."""

    nutrient: str
    change_percent: float
    ec_change_percent: float


@dataclass(frozen=True)
class Uptake:
    """The balance between two analyses; where something is `missing` there are no figures.

    Attributes
    ----------
    start, end : places of the two entries in the diary
    days, used_l, brought_l, drained_l : of the time between
    taken : nutrients that stand in both analyses
    unseen : those that changed otherwise than EC, furthest first
    water_silent : nutrients the water's report does not name; counted as none in it
    """

    start: int
    end: int
    days: float
    used_l: float
    brought_l: float
    drained_l: float
    taken: tuple[Taken, ...]
    unseen: tuple[Unseen, ...]
    missing: tuple[Missing, ...] = ()
    water_silent: tuple[str, ...] = ()

    @property
    def mg_per_l_used(self) -> dict[str, float]:
        """Nutrient -> uptake per litre of water used, where it is above nothing [mg/L]."""
        return {one.nutrient: one.mg_per_l_used for one in self.taken if one.mg_per_l_used > 0.0}


@dataclass(frozen=True)
class _Span:
    """The time between two analyses: days, what was there at its start, what was used and what came in [L]."""

    days: float
    start_l: float
    used_l: float
    brought_l: float


@dataclass
class _Balance:
    """A nutrient's mass, affine in what is taken per litre of water: `plain` [mg] less `per_uptake` [L] times that."""

    plain: float
    per_uptake: float = 0.0
    brought: float = 0.0

    def step(self, move: Move, added_mg: float) -> None:
        """Use water, drain, add."""
        self.per_uptake = move.kept_share * (self.per_uptake + (move.used_l or 0.0))
        self.plain = move.kept_share * self.plain + added_mg
        self.brought += added_mg


def uptakes(logbook: Logbook, reservoir: Reservoir) -> tuple[Uptake, ...]:
    """Return the balance of every pair of analyses that follow each other, oldest first."""
    analysed = [index for index, entry in enumerate(reservoir.entries) if entry.analysis_mg_per_l]
    stores, steps = Stores(logbook, reservoir), moves(reservoir)
    return tuple(_between(stores, steps, start, end) for start, end in zip(analysed, analysed[1:], strict=False))


def learned_uptake(logbook: Logbook, reservoir: Reservoir) -> dict[str, float]:
    """Return the uptake of the last complete balance per litre of water used [mg/L]; empty where there is none."""
    complete = [one for one in uptakes(logbook, reservoir) if not one.missing]
    return complete[-1].mg_per_l_used if complete else {}


def moment(at: str) -> datetime:
    """Return the time of an entry; a day without a time counts from its noon."""
    found = datetime.fromisoformat(at)
    return found if "T" in at else datetime.combine(found.date(), time(12))


def _between(stores: Stores, steps: tuple[Move, ...], start: int, end: int) -> Uptake:
    entries, within = stores.reservoir.entries, steps[start + 1 : end + 1]
    span = _Span(
        (moment(entries[end].at) - moment(entries[start].at)).total_seconds() / 86400.0,
        steps[start].after_l,
        sum(move.used_l or 0.0 for move in within),
        sum(map(_came_in, within)),
    )
    missing = _missing(stores, steps, start, end, span.used_l)
    taken: tuple[Taken, ...] = ()
    if not missing:
        came = [MG_PER_MMOL @ stores.added(index, _came_in(steps[index])).totals for index in range(start + 1, end + 1)]
        first, last = _report(entries[start]), _report(entries[end])
        both = [name for name in NUTRIENTS if name in first and name in last]
        taken = tuple(_taken(first[name], last[name], name, within, came, span) for name in both)
    return Uptake(
        start,
        end,
        span.days,
        span.used_l,
        span.brought_l,
        sum(move.drained_l for move in within),
        taken,
        _unseen(stores, start, end, taken),
        missing,
        () if missing else _silent(stores, steps, range(start + 1, end + 1)),
    )


def _missing(stores: Stores, steps: tuple[Move, ...], start: int, end: int, used_l: float) -> tuple[Missing, ...]:
    entries, span = stores.reservoir.entries, range(start + 1, end + 1)
    first = entries[start]
    found: list[Missing] = []
    if any(entries[index].fresh for index in span):
        return ("filled-anew",)
    if first.level_l is None and not (first.fresh and first.water_l is not None):
        found.append("level-at-start")
    if entries[end].level_l is None:
        found.append("level-at-end")
    if not found and used_l < USED_LEAST_SHARE * steps[start].after_l:
        found.append("no-water-used")
    poured = {entries[index].batch_id for index in span if entries[index].parts_ml}
    if any(not stores.batches[batch_id].weighed for batch_id in poured):
        found.append("batch-not-weighed")
    if any(_came_in(steps[index]) > 0.0 and stores.water_report(index) is None for index in span):
        found.append("water-unknown")
    return tuple(found)


def _came_in(move: Move) -> float:
    return move.added_l + move.unlogged_l


def _report(entry: Entry) -> dict[str, float]:
    """What the laboratory found; nitrate and ammonium together are a total of nitrogen where none is named."""
    found: dict[str, float] = {}
    found.update(entry.analysis_mg_per_l.items())
    forms = [found.get("NO3-N"), found.get("NH4-N")]
    if "N" not in found and None not in forms:
        found["N"] = sum(form or 0.0 for form in (*forms, found.get("urea-N")))
    return found


def _taken(
    first: float, last: float, nutrient: str, steps: Sequence[Move], came: Sequence[Array], span: _Span
) -> Taken:
    """One nutrient [mg/L] through the moves from start to end, with what came in at each [mg of every nutrient]."""
    balance = _Balance(first * span.start_l)
    for move, added in zip(steps, came, strict=True):
        balance.step(move, float(added[ROW[nutrient]]))
    per_l = (balance.plain - last * steps[-1].after_l) / balance.per_uptake
    return Taken(
        nutrient,
        first,
        last,
        per_l,
        per_l * span.used_l / span.days if span.days > 0.0 else 0.0,
        balance.brought / span.brought_l if span.brought_l > 0.0 else None,
        100.0 * (last / first - 1.0) if first > 0.0 else None,
    )


def _unseen(stores: Stores, start: int, end: int, taken: tuple[Taken, ...]) -> tuple[Unseen, ...]:
    """Nutrients that fell or rose against the EC; by the readings, or where there is none by the reports' own EC."""
    if not taken:
        return ()
    entries = stores.reservoir.entries
    before, after = entries[start].ec_ms_per_cm, entries[end].ec_ms_per_cm
    if not before or after is None:
        told = forecast(stores.logbook, stores.reservoir)
        before, after = told[start].ec_ms_per_cm, told[end].ec_ms_per_cm
    if not before or after is None:
        return ()
    ec = 100.0 * (after / before - 1.0)
    whole = any(one.nutrient == "N" for one in taken)
    told_of = [one for one in taken if not (whole and one.nutrient in _FORMS)]
    moved = [(one.nutrient, one.change_percent) for one in told_of if one.change_percent is not None]
    apart = [Unseen(name, change, ec) for name, change in moved if abs(change - ec) > UNSEEN_PERCENT]
    return tuple(sorted(apart, key=lambda one: -abs(one.change_percent - ec)))


def _silent(stores: Stores, steps: tuple[Move, ...], span: range) -> tuple[str, ...]:
    silent: dict[str, None] = {}
    for index in span:
        report = stores.water_report(index)
        if _came_in(steps[index]) > 0.0 and report is not None:
            named = {name for name, _mg_per_l in report.mg_per_l.items()}
            named |= {"N"} if {"NO3-N", "NH4-N"} & named else set()
            silent |= dict.fromkeys(name for name in _WATER_TELLS if name not in named)
    return tuple(silent)
