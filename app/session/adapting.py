"""Recipes made from others, titled after what they were made for: for another crop, another water, from tanks."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace as with_fields
from typing import TYPE_CHECKING, NamedTuple

from msgspec.structs import replace

from core.recipe.records import Recipe, Water

if TYPE_CHECKING:
    from core.blend.adapt import Adapted

LONGEST_TITLE = 200

Stop = Callable[[], bool]


class NoTanks(ValueError):
    """The recipe plans no tanks, so there are none to start from."""

    def __init__(self) -> None:
        from app.wording.comparing import no_tanks

        super().__init__(no_tanks())


def read_water(data: bytes, name: str) -> Water:
    """Read a water report: a JSON object with `mg_per_l`, or a recipe, whose water is taken.

    Raises
    ------
    RecipeError : it is refused.
    """
    from core.recipe import loads
    from core.recipe.strict_json import parse

    document = parse(data)
    if isinstance(document, dict) and "format" in document:
        return loads(data, name).water
    around = {"format": "saltwright-recipe", "schema": 1, "shelf": [{"salt": "potassium-nitrate"}]}
    return loads(json.dumps({**around, "water": document}).encode(), name).water


def water_name(water: Water) -> str:
    """Return what a water is called in a title."""
    from app.wording.compare import another_water

    return water.name or another_water()


def from_tanks(recipe: Recipe, mixed: Recipe, stop: Stop | None = None) -> Adapted:
    """Return the recipe's aim from the tanks another one plans, as they stand mixed.

    Raises
    ------
    NoTanks : there are none.
    """
    from app.wording.compare import from_tanks_words, tank_as_mixed
    from core.blend import adapt
    from core.plan import derive, solve
    from core.plan.ready_tanks import ready_tanks

    blend = solve(mixed)
    planned = derive(mixed, blend)
    if not planned.tanks:
        raise NoTanks
    names = [tank_as_mixed(tank.content, tank.name) for tank in planned.tanks]
    made = adapt.from_tanks(recipe, ready_tanks(blend, planned, names), recipe.shelf, stop=stop)
    return titled(made, recipe, [from_tanks_words()])


class Made(NamedTuple):
    """A recipe made from another one, and in brief what it is for."""

    adapted: Adapted
    about: str


def adapted(recipe: Recipe, crop_id: str, water: Water | None, *, tanks: bool, stop: Stop | None = None) -> Made:
    """Return the recipe for another crop, in another water, from its own tanks as they stand mixed, or all of these.

    Parameters
    ----------
    crop_id : a catalog profile, "" for the recipe's own aim
    water : None for the recipe's own
    tanks : whether the tanks the recipe plans are what there is to dose
    stop : asked now and then; True ends the search for supplements with what there is

    Raises
    ------
    NoTanks : there are none.
    ValueError : there is nothing to adapt to.
    """
    from app.wording.compare import from_tanks_words
    from app.wording.editors_aim import crop_name
    from core.blend import adapt
    from core.catalog import crop

    made, about = None, []
    if crop_id:
        made = adapt.for_crop(recipe, crop_id)
        about = [crop_name(crop(crop_id))]
    if water is not None:
        made = adapt.for_water(recipe if made is None else made.recipe, water)
        about.append(water_name(water))
    if tanks:
        made = from_tanks(recipe if made is None else made.recipe, recipe, stop)
        about.append(from_tanks_words())
    if made is None:
        raise ValueError("nothing to adapt to")
    return Made(titled(made, recipe, about), ", ".join(about))


def titled(adapted: Adapted, parent: Recipe, about: list[str]) -> Adapted:
    """Return it with a title that names what it is for and its parent."""
    from app.wording.compare import adapted_title

    title = adapted_title(parent.title, ", ".join(about))[:LONGEST_TITLE]
    return with_fields(adapted, recipe=replace(adapted.recipe, title=title), parent=parent.title)
