"""The command `why`: why a recipe's blend is as it is, what would help, and the arithmetic behind any figure."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from app.headless.output import BadInput, visible, write
from app.headless.plan import open_recipe
from app.wording.language import gettext as _

if TYPE_CHECKING:
    from core.blend.solve import Blend
    from core.blend.why_records import Why
    from core.blend.working import Working
    from core.recipe import Recipe

SHOWN = 6
"""Prices and unused entries listed for reading; with --json all are there."""


def why_command(file: str, *, of: str | None = None, as_json: bool = False) -> int:
    """Write why, or the working of one figure, and return the exit status: 1 where a limit or target is missed badly.

    Raises
    ------
    BadInput : the recipe cannot be read, or there is no figure of that name.
    """
    from core.plan import derive, solve

    recipe = open_recipe(file)
    blend = solve(recipe)
    if of is not None:
        working = working_of(recipe, blend, of)
        write(_working_json(working) if as_json else _working_text(working))
        return 0
    from core.blend.why import why_of

    found = why_of(blend)
    write(why_json(found, recipe.currency) if as_json else why_text(found, recipe.currency))
    return 1 if any(caution.level == "stop" for caution in derive(recipe, blend).cautions) else 0


def why_json(found: Why, currency: str) -> str:
    """Return the answer as JSON in ASCII, with its sentences put in."""
    from msgspec import to_builtins

    from app.wording import why as words

    document: dict[str, Any] = to_builtins(found)
    for shown, reason in zip(document["reasons"], found.reasons, strict=True):
        shown["text"] = words.reason_text(reason)
        for inner, cause in zip(shown["causes"], reason.causes, strict=True):
            inner["text"] = words.cause_text(cause)
    if found.remedy is not None:
        document["remedy"]["text"] = words.remedy_text(found.remedy)
    for shown, spare in zip(document["spare"], found.spare, strict=True):
        shown["text"] = words.spare_text(spare, currency)
    for shown, price in zip(document["prices"], found.prices, strict=True):
        shown["text"] = words.price_text(price, currency)
    for shown, unused in zip(document["unused"], found.unused, strict=True):
        shown["text"] = words.unused_text(unused, currency)
    return json.dumps(document, indent=1, allow_nan=False) + "\n"


def why_text(found: Why, currency: str) -> str:
    """Return the answer as lines for a terminal, worst first."""
    from app.wording import why as words

    misses = []
    for reason in found.reasons:
        misses += [words.reason_text(reason), *(f"  {words.cause_text(cause)}" for cause in reason.causes)]
    prices = [words.price_text(price, currency) for price in found.prices if words.is_told(price)][:SHOWN]
    unused = [words.unused_text(unused, currency) for unused in found.unused[:SHOWN]]
    sections = (
        misses or [_("Every target is in its range.")],
        [] if found.remedy is None else [words.remedy_text(found.remedy)],
        [words.spare_text(spare, currency) for spare in found.spare],
        [_("One step to either side:"), *(f"  {line}" for line in prices)] if prices else [],
        [_("Not used:"), *(f"  {line}" for line in unused)] if unused else [],
    )
    return "\n\n".join("\n".join(visible(line) for line in lines) for lines in sections if lines) + "\n"


def working_of(recipe: Recipe, blend: Blend, what: str) -> Working:
    """Return the working of a nutrient, a shelf entry, "EC" or "cost".

    Raises
    ------
    BadInput : there is no such figure, or it cannot be worked out.
    """
    from core.blend import working as workings
    from core.blend.nutrients import ROW

    if what in ROW:
        return workings.nutrient_working(blend, what)
    if what.casefold() == "ec":
        found = workings.ec_working(blend)
    elif what.casefold() == "cost":
        found = workings.cost_working(blend, recipe.currency)
    elif any(entry.key == what for entry in recipe.shelf):
        found = workings.salt_working(blend, what, recipe.tanks.ratio, recipe.batch.tank_volume_l)
    else:
        raise BadInput(f"there is no figure {what!r}; name a nutrient, an entry of the shelf, EC or cost")
    if found is None:
        raise BadInput(f"{what} cannot be worked out: a price is missing, or the feed is too strong for a forecast")
    return found


def _working_json(working: Working) -> str:
    from msgspec import to_builtins

    from app.wording.why import line_text

    document: dict[str, Any] = to_builtins(working)
    for shown, line in zip(document["lines"], working.lines, strict=True):
        shown["text"] = line_text(line)
    return json.dumps(document, indent=1, allow_nan=False) + "\n"


def _working_text(working: Working) -> str:
    from app.wording.why import line_text

    return "\n".join(visible(line_text(line)) for line in working.lines) + "\n"
