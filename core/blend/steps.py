"""Edits of a recipe as data: what "try it" does, one undoable step each."""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace

from core.blend.why_records import Step
from core.recipe.records import Limit, Recipe, ShelfEntry, Water


def apply(recipe: Recipe, step: Step) -> Recipe:
    """The recipe with one step taken.

    Raises
    ------
    ValueError : the step is about an entry the recipe has not, or one it already has.
    """
    return _APPLY[step.kind](recipe, step)


def _add_salt(recipe: Recipe, step: Step) -> Recipe:
    if any(entry.key == step.about for entry in recipe.shelf):
        raise ValueError(f"the shelf already holds {step.about}")
    return replace(recipe, shelf=(*recipe.shelf, ShelfEntry(salt=step.about)))


def _drop_entry(recipe: Recipe, step: Step) -> Recipe:
    _must_have(recipe, step.about)
    return replace(recipe, shelf=tuple(entry for entry in recipe.shelf if entry.key != step.about))


def _raise_limit(recipe: Recipe, step: Step) -> Recipe:
    if any(entry.key == step.about for entry in recipe.shelf):
        changed = tuple(replace(e, at_most_mg_per_l=step.value) if e.key == step.about else e for e in recipe.shelf)
        return replace(recipe, shelf=changed)
    kept = tuple(limit for limit in recipe.aim.limits if limit.nutrient != step.about)
    own = next((limit for limit in recipe.aim.limits if limit.nutrient == step.about), None)
    floor = None if own is None else own.at_least_mg_per_l
    limit = Limit(step.about, at_most_mg_per_l=step.value, at_least_mg_per_l=floor)  # type: ignore[arg-type]
    return replace(recipe, aim=replace(recipe.aim, limits=(*kept, limit)))


def _ammonium_share(recipe: Recipe, step: Step) -> Recipe:
    return replace(recipe, aim=replace(recipe.aim, ammonium_share_at_most_percent=step.value))


def _residual(recipe: Recipe, step: Step) -> Recipe:
    return replace(recipe, aim=replace(recipe.aim, residual_alkalinity_meq_per_l=step.value))


def _purer_water(recipe: Recipe, step: Step) -> Recipe:
    pure = Water(name=step.about)
    return replace(recipe, second_water=pure, second_water_share_percent=step.value or 0.0)


def _must_have(recipe: Recipe, key: str) -> None:
    if all(entry.key != key for entry in recipe.shelf):
        raise ValueError(f"the shelf holds no {key}")


_APPLY: dict[str, Callable[[Recipe, Step], Recipe]] = {
    "add-salt": _add_salt,
    "drop-entry": _drop_entry,
    "raise-limit": _raise_limit,
    "ammonium-share": _ammonium_share,
    "residual-alkalinity": _residual,
    "purer-water": _purer_water,
}
