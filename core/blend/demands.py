"""From an aim to the rows of a fit: targets, limits, alkalinity, and what nobody asked for."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from core.blend.fit import Problem
from core.blend.nutrients import MG_PER_MMOL, ROW, Array
from core.blend.shelf import Shelf
from core.recipe.records import Aim, ShelfEntry, Target

DEFAULT_WEIGHT = {"S": 0.2} | dict.fromkeys(("Fe", "Mn", "Zn", "B", "Cu", "Mo", "Si", "Na", "Cl"), 0.1)
"""Weight of a row when the target gives none; macros 1. Light traces never steer the macros they share a bag with."""

DEFAULT_TOLERANCE_PERCENT: dict[str, tuple[float, float]] = {
    "S": (20.0, 60.0),
    "Fe": (20.0, 20.0),
    "Mn": (20.0, 20.0),
    "Zn": (20.0, 20.0),
    "B": (20.0, 20.0),
    "Cu": (25.0, 25.0),
    "Mo": (25.0, 25.0),
}
"""Per cent below and above a target that still count as met; 5 % both ways for everything not listed."""

AMMONIUM_SHARE_PERCENT = 10.0
"""Most nitrogen as ammonium and urea together when neither the aim nor its crop says more."""

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
    """What one at-most row stands for: `about` is a nutrient or a shelf key, `side` "at most" or "at least"."""

    code: str
    about: str
    side: str
    asked: float
    bound: float


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


def target_row(target: Target) -> TargetRow:
    """Give a target its wanted range and weight."""
    below, above = DEFAULT_TOLERANCE_PERCENT.get(target.nutrient, (5.0, 5.0))
    if target.tolerance_percent is not None:
        below = above = target.tolerance_percent
    low = target.low_mg_per_l if target.low_mg_per_l is not None else target.mg_per_l * (1.0 - below / 100.0)
    high = target.high_mg_per_l if target.high_mg_per_l is not None else target.mg_per_l * (1.0 + above / 100.0)
    weight = target.weight if target.weight is not None else DEFAULT_WEIGHT.get(target.nutrient, 1.0)
    return TargetRow(target.nutrient, target.mg_per_l, low, high, weight)


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
    """At-most rows as they are gathered."""

    brings: Array
    base: Array
    rows: list[Array] = field(default_factory=list)
    bounds: list[float] = field(default_factory=list)
    about: list[LimitRow] = field(default_factory=list)

    def nutrient(self, code: str, nutrient: str, at_most: float, asked: float | None = None) -> None:
        """Keep a nutrient of the feed at most at a value [mg/L]; what is already there is the least it can be."""
        already = float(self.base[ROW[nutrient]])
        bound = max(at_most, already)
        self.add(
            LimitRow(code, nutrient, "at most", at_most if asked is None else asked, bound),
            self.brings[ROW[nutrient]],
            bound - already,
        )

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
            row = LimitRow("limit", limit.nutrient, "at least", limit.at_least_mg_per_l, limit.at_least_mg_per_l)
            if missing > 0.0:
                limits.add(row, -limits.brings[ROW[limit.nutrient]], -missing)
    for target in aim.targets:
        if target.mg_per_l == 0.0:
            limits.nutrient("limit", target.nutrient, 0.0)


def ammonium_share_percent(aim: Aim, crop_share_percent: float | None) -> float:
    """The most nitrogen that may come as ammonium and urea, in per cent of all nitrogen."""
    if aim.ammonium_share_at_most_percent is not None:
        return aim.ammonium_share_at_most_percent
    share = max(AMMONIUM_SHARE_PERCENT, crop_share_percent or 0.0)
    rows = {target.nutrient: target_row(target) for target in aim.targets}
    if "NH4-N" in rows:
        nitrate = rows["NO3-N"].target if "NO3-N" in rows else 0.0
        total = rows["N"].target if "N" in rows else nitrate + rows["NH4-N"].target
        share = max(share, 100.0 * rows["NH4-N"].high / total if total else 100.0)
    return min(share, 100.0)


def _default_limits(limits: _Limits, aim: Aim, crop_share_percent: float | None) -> None:
    named = {limit.nutrient for limit in aim.limits} | {target.nutrient for target in aim.targets}
    if "Cl" not in named:
        already = float(limits.base[ROW["Cl"]])
        limits.nutrient("chloride", "Cl", already + ADDED_CHLORIDE_MG_PER_L, ADDED_CHLORIDE_MG_PER_L)
    wanted = {target.nutrient: target.mg_per_l for target in aim.targets}
    nitrogen = wanted.get("N", wanted.get("NO3-N", 0.0) + wanted.get("NH4-N", 0.0))
    share = ammonium_share_percent(aim, crop_share_percent)
    if share < 100.0 and nitrogen > 0.0:
        _ammonium_limits(limits, share, nitrogen)


def _ammonium_limits(limits: _Limits, share: float, nitrogen_mg_per_l: float) -> None:
    """Keep ammonium and urea to their share of the nitrogen reached, and of the nitrogen wanted.

    The second row is there so that the first is never kept by drowning ammonium in nitrate nobody asked for. Without
    nitrogen in the aim there is no share to keep; the choice between equal fits still takes the least ammonium.
    """
    reduced = (ROW["NH4-N"], ROW["urea-N"])
    ammonium = np.asarray(sum(limits.brings[i] for i in reduced))
    already = sum(float(limits.base[i]) for i in reduced)
    of_reached = share / 100.0 * float(limits.base[ROW["N"]]) - already
    about = LimitRow("ammonium-share", "NH4-N", "at most", share, share)
    limits.add(about, ammonium - share / 100.0 * limits.brings[ROW["N"]], max(of_reached, 0.0))
    about = LimitRow("ammonium-share", "NH4-N", "at most", share, share)
    limits.add(
        about, ammonium, max(share / 100.0 * max(nitrogen_mg_per_l, float(limits.base[ROW["N"]])) - already, 0.0)
    )


def _entry_limits(limits: _Limits, entries: tuple[ShelfEntry, ...], free: NDArray[np.intp]) -> None:
    for position, column in enumerate(free):
        entry = entries[column]
        unit = np.zeros(len(free))
        unit[position] = 1.0
        if entry.at_most_mg_per_l is not None:
            row = LimitRow("entry", entry.key, "at most", entry.at_most_mg_per_l, entry.at_most_mg_per_l)
            limits.add(row, unit, entry.at_most_mg_per_l)
        if entry.at_least_mg_per_l:
            row = LimitRow("entry", entry.key, "at least", entry.at_least_mg_per_l, entry.at_least_mg_per_l)
            limits.add(row, -unit, -entry.at_least_mg_per_l)


def unasked_per_mg(shelf: Shelf, free: NDArray[np.intp], aim: Aim) -> Array:
    """What each free column brings that nobody asked for [mmol or meq per mg]: Cl, Na, urea, ammonium, acid or base."""
    named = {target.nutrient for target in aim.targets if target.mg_per_l > 0.0}
    brings = shelf.brings[:, free]
    unasked = np.abs(shelf.alkalinity[free])
    for nutrient, mg_per_mmol in (("Cl", 35.45), ("Na", 22.99), ("urea-N", 14.007), ("NH4-N", 14.007)):
        if nutrient not in named:
            unasked = unasked + brings[ROW[nutrient]] / mg_per_mmol
    return np.asarray(unasked)


def build(
    aim: Aim,
    shelf: Shelf,
    water_totals: Array,
    water_alkalinity: float,
    crop_share_percent: float | None,
    acid_ph: float,
) -> Demands:
    """Assemble the rows of one solve.

    Parameters
    ----------
    aim : Aim
    shelf : Shelf
    water_totals : (n_components,) ndarray [mmol/L]
    water_alkalinity : float [meq/L]
    crop_share_percent : float or None [% of N], the crop's own ammonium share
    acid_ph : float [-], the pH at which acids count

    Returns
    -------
    Demands
    """
    from core.blend.alkalinity import alkalinity_row

    entries = tuple(source.entry for source in shelf.sources)
    fixed = np.array([entry.exactly_mg_per_l or 0.0 for entry in entries])
    base_totals = water_totals + shelf.totals @ fixed
    base_alkalinity = water_alkalinity + float(shelf.alkalinity @ fixed)
    targets = fitted_targets(aim, light_sulfur=sulfur_rides_along(shelf))
    plan = alkalinity_row(aim, shelf, water_alkalinity, base_alkalinity, acid_ph, has_targets=bool(targets))
    free = np.array([i for i in range(len(shelf)) if _is_free(shelf, i, aim, plan.excluded)], dtype=np.intp)
    base = MG_PER_MMOL @ base_totals
    brings = shelf.brings[:, free]
    limits = _Limits(brings, base)
    _nutrient_limits(limits, aim)
    _default_limits(limits, aim, crop_share_percent)
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
    return Demands(
        free,
        fixed,
        base_totals,
        base_alkalinity,
        targets,
        tuple(limits.about),
        problem,
        unasked_per_mg(shelf, free, aim),
        plan.goal,
        plan.notes,
    )


def _is_free(shelf: Shelf, index: int, aim: Aim, excluded: frozenset[int]) -> bool:
    source = shelf.sources[index]
    asked_urea = aim.urea or any(t.nutrient == "urea-N" and t.mg_per_l > 0.0 for t in aim.targets)
    has_urea = source.brings[ROW["urea-N"]] > 0.0
    return source.entry.exactly_mg_per_l is None and index not in excluded and (asked_urea or not has_urea)
