"""What would help: the best single thing to try, and what the blend can do without."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from msgspec.structs import replace

from core.blend.causes import binding
from core.blend.demands import build
from core.blend.fit import fit
from core.blend.judge import changes, cost_change, misfit, misses
from core.blend.nutrients import ROW
from core.blend.shelf import compile_shelf
from core.blend.solve import Blend, crop_ammonium_share_percent, solve
from core.blend.steps import apply
from core.blend.why_records import Remedy, Spare, Step
from core.catalog import salts
from core.recipe.records import Recipe, ShelfEntry

SHORTLIST = 4
"""Candidates that are solved in full after the first look."""

WIDER = (1.1, 1.25, 1.5, 2.0)
"""Factors a bound that is in the way is tried at, the mildest first."""

BETTER = 0.02
"""Worst weighted deviation a remedy must gain to be offered when it mends no miss altogether."""

SAME_MEQ_PER_L = 0.02
"""Alkalinities this close are the same to anyone with a test kit (own choice)."""

NOT_OFFERED = ("base",)
"""Kinds of product never proposed unasked: hydroxides, carbonates, lime."""


def plain_recipe(blend: Blend) -> Recipe:
    """The blend's recipe with the aim it was solved for."""
    return replace(blend.recipe, aim=replace(blend.aim, ec_ms_per_cm=None))


def best_remedy(blend: Blend, stop: Callable[[], bool] | None = None) -> Remedy | None:
    """The single step that mends most: a salt from the catalog, a bound moved, purer water; None where none helps.

    `stop` is asked before each step is tried; True ends the search with the best so far.
    """
    missed = misses(blend)
    if not missed:
        return None
    recipe, tried = plain_recipe(blend), []
    for candidate in (*_salts(blend), *_bounds(blend), *_water(blend)):
        if stop is not None and stop():
            break
        tried.append((solve(apply(recipe, candidate)), candidate))
    best, step = min(tried, key=lambda pair: _rank(pair[0]), default=(None, None))
    if best is None or step is None or not _better(best, blend):
        return None
    return Remedy(step, len(missed), len(misses(best)), changes(blend, best), cost_change(blend, best))


def _rank(blend: Blend) -> tuple[int, float]:
    return len(misses(blend)), round(misfit(blend), 9)


def _better(after: Blend, before: Blend) -> bool:
    if len(misses(after)) != len(misses(before)):
        return len(misses(after)) < len(misses(before))
    worst = [max((miss.off for miss in misses(one)), default=0.0) for one in (before, after)]
    return worst[0] - worst[1] > BETTER


def _salts(blend: Blend) -> list[Step]:
    """The catalog's salts that look best after a quick fit with each."""
    held = {source.entry.salt for source in blend.shelf.sources}
    keys = {source.key for source in blend.shelf.sources}
    looks = []
    for salt in salts().values():
        if salt.id not in held and salt.id not in keys and salt.kind not in NOT_OFFERED:
            looks.append((_quick_misfit(blend, salt.id), salt.rank, salt.id))
    return [Step("add-salt", salt_id) for _, _, salt_id in sorted(looks)[:SHORTLIST]]


def _quick_misfit(blend: Blend, salt_id: str) -> float:
    shelf = compile_shelf((*blend.recipe.shelf, ShelfEntry(salt=salt_id)))
    share = crop_ammonium_share_percent(blend.recipe)
    demands = build(blend.aim, shelf, blend.water.totals, blend.water.alkalinity, share, blend.acids)
    x = fit(demands.problem).x
    return round(float(((demands.problem.a @ x - demands.problem.b) ** 2).sum()), 9)


def _bounds(blend: Blend) -> list[Step]:
    """Bounds the blend stands at, each moved a little further until it helps."""
    steps = []
    for _, row in binding(blend):
        if row.code == "ammonium-share":
            steps += [Step("ammonium-share", "NH4-N", min(round(row.asked * factor), 100.0)) for factor in WIDER]
        elif row.side == "at most" and row.code in ("limit", "chloride", "entry") and row.bound > 0.0:
            steps += [Step("raise-limit", row.about, _round(row.bound * factor)) for factor in WIDER]
    return steps


def _water(blend: Blend) -> list[Step]:
    """Pure water blended in just so far that what the water brings too much of comes down to its range."""
    if blend.recipe.second_water is not None:
        return []
    shares = [
        100.0 * (1.0 - miss.row.high / water)
        for miss in misses(blend)
        if (water := float(blend.water_mg_per_l[ROW[miss.row.nutrient]])) > miss.row.high
    ]
    return [Step("purer-water", "rain water", _up(max(shares)))] if shares else []


def _up(percent: float) -> float:
    """The next whole five per cent."""
    return min(5.0 * (percent // 5.0 + 1.0), 100.0)


def _round(mg_per_l: float) -> float:
    return float(f"{mg_per_l:.3g}")


def spares(blend: Blend) -> tuple[Spare, ...]:
    """Salts in use that the blend can do without, with fewer bags: every target in its range, every limit kept."""
    if misses(blend) or not blend.possible or blend.recipe.goal == "fewest":
        return ()
    recipe, found = plain_recipe(blend), []
    for source, amount in zip(blend.shelf.sources, blend.amounts_mg_per_l, strict=True):
        if amount <= 0.0 or source.entry.exactly_mg_per_l is not None or source.entry.at_least_mg_per_l:
            continue
        if len(recipe.shelf) == 1:
            break
        step = Step("drop-entry", source.key)
        without = solve(apply(recipe, step))
        fewer = np.count_nonzero(without.amounts_mg_per_l) < np.count_nonzero(blend.amounts_mg_per_l)
        if fewer and without.possible and not misses(without) and _alkalinity_kept(blend, without):
            moved = changes(blend, without)
            found.append((len(moved), float(amount), Spare(step, source.key, moved, cost_change(blend, without))))
    return tuple(spare for _, _, spare in sorted(found, key=lambda one: one[:2]))


def _alkalinity_kept(before: Blend, after: Blend) -> bool:
    return (
        abs(after.alkalinity_left - before.alkalinity_left) < SAME_MEQ_PER_L
        or after.alkalinity_left <= (after.demands.alkalinity_goal or 0.0) + SAME_MEQ_PER_L
    )
