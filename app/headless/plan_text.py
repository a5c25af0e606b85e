"""A plan as plain text: what to weigh first, then what it makes."""

from __future__ import annotations

import textwrap

from app.headless.output import visible
from app.headless.table import aligned, at_the_point
from app.wording import caution_text, format_number, format_short, level_word, place_word, tank_title, verdict_word
from app.wording.language import gettext as _
from app.wording.phrases import (
    cost_text,
    dilution_text,
    ec_text,
    ph_text,
    product_name,
    tank_verdict_text,
    weight_text,
)
from core.plan.records import Amount, Caution, NutrientRow, Plan, Tank

WIDTH = 100


def plan_text(plan: Plan) -> str:
    """Return the whole plan as lines for a terminal or a printer."""
    sections = (
        [visible(plan.title)] if plan.title else [],
        *(_tank(tank) for tank in plan.tanks),
        *(_outside_tanks(plan, place) for place in ("water", "reservoir")),
        _rows(plan.rows),
        [ec_text(plan.feed), ph_text(plan.feed)],
        [_("Cost: {cost}").format(cost=visible(cost_text(plan.cost)))],
        [line for caution in plan.cautions for line in caution_lines(caution)],
    )
    return "\n\n".join("\n".join(lines) for lines in sections if lines) + "\n"


def _tank(tank: Tank) -> list[str]:
    heading = _("{title} (tank {name}), {volume} L: {verdict}").format(
        title=tank_title(tank.content).capitalize(),
        name=visible(tank.name),
        volume=format_short(tank.volume_l, 4),
        verdict=visible(tank_verdict_text(tank)),
    )
    if not tank.contents:
        return [heading, "  " + _("nothing")]
    weights = at_the_point([weight_text(content) for content in tank.contents])
    names = [visible(product_name(content.salt, content.entry_id)) for content in tank.contents]
    volumes = [_liquid(content.millilitres) for content in tank.contents]
    rows = list(zip(weights, names, volumes, strict=True))
    return [heading, *aligned(rows, indent="  "), "  " + dilution_text(tank.ratio)]


def _liquid(millilitres: float | None) -> str:
    return "" if millilitres is None else _("= {number} mL").format(number=format_number(millilitres, 4))


def _outside_tanks(plan: Plan, place: str) -> list[str]:
    here = [amount for amount in plan.amounts if amount.tank == place]
    if not here:
        return []
    heading = _("Into {place}, for 1000 L of finished feed").format(place=place_word(place))
    amounts = at_the_point([_per_1000_l(amount) for amount in here])
    names = [visible(product_name(amount.salt, amount.entry_id, amount.strength_percent)) for amount in here]
    whole = [_for_a_filling(plan, amount) for amount in here]
    return [heading, *aligned(list(zip(amounts, names, whole, strict=True)), indent="  "), "  " + _("not into a tank")]


def _for_a_filling(plan: Plan, amount: Amount) -> str:
    """Return how much of a liquid goes into all the feed that one filling of the tanks makes."""
    if amount.ml_per_filling is None:
        return ""
    return _("= {ml} mL for the {feed} L these tanks make").format(
        ml=format_number(amount.ml_per_filling, 4), feed=format_number(plan.feed_per_filling_l, 4)
    )


def _per_1000_l(amount: Amount) -> str:
    """Return an amount for 1000 L, where mg/L and grams are the same number."""
    if amount.ml_per_1000_l is None:
        return _("{number} g").format(number=format_number(amount.mg_per_l, 4))
    return _("{number} mL").format(number=format_number(amount.ml_per_1000_l, 4))


def _rows(rows: tuple[NutrientRow, ...]) -> list[str]:
    if not rows:
        return []
    columns = (
        [_("mg/L"), *(row.nutrient for row in rows)],
        [_("wanted"), *at_the_point([_number(row.target_mg_per_l) for row in rows])],
        [_("range"), *(_range(row.low_mg_per_l, row.high_mg_per_l) for row in rows)],
        [_("water"), *at_the_point([_number(row.water_mg_per_l) for row in rows])],
        [_("feed"), *at_the_point([_number(row.feed_mg_per_l) for row in rows])],
        ["", *(verdict_word(row.verdict) for row in rows)],
    )
    return aligned(list(zip(*columns, strict=True)))


def _number(mg_per_l: float | None) -> str:
    if mg_per_l is None:
        return ""
    return format_number(mg_per_l) if mg_per_l else "0"


def _range(low: float | None, high: float | None) -> str:
    if low is not None and high is not None:
        return f"{format_short(low)}\N{EN DASH}{format_short(high)}"
    if high is not None:
        return _("at most {number}").format(number=format_short(high))
    return "" if low is None else _("at least {number}").format(number=format_short(low))


def caution_lines(caution: Caution) -> list[str]:
    """Return a caution as lines, headed by how loud it is."""
    mark = level_word(caution.level).upper()
    return textwrap.wrap(f"{mark}: {visible(caution_text(caution))}", WIDTH, subsequent_indent="  ")
