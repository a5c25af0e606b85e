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
from core.blend.waters import recipe_water
from core.plan.acid_checks import is_hard
from core.plan.cautions import worst_first
from core.plan.checks import limit_cautions, shelf_cautions, toxicity_cautions
from core.plan.records import Caution
from core.recipe.records import Recipe, Water

TURNS = ("first", "then", "last")

WHOLE_PLAN = ("nothing-to-do", "exact-only")
"""Cautions that speak of a recipe's plan and not of what is added to a reservoir."""


LEAST_STEPS = 0.5
"""Under half a step a scale shows nothing."""


class Addition(Struct, frozen=True):
    """One product for the whole reservoir; millilitres for liquids.

    `turn`: acid goes into hard water before anything else, into soft water last. `too_little_for_g`: step of the
    finest scale there is, where it does not show a weight like this.
    """

    entry_id: str
    salt: str
    grams: float
    millilitres: float | None
    strength_percent: float | None
    turn: Literal["first", "then", "last"] = "then"
    too_little_for_g: float | None = None


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
        additions=_additions(recipe, found),
        changes=tuple(_changed(moved) for moved in found.moved),
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


def _additions(recipe: Recipe, found: Correction) -> tuple[Addition, ...]:
    acid_turn = _acid_turn(recipe)
    additions = []
    for source in found.blend.shelf.sources:
        grams = found.grams.get(source.key, 0.0)
        if grams > 0.0:
            density = source.density_kg_per_l  # kg/L is g/mL
            acid = is_acid(source)
            additions.append(
                Addition(
                    source.key,
                    source.entry.salt,
                    grams,
                    None if density is None else grams / density,
                    source.strength_percent if acid else None,
                    acid_turn if acid else "then",
                    _too_little_for_g(recipe, grams) if density is None else None,
                )
            )
    return tuple(sorted(additions, key=lambda one: (TURNS.index(one.turn), -one.grams)))


def _acid_turn(recipe: Recipe) -> Literal["first", "last"]:
    """When acid goes in: first by the recipe's word or because the water is hard, as in plan and dosing."""
    hard = is_hard(recipe_water(recipe).alkalinity)
    return "first" if hard or recipe.acid_into == "water" else "last"


def _too_little_for_g(recipe: Recipe, grams: float) -> float | None:
    """Step of the finest scale [g] where it shows no such weight; None where one does, or no scale is known."""
    finest_g = min((scale.readability_g for scale in recipe.batch.scales), default=0.0)
    return finest_g if grams < LEAST_STEPS * finest_g else None


def _changed(moved: Moved) -> Changed:
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
