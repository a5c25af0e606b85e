"""The plan: the one way from a recipe to everything that is shown.

`plan(recipe)` is `derive(recipe, solve(recipe))`. The solver is loaded when it is first needed, so the records can be
used without it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.plan.records import Plan

if TYPE_CHECKING:
    from core.blend.solve import Blend
    from core.recipe.records import Recipe

__all__ = ["Plan", "derive", "plan", "solve"]


def solve(recipe: Recipe) -> Blend:
    """Find the amounts; see `core.blend.solve.solve`."""
    from core.blend.solve import solve as solve_recipe

    return solve_recipe(recipe)


def derive(recipe: Recipe, blend: Blend) -> Plan:
    """Derive everything shown; see `core.plan.assembly.derive`."""
    from core.plan.assembly import derive as derive_plan

    return derive_plan(recipe, blend)


def plan(recipe: Recipe) -> Plan:
    """Plan a recipe.

    Parameters
    ----------
    recipe : Recipe

    Returns
    -------
    Plan
    """
    return derive(recipe, solve(recipe))
