"""The edits a surface can ask for, each a recipe made from another; nothing here calculates."""

from __future__ import annotations

from msgspec import structs

from core.recipe.records import NUTRIENTS, Aim, Recipe, ShelfEntry, Target


def target_of(recipe: Recipe, nutrient: str) -> Target | None:
    """Return the aim's target for this nutrient, if it has one."""
    return next((target for target in recipe.aim.targets if target.nutrient == nutrient), None)


def entry_of(recipe: Recipe, entry_id: str) -> ShelfEntry | None:
    """Return the shelf's entry of this name, if it stands there."""
    return next((entry for entry in recipe.shelf if entry.key == entry_id), None)


def with_target(recipe: Recipe, nutrient: str, mg_per_l: float | None, like: Target | None = None) -> Recipe:
    """Return the recipe with this target, or without one for None.

    Parameters
    ----------
    mg_per_l : the wanted concentration [mg/L].
    like : the target whose tolerance and weight are kept, where it differs from the recipe's own.
        A stated range is kept as long as it encloses the new target.
    """
    others = [target for target in recipe.aim.targets if target.nutrient != nutrient]
    if mg_per_l is not None:
        others.append(_moved(like or target_of(recipe, nutrient), nutrient, mg_per_l))
    others.sort(key=lambda target: NUTRIENTS.index(target.nutrient))
    return _with_aim(recipe, structs.replace(recipe.aim, targets=tuple(others)))


def with_exact_amount(recipe: Recipe, entry_id: str, mg_per_l: float | None) -> Recipe:
    """Return the recipe with this shelf entry fixed at an amount of product [mg/L of feed], or released for None."""
    shelf = tuple(
        structs.replace(entry, exactly_mg_per_l=mg_per_l) if entry.key == entry_id else entry for entry in recipe.shelf
    )
    return structs.replace(recipe, shelf=shelf)


def _moved(like: Target | None, nutrient: str, mg_per_l: float) -> Target:
    if like is None:
        return Target(nutrient=nutrient, mg_per_l=mg_per_l)  # type: ignore[arg-type]  # a row is one of NUTRIENTS
    low, high = like.low_mg_per_l, like.high_mg_per_l
    encloses = (low is None or low <= mg_per_l) and (high is None or mg_per_l <= high)
    if encloses:
        return structs.replace(like, mg_per_l=mg_per_l)
    return structs.replace(like, mg_per_l=mg_per_l, low_mg_per_l=None, high_mg_per_l=None)


def _with_aim(recipe: Recipe, aim: Aim) -> Recipe:
    return structs.replace(recipe, aim=aim)
