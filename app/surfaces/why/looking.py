"""Works out why a blend is as it is; made only while somebody looks at it."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from app.session.asking import GivenUp, Stop
from core.recipe.records import NUTRIENTS, Recipe

if TYPE_CHECKING:
    from core.blend.solve import Blend
    from core.blend.why_records import Why
    from core.blend.working import Working


class Answered(NamedTuple):
    """Why, and the blend the arithmetic of any figure is taken from."""

    recipe: Recipe
    why: Why
    blend: Blend


def look(recipe: Recipe, stop: Stop) -> Answered:
    """Return the answer for a recipe.

    Raises
    ------
    GivenUp : it is no longer wanted.
    """
    from core.blend.why import why_of
    from core.plan import solve

    blend = solve(recipe)
    why = why_of(blend, stop)
    if stop():
        raise GivenUp
    return Answered(recipe, why, blend)


def figures_of(answered: Answered) -> tuple[str, ...]:
    """Return every figure that has a working: EC and cost, the nutrients of the feed, the products used."""
    from core.blend.nutrients import ROW

    blend = answered.blend
    held = [name for name in NUTRIENTS if blend.nutrients_mg_per_l[ROW[name]] > 0.0]
    used = [s.key for s, x in zip(blend.shelf.sources, blend.amounts_mg_per_l.tolist(), strict=True) if x > 0.0]
    return (*held, *used, "EC", "cost")


def working_of(answered: Answered, figure: str) -> Working | None:
    """Return the working of a figure; None where it cannot be worked out."""
    from core.blend import working as workings

    recipe, blend = answered.recipe, answered.blend
    if figure in NUTRIENTS:
        return workings.nutrient_working(blend, figure)
    if figure == "EC":
        return workings.ec_working(blend)
    if figure == "cost":
        return workings.cost_working(blend, recipe.currency)
    return workings.salt_working(blend, figure, recipe.tanks.ratio, recipe.batch.tank_volume_l)
