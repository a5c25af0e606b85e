"""From an aim to the rows of a fit: targets, limits, alkalinity, and what nobody asked for."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from core.blend.ammonium import YIELDED, ammonium_share_percent, binds_ammonium, is_forced, yielded
from core.blend.fit import Problem
from core.blend.nutrients import MG_PER_MMOL, ROW, Array, read_only
from core.blend.shelf import TRACE_PART, TRACE_TOTALS, Shelf, Source
from core.catalog import ATOMIC_WEIGHTS
from core.recipe.records import TRACES, Aim, ShelfEntry, Target

if TYPE_CHECKING:
    from core.blend.alkalinity import AcidUse

DEFAULT_WEIGHT = {"S": 0.2} | dict.fromkeys((*TRACES, "Na", "Cl"), 0.1)
"""Weight of a row when the target gives none; macros 1 (own choice). Light traces never steer the macros they share a
bag with, and sulfur follows from the other salts."""

DEFAULT_TOLERANCE_PERCENT: dict[str, tuple[float, float]] = {
    "S": (20.0, 60.0),
    "Fe": (20.0, 20.0),
    "Mn": (20.0, 20.0),
    "Zn": (20.0, 20.0),
    "B": (20.0, 20.0),
    "Cu": (25.0, 25.0),
    "Mo": (25.0, 25.0),
}
"""Per cent below and above a target that still count as met; 5 % both ways for everything not listed. Own choice:
weighing is good to about 5 %, crops stand a wide range of sulfur, and traces at the bench are off by 10 to 20 %."""

ADDED_CHLORIDE_MG_PER_L = 70.0
"""Most chloride the products may add when the aim says nothing (Mattson & Peters, "A recipe for hydroponic success",
Inside Grower: below 70 mg/L; READ)."""


@dataclass(frozen=True)
class TargetRow:
    """One target as it is fitted and judged [mg/L]."""

    nutrient: str
    target: float
    low: float
    high: float
    weight: float


@dataclass(frozen=True)
class LimitRow:
    """What one at-most row stands for: `about` is a nutrient or a shelf key, `side` "at most" or "at least".

    `of` gives the row as a sum over nutrients of the feed, (name, factor) each; empty where it is none.
    """

    code: str
    about: str
    side: str
    asked: float
    bound: float
    of: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, eq=False)
class Demands:
    """Everything one solve needs.

    Attributes
    ----------
    free : (n,) integer ndarray, columns of the shelf that are solved for
    fixed_mg_per_l : (n_sources,) ndarray, amounts the recipe states exactly
    base_totals : (n_components,) ndarray [mmol/L], water and fixed amounts
    base_alkalinity : float [meq/L], of the same
    problem : Problem over the free columns
    unasked : (n,) ndarray [meq or mmol per mg], what each free column brings that nobody asked for
    """

    free: NDArray[np.intp]
    fixed_mg_per_l: Array
    base_totals: Array
    base_alkalinity: float
    targets: tuple[TargetRow, ...]
    limits: tuple[LimitRow, ...]
    problem: Problem
    unasked: Array
    alkalinity_goal: float | None
    notes: tuple[str, ...] = field(default=())


@lru_cache(maxsize=1024)
def target_row(target: Target) -> TargetRow:
    """Give a target its wanted range and weight."""
    below, above = DEFAULT_TOLERANCE_PERCENT.get(target.nutrient, (5.0, 5.0))
    if target.tolerance_percent is not None:
        below = above = target.tolerance_percent
    low = target.low_mg_per_l if target.low_mg_per_l is not None else target.mg_per_l * (1.0 - below / 100.0)
    high = target.high_mg_per_l if target.high_mg_per_l is not None else target.mg_per_l * (1.0 + above / 100.0)
    weight = target.weight if target.weight is not None else DEFAULT_WEIGHT.get(target.nutrient, 1.0)
    return TargetRow(target.nutrient, target.mg_per_l, low, high, weight)


@lru_cache(maxsize=64)
def sulfur_rides_along(shelf: Shelf) -> bool:
    """True where a single salt brings sulfur; its amount then follows from other choices, so it weighs little.

    Where only bought blends or tanks already mixed bring it, nothing is left to choose and sulfur counts like any
    other macro.
    """
    row = shelf.brings[ROW["S"]]
    return any(row[i] > 0.0 and source.kind != "blend" for i, source in enumerate(shelf.sources))


def fitted_targets(aim: Aim, *, light_sulfur: bool = True) -> tuple[TargetRow, ...]:
    """The targets that become rows of the fit.

    Total nitrogen beside both its forms would count nitrogen twice, so then only the forms are fitted. A target of
    zero is no row either: it is a limit (see `limit_rows`).
    """
    named = {target.nutrient for target in aim.targets}
    twice = {"N"} if {"NO3-N", "NH4-N"} <= named else set()
    rows = tuple(target_row(t) for t in aim.targets if t.mg_per_l > 0.0 and t.nutrient not in twice)
    stated = {target.nutrient for target in aim.targets if target.weight is not None}
    if light_sulfur or "S" in stated:
        return rows
    return tuple(replace(row, weight=1.0) if row.nutrient == "S" else row for row in rows)


def _target_matrix(rows: tuple[TargetRow, ...], brings: Array, base: Array) -> tuple[Array, Array]:
    """Rows divided by their target and weighted; columns are left as they are."""
    index = [ROW[row.nutrient] for row in rows]
    scale = np.array([row.weight / row.target for row in rows])
    wanted = np.array([row.target for row in rows])
    return brings[index] * scale[:, None], (wanted - base[index]) * scale


@dataclass(eq=False)
class _Limits:
    """At-most rows as they are gathered; `least` are the amounts the free columns must have [mg/L]."""

    brings: Array
    base: Array
    least: Array
    rows: list[Array] = field(default_factory=list)
    bounds: list[float] = field(default_factory=list)
    about: list[LimitRow] = field(default_factory=list)

    def nutrient(self, code: str, nutrient: str, at_most: float, asked: float | None = None) -> None:
        """Keep a nutrient of the feed at most at a value [mg/L]; what is already there is the least it can be."""
        already = float(self.base[ROW[nutrient]])
        bound = max(at_most, already)
        row = LimitRow(code, nutrient, "at most", at_most if asked is None else asked, bound, ((nutrient, 1.0),))
        self.add(row, self.brings[ROW[nutrient]], bound - already)

    def ammonium(self, share_percent: float, of: tuple[tuple[str, float], ...], room: float, *, forced: bool) -> None:
        """Keep a sum of forms of nitrogen to what room there is for it [mg/L]; where it is forced, what must be in."""
        row = LimitRow("ammonium-share", "NH4-N", "at most", share_percent, share_percent, of)
        coefficients = np.asarray(sum(factor * self.brings[ROW[name]] for name, factor in of))
        least = max(float(coefficients @ self.least), 0.0)
        self.add(row, coefficients, max(room, least) if forced or np.all(coefficients >= 0.0) else room)

    def add(self, row: LimitRow, coefficients: Array, bound: float) -> None:
        self.rows.append(coefficients)
        self.bounds.append(bound)
        self.about.append(row)


def _nutrient_limits(limits: _Limits, aim: Aim) -> None:
    for limit in aim.limits:
        if limit.at_most_mg_per_l is not None:
            limits.nutrient("limit", limit.nutrient, limit.at_most_mg_per_l)
        if limit.at_least_mg_per_l is not None:
            missing = limit.at_least_mg_per_l - float(limits.base[ROW[limit.nutrient]])
            asked, of = limit.at_least_mg_per_l, ((limit.nutrient, -1.0),)
            row = LimitRow("limit", limit.nutrient, "at least", asked, asked, of)
            if missing > 0.0:
                limits.add(row, -limits.brings[ROW[limit.nutrient]], -missing)
    for target in aim.targets:
        if target.mg_per_l == 0.0:
            limits.nutrient("limit", target.nutrient, 0.0)


def _default_limits(limits: _Limits, aim: Aim, crop_share_percent: float | None, *, forced: bool) -> None:
    named = {limit.nutrient for limit in aim.limits} | {target.nutrient for target in aim.targets}
    if "Cl" not in named:
        already = float(limits.base[ROW["Cl"]])
        limits.nutrient("chloride", "Cl", already + ADDED_CHLORIDE_MG_PER_L, ADDED_CHLORIDE_MG_PER_L)
    wanted = {target.nutrient: target.mg_per_l for target in aim.targets}
    nitrogen = wanted.get("N", wanted.get("NO3-N", 0.0) + wanted.get("NH4-N", 0.0))
    share = ammonium_share_percent(aim, crop_share_percent)
    if share < 100.0 and nitrogen > 0.0:
        _ammonium_limits(limits, share, nitrogen, forced=forced)


def _ammonium_limits(limits: _Limits, share: float, nitrogen_mg_per_l: float, *, forced: bool) -> None:
    """Keep ammonium and urea to their share of the nitrogen reached.

    Where a bound of the shelf forces ammonium in, also to their share of the nitrogen wanted, or what is forced, so
    that the share is not kept by drowning ammonium in nitrate nobody asked for. Without nitrogen in the aim there is no
    share to keep; the choice between equal fits still takes the least ammonium.
    """
    reduced = (("NH4-N", 1.0), ("urea-N", 1.0))
    already = sum(float(limits.base[ROW[name]]) for name, _ in reduced)
    nitrogen, part = float(limits.base[ROW["N"]]), share / 100.0
    limits.ammonium(share, (*reduced, ("N", -part)), part * nitrogen - already, forced=forced)
    if forced:
        limits.ammonium(share, reduced, part * max(nitrogen_mg_per_l, nitrogen) - already, forced=True)


def _entry_limits(limits: _Limits, entries: tuple[ShelfEntry, ...], free: NDArray[np.intp]) -> None:
    for position, column in enumerate(free.tolist()):
        entry = entries[column]
        if entry.at_most_mg_per_l is None and not entry.at_least_mg_per_l:
            continue
        unit = np.zeros(len(free))
        unit[position] = 1.0
        if entry.at_most_mg_per_l is not None:
            row = LimitRow("entry", entry.key, "at most", entry.at_most_mg_per_l, entry.at_most_mg_per_l)
            limits.add(row, unit, entry.at_most_mg_per_l)
        if entry.at_least_mg_per_l:
            row = LimitRow("entry", entry.key, "at least", entry.at_least_mg_per_l, entry.at_least_mg_per_l)
            limits.add(row, -unit, -entry.at_least_mg_per_l)


def unasked_per_mg(shelf: Shelf, aim: Aim) -> Array:
    """What each source brings that nobody asked for [mmol or meq per mg]: Cl, Na, urea, ammonium, acid or base."""
    return _unasked(shelf, frozenset([target.nutrient for target in aim.targets if target.mg_per_l > 0.0]))


@lru_cache(maxsize=64)
def _unasked(shelf: Shelf, asked: frozenset[str]) -> Array:
    unasked = np.abs(shelf.alkalinity)
    for nutrient, element in (("Cl", "Cl"), ("Na", "Na"), ("urea-N", "N"), ("NH4-N", "N")):
        if nutrient not in asked:
            unasked = unasked + shelf.brings[ROW[nutrient]] / ATOMIC_WEIGHTS[element]
    read_only(unasked)
    return unasked


def build(
    aim: Aim,
    shelf: Shelf,
    water_totals: Array,
    water_alkalinity: float,
    crop_share_percent: float | None,
    acids: AcidUse,
) -> Demands:
    """Assemble the rows of one solve.

    Parameters
    ----------
    aim : Aim
    shelf : Shelf
    water_totals : (n_components,) ndarray [mmol/L]
    water_alkalinity : float [meq/L]
    crop_share_percent : float or None [% of N], the crop's own ammonium share
    acids : AcidUse, how acids count and what may serve the alkalinity

    Returns
    -------
    Demands
    """
    from core.blend.alkalinity import alkalinity_row

    entries = tuple(source.entry for source in shelf.sources)
    fixed = shelf.fixed_mg_per_l
    base_totals = water_totals + shelf.totals @ fixed
    base_alkalinity = water_alkalinity + float(shelf.alkalinity @ fixed)
    targets = fitted_targets(aim, light_sulfur=sulfur_rides_along(shelf))
    plan = alkalinity_row(aim, shelf, water_alkalinity, base_alkalinity, acids, has_targets=bool(targets))
    free = _free_columns(shelf, aim, plan.excluded | without_purpose(shelf, aim))
    base = MG_PER_MMOL @ base_totals
    brings = shelf.brings[:, free]
    limits = _Limits(brings, base, shelf.least_mg_per_l[free])
    _nutrient_limits(limits, aim)
    _default_limits(limits, aim, crop_share_percent, forced=binds_ammonium(shelf))
    _entry_limits(limits, entries, free)
    if plan.at_most is not None:
        limits.add(
            LimitRow("alkalinity", "alkalinity", "at most", plan.at_most, plan.at_most),
            plan.coefficients[free],
            plan.at_most - base_alkalinity,
        )
    a, b = _target_matrix(targets, brings, base)
    exact = plan.exactly is not None
    problem = Problem(
        a,
        b,
        plan.coefficients[None, free] if exact else np.zeros((0, len(free))),
        np.array([plan.exactly - base_alkalinity]) if plan.exactly is not None else np.zeros(0),
        np.array(limits.rows) if limits.rows else np.zeros((0, len(free))),
        np.array(limits.bounds),
    )
    about, notes = tuple(limits.about), plan.notes
    widened = yielded(problem, about, targets) if is_forced(aim, shelf) else None
    if widened is not None:
        problem, notes = widened, (*notes, YIELDED)
    return Demands(
        free,
        fixed,
        base_totals,
        base_alkalinity,
        targets,
        about,
        problem,
        unasked_per_mg(shelf, aim)[free],
        plan.goal,
        notes,
    )


def urea_allowed(aim: Aim) -> bool:
    """True where the aim lets urea in, or asks for it."""
    return aim.urea or any(t.nutrient == "urea-N" and t.mg_per_l > 0.0 for t in aim.targets)


def without_purpose(shelf: Shelf, aim: Aim) -> frozenset[int]:
    """Columns of products bought for a trace or for silicon that the aim asks none of.

    A little manganese sulfate is no source of sulfur, ammonium molybdate none of ammonium, and silicate no base: what
    they would bring of their own nutrient nobody asked for, and of a trace it is soon poison.
    """
    asked = {target.nutrient for target in aim.targets if target.mg_per_l > 0.0}
    asked |= {limit.nutrient for limit in aim.limits if limit.at_least_mg_per_l}
    return _without_purpose(shelf, frozenset(asked.intersection(TRACES)))


@lru_cache(maxsize=64)
def _without_purpose(shelf: Shelf, asked: frozenset[str]) -> frozenset[int]:
    return frozenset(i for i, s in enumerate(shelf.sources) if (bought := bought_for(s)) and not bought & asked)


def bought_for(source: Source) -> frozenset[str]:
    """The traces a catalog product is bought for, or silicon; empty for others and where a least amount is asked."""
    if source.salt is None or source.entry.at_least_mg_per_l:
        return frozenset()
    if source.kind == "silicate":
        return frozenset({"Si"})
    return frozenset(name for name in TRACE_TOTALS if source.brings[ROW[name]] > TRACE_PART)


def _free_columns(shelf: Shelf, aim: Aim, excluded: frozenset[int]) -> NDArray[np.intp]:
    """Columns whose amount is not stated and that the aim lets in."""
    return _free_of(shelf, urea_allowed(aim), excluded)


@lru_cache(maxsize=64)
def _free_of(shelf: Shelf, urea: bool, excluded: frozenset[int]) -> NDArray[np.intp]:
    barred = [False] * len(shelf) if urea else (shelf.brings[ROW["urea-N"]] > 0.0).tolist()
    return np.array(
        [
            index
            for index, source in enumerate(shelf.sources)
            if source.entry.exactly_mg_per_l is None and index not in excluded and not barred[index]
        ],
        dtype=np.intp,
    )
