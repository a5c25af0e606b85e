"""The command `plan`: a recipe in, what to weigh and what it makes out."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any, Literal

from app.headless.input import STANDARD_INPUT, read
from app.headless.output import BadInput, only_our_answer, write

if TYPE_CHECKING:
    from core.plan.records import Plan
    from core.recipe import Recipe

Goal = Literal["closest", "cheapest", "fewest"]


def plan_command(file: str, *, goal: Goal | None = None, as_json: bool = False) -> int:
    """Write the plan of the recipe in a file, for its own goal or the one given, and return the exit status.

    Raises
    ------
    BadInput : the recipe cannot be read or is refused.
    """
    recipe = open_recipe(file)
    if goal is not None:
        from msgspec.structs import replace

        recipe = replace(recipe, goal=goal)
    return write_plan(recipe, as_json=as_json)


def write_plan(recipe: Recipe, *, as_json: bool = False) -> int:
    """Write the plan of a recipe and return the exit status: 1 with a caution to stop, else 0."""
    from core.plan import plan

    with only_our_answer():
        planned = plan(recipe)
    if as_json:
        write(plan_json(planned))
    else:
        from app.headless.plan_text import plan_text

        write(plan_text(planned))
    return 1 if any(caution.level == "stop" for caution in planned.cautions) else 0


def open_recipe(file: str) -> Recipe:
    """Open the recipe of this name, or the one on standard input for "-".

    Raises
    ------
    BadInput : it cannot be read or is refused.
    """
    from core.recipe import RecipeError, load, loads
    from core.recipe.strict_json import MAX_BYTES

    try:
        return loads(read(file, MAX_BYTES), "standard input") if file == STANDARD_INPUT else load(file)
    except RecipeError as error:
        raise BadInput(str(error)) from None


def plan_json(planned: Plan) -> str:
    """Return the plan as JSON in ASCII, with the titles of its tanks and the texts of its cautions put in."""
    from msgspec import to_builtins

    from app.wording import caution_text, tank_title

    document: dict[str, Any] = to_builtins(planned)
    for shown, tank in zip(document["tanks"], planned.tanks, strict=True):
        shown["title"] = tank_title(tank.content)
    for shown, caution in zip(document["cautions"], planned.cautions, strict=True):
        shown["text"] = caution_text(caution)
    return json.dumps(document, indent=1, allow_nan=False) + "\n"
