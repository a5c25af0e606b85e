"""The correction of a reservoir as it is shown: what to drain and add, what it changes, and what to mind."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from msgspec import Struct

from core.blend.alkalinity import is_acid
from core.blend.correct import MOST_AT_ONCE, Correction, Moved, correct
from core.blend.demands import TargetRow
from core.blend.judge import in_range
from core.blend.solve import Blend
from core.plan.cautions import worst_first
from core.plan.checks import limit_cautions, shelf_cautions, toxicity_cautions
from core.plan.records import Caution
from core.recipe.records import Recipe, Water

WHOLE_PLAN = ("nothing-to-do", "exact-only")
"""Cautions that speak of a recipe's plan and not of what is added to a reservoir."""


class Addition(Struct, frozen=True):
    """One product for the whole reservoir; millilitres for liquids."""

    entry_id: str
    salt: str
    grams: float
    millilitres: float | None
    strength_percent: float | None


class Changed(Struct, frozen=True):
    """One nutrient of the reservoir before and after [mg/L], with what is wanted of it where it is aimed at."""

    nutrient: str
    before_mg_per_l: float
    after_mg_per_l: float
    target_mg_per_l: float | None
    low_mg_per_l: float | None
    high_mg_per_l: float | None
    verdict: Literal["met", "fine", "short", "over"]


class Corrected(Struct, frozen=True):
    """Everything that is said of a correction.

    `drain_share` 0..1 of the reservoir; `part` 0..1 how much of the whole way it goes, held there by the nutrient
    `held_by`; `unseen` nutrients whose change the EC does not tell; `assumed` those the report does not name.
    """

    volume_l: float
    drain_share: float
    drain_l: float
    additions: tuple[Addition, ...]
    changes: tuple[Changed, ...]
    ec_before_ms_per_cm: float | None
    ec_after_ms_per_cm: float | None
    alkalinity_after_meq_per_l: float
    in_range: bool
    part: float
    held_by: str | None
    unseen: tuple[str, ...]
    assumed: tuple[str, ...]
    cautions: tuple[Caution, ...]


def correction(recipe: Recipe, report: Water, reservoir_l: float, *, most_at_once: float = MOST_AT_ONCE) -> Corrected:
    """Correct a reservoir from a laboratory's report of it.

    Parameters
    ----------
    recipe : Recipe, whose aim the reservoir should meet and whose shelf and water there are
    report : Water, the analysis of the reservoir
    reservoir_l : float [L]
    most_at_once : float 0..1, see `core.blend.correct.correct`

    Returns
    -------
    Corrected
    """
    found = correct(recipe, report, reservoir_l, most_at_once=most_at_once)
    return Corrected(
        volume_l=reservoir_l,
        drain_share=found.drain_share,
        drain_l=found.drain_l,
        additions=_additions(found),
        changes=tuple(_changed(moved, found) for moved in found.moved),
        ec_before_ms_per_cm=found.ec_before_ms_per_cm,
        ec_after_ms_per_cm=found.ec_after_ms_per_cm,
        alkalinity_after_meq_per_l=found.blend.alkalinity,
        in_range=found.in_range,
        part=found.part,
        held_by=found.held_by,
        unseen=found.unseen,
        assumed=found.assumed,
        cautions=worst_first(list(_cautions(found.blend, whole=found.held_by is None))),
    )


def _additions(found: Correction) -> tuple[Addition, ...]:
    additions = []
    for source in found.blend.shelf.sources:
        grams = found.grams.get(source.key, 0.0)
        if grams > 0.0:
            density = source.density_kg_per_l  # kg/L is g/mL
            strength = source.strength_percent if is_acid(source) else None
            ml = None if density is None else grams / density
            additions.append(Addition(source.key, source.entry.salt, grams, ml, strength))
    return tuple(sorted(additions, key=lambda one: -one.grams))


def _changed(moved: Moved, found: Correction) -> Changed:
    low, high, after = moved.low_mg_per_l, moved.high_mg_per_l, moved.after_mg_per_l
    verdict: Literal["met", "fine", "short", "over"] = "fine"
    target = moved.target_mg_per_l
    if low is not None and high is not None and target is not None:
        inside = in_range(TargetRow(moved.nutrient, target, low, high, weight=1.0), after)
        verdict = "met" if inside else "short" if after < low else "over"
    return Changed(moved.nutrient, moved.before_mg_per_l, after, target, low, high, verdict)


def _cautions(blend: Blend, *, whole: bool) -> Iterator[Caution]:
    """What to mind with what is added and with the solution it makes; limits once the whole way is gone."""
    yield from toxicity_cautions(blend)
    if whole:
        yield from limit_cautions(blend)
    yield from (caution for caution in shelf_cautions(blend) if caution.code not in WHOLE_PLAN)
