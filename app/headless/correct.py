"""The command `correct`: a laboratory's report of a reservoir in, what to drain and what to add out."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from app.headless.input import read
from app.headless.output import BadInput, only_our_answer, visible, write
from app.headless.plan import open_recipe
from app.headless.plan_text import WIDTH, caution_lines
from app.headless.table import aligned, at_the_point
from app.wording import verdict_word
from app.wording.language import gettext as _
from app.wording.numbers import format_number, format_short

if TYPE_CHECKING:
    from core.plan.correction import Addition, Changed, Corrected
    from core.recipe import Recipe
    from core.recipe.records import Water


LEAST_L, MOST_L = 0.01, 1e7
"""Reservoirs outside this are a slip; the upper end is the logbook's."""


def correct_command(file: str, analysis: str, volume: str, at_once_percent: float, *, as_json: bool = False) -> int:
    """Write the correction and return the exit status: 1 with a caution to stop, else 0.

    Raises
    ------
    BadInput : recipe or report cannot be read, or a quantity makes no sense.
    """
    recipe = open_recipe(file)
    report, volume_l = _report(analysis), _litres(volume)
    if not 0.0 < at_once_percent <= 100.0:
        raise BadInput("--at-once: a share between 0 and 100 % is wanted")
    if not report.mg_per_l:
        raise BadInput(f"{analysis}: names nothing that was measured")
    if not recipe.aim.targets:
        raise BadInput("this recipe aims at nothing, so there is nothing to correct to")
    from core.plan.correction import correction

    with only_our_answer():
        found = correction(recipe, report, volume_l, most_at_once=at_once_percent / 100.0)
    write(correct_json(found) if as_json else correct_text(recipe, found))
    return 1 if any(caution.level == "stop" for caution in found.cautions) else 0


def _report(file: str) -> Water:
    """Open a laboratory's report; a recipe is none, though its water may stand for a water's report elsewhere."""
    from app.session.adapting import read_water
    from core.recipe import RecipeError
    from core.recipe.strict_json import MAX_BYTES, parse

    data = read(file, MAX_BYTES)
    try:
        document = parse(data)
        if isinstance(document, dict) and "format" in document:
            raise BadInput(
                f"{file}: is a recipe or another of our files, no laboratory's report; --analysis takes a JSON object "
                "with mg_per_l"
            )
        return read_water(data, file)
    except RecipeError as error:
        error.where = error.where or file
        raise BadInput(str(error)) from None


def _litres(text: str) -> float:
    from core.units import UnitError, read_quantity

    try:
        litres = read_quantity(text, "volume", "L").value
    except UnitError as error:
        raise BadInput(f"--volume: {error}") from None
    if not litres > 0.0:
        raise BadInput("--volume: more than nothing is wanted")
    if not LEAST_L <= litres <= MOST_L:
        raise BadInput(
            f"--volume is {litres:.3g} L, outside {LEAST_L:g} to {MOST_L:g} L; correct the number or its unit"
        )
    return litres


def correct_json(found: Corrected) -> str:
    """Return the correction as JSON in ASCII, with the sentences put in."""
    from msgspec import to_builtins

    from app.wording import caution_text
    from app.wording import correct as words

    document: dict[str, Any] = to_builtins(found)
    for shown, caution in zip(document["cautions"], found.cautions, strict=True):
        shown["text"] = caution_text(caution)
    told = words.drain_text, words.scales_text, words.step_text, words.end_text, words.meter_text, words.assumed_text
    document["text"] = [sentence for sentence in (say(found) for say in told) if sentence]
    return json.dumps(document, indent=1, allow_nan=False) + "\n"


def correct_text(recipe: Recipe, found: Corrected) -> str:
    """Return what to do first, then what it changes and what to mind."""
    from app.wording import correct as words

    heading = _("Correcting {volume} L").format(volume=format_short(found.volume_l, 4))
    sections = (
        [f"{visible(recipe.title)}: {heading}" if recipe.title else heading],
        _wrapped(words.drain_text(found)),
        *_additions(found),
        _wrapped(words.scales_text(found)),
        _wrapped(words.step_text(found)),
        _changes(found.changes),
        _wrapped(words.end_text(found)),
        _wrapped(words.meter_text(found)),
        _wrapped(words.assumed_text(found)),
        [line for caution in found.cautions for line in caution_lines(caution)],
    )
    return "\n\n".join("\n".join(lines) for lines in sections if lines) + "\n"


def _wrapped(text: str) -> list[str]:
    import textwrap

    return textwrap.wrap(text, WIDTH)


def _additions(found: Corrected) -> list[list[str]]:
    """What is added, a section for every turn."""
    from app.wording.correct import turn_text
    from app.wording.feed import acid_care

    if not found.additions:
        return [[_("Add nothing.")]]
    sections = []
    for turn in dict.fromkeys(one.turn for one in found.additions):
        these = [one for one in found.additions if one.turn == turn]
        care = [line for one in these if turn != "then" for line in _wrapped(acid_care(one.salt))]
        sections.append([turn_text(turn, drained=found.drain_l > 0.0), *_amounts(these), *care])
    return sections


def _amounts(additions: list[Addition]) -> list[str]:
    from app.wording.correct import addition_text
    from app.wording.phrases import product_name

    amounts = at_the_point([addition_text(one) for one in additions])
    names = [visible(product_name(one.salt, one.entry_id, one.strength_percent)) for one in additions]
    return aligned(list(zip(amounts, names, strict=True)), indent="  ")


def _changes(changes: tuple[Changed, ...]) -> list[str]:
    if not changes:
        return []
    wanted = ["" if one.target_mg_per_l is None else format_number(one.target_mg_per_l) for one in changes]
    columns = (
        [_("mg/L"), *(one.nutrient for one in changes)],
        [_("before"), *at_the_point([_number(one.before_mg_per_l) for one in changes])],
        [_("after"), *at_the_point([_number(one.after_mg_per_l) for one in changes])],
        [_("wanted"), *at_the_point(wanted)],
        ["", *(verdict_word(one.verdict) if one.verdict != "fine" else "" for one in changes)],
    )
    return aligned(list(zip(*columns, strict=True)))


def _number(mg_per_l: float) -> str:
    return format_number(mg_per_l) if mg_per_l else "0"
