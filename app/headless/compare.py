"""The command `compare`: recipes side by side, and what differs in words."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from app.headless.output import visible, write
from app.headless.plan import open_recipe
from app.headless.table import aligned, at_the_point
from app.wording.language import gettext as _
from app.wording.numbers import format_decimals, format_number
from app.wording.words import salt_name, verdict_word

if TYPE_CHECKING:
    from core.plan.comparison import Comparison, Variant


def compare_command(files: list[str], *, feed_l: float | None = None, as_json: bool = False) -> int:
    """Write recipes side by side and return the exit status: 1 where any has a caution to stop, else 0.

    Raises
    ------
    BadInput : a recipe cannot be read or is refused.
    """
    from core.plan.cautions import REGISTRY
    from core.plan.comparison import compare
    from core.plan.costing import Use

    recipes = tuple(open_recipe(file) for file in files)
    found = compare(recipes, None if feed_l is None else Use(feed_l))
    write(compare_json(found) if as_json else compare_text(found, files))
    codes = {code for variant in found.variants for code in variant.cautions}
    return 1 if any(REGISTRY[code].level == "stop" for code in codes) else 0


def compare_json(found: Comparison) -> str:
    """Return the comparison as JSON in ASCII, with its sentences put in."""
    from msgspec import to_builtins

    from app.wording import compare as words

    document: dict[str, Any] = to_builtins(found)
    for shown, variant in zip(document["variants"], found.variants, strict=True):
        for inner, ratio in zip(shown["ratios"], variant.ratios, strict=True):
            inner["text"] = words.ratio_text(ratio)
        for inner, bag in zip(shown["costing"]["bags"], variant.costing.bags, strict=True):
            inner["text"] = words.bag_text(bag, variant.costing.currency)
        shown["costing"]["text"] = words.costing_text(variant.costing)
    for column, differences in zip(document["differences"], found.differences, strict=True):
        for shown, one in zip(column, differences, strict=True):
            shown["text"] = words.differing_text(one)
    return json.dumps(document, indent=1, allow_nan=False) + "\n"


def compare_text(found: Comparison, files: list[str]) -> str:
    """Return a table with a column per recipe, then what differs from the first, in words."""
    from app.wording import compare as words

    names = [visible(v.title or file) for v, file in zip(found.variants, files, strict=True)]
    sections = [_table(found.variants, names)]
    for name, variant in zip(names, found.variants, strict=True):
        ratios = [words.ratio_text(ratio) for ratio in variant.ratios if ratio.kind in ("n-to-k", "k-ca-mg")]
        bags = [visible(words.bag_text(bag, variant.costing.currency)) for bag in variant.costing.bags]
        cost = _("Cost: {cost}").format(cost=visible(words.costing_text(variant.costing)))
        buy = _("To buy for {litres} L of feed:").format(litres=f"{variant.costing.feed_l:g}")
        sections.append([name, *(f"  {line}" for line in (*ratios, cost, buy)), *(f"    {bag}" for bag in bags)])
    for name, differences in zip(names[1:], found.differences, strict=True):
        heading = _("{name} beside {first}:").format(name=name, first=names[0])
        lines = [visible(words.differing_text(one)) for one in differences] or [_("no difference")]
        sections.append([heading, *(f"  {line}" for line in lines)])
    return "\n\n".join("\n".join(lines) for lines in sections) + "\n"


def _table(variants: tuple[Variant, ...], names: list[str]) -> list[str]:
    keys = list(dict.fromkeys(key for variant in variants for key in variant.amounts_mg_per_l))
    nutrients = [name for name in variants[0].nutrients_mg_per_l if any(name in v.verdicts for v in variants)]
    head = ["mg/L", *(visible(salt_name(key)) for key in keys), "", *nutrients, "", *_figure_names()]
    columns = [head]
    for name, variant in zip(names, variants, strict=True):
        amounts = at_the_point([_amount(variant.amounts_mg_per_l.get(key)) for key in keys])
        feed = at_the_point([_amount(variant.nutrients_mg_per_l[nutrient]) for nutrient in nutrients])
        verdicts = [_verdict(variant.verdicts.get(nutrient)) for nutrient in nutrients]
        told = [f"{number} {verdict}".rstrip() for number, verdict in zip(feed, verdicts, strict=True)]
        columns.append([name, *amounts, "", *told, "", *_figures(variant)])
    return aligned(list(zip(*columns, strict=True)))


def _amount(mg_per_l: float | None) -> str:
    return "" if not mg_per_l else format_number(mg_per_l)


def _verdict(verdict: str | None) -> str:
    return verdict_word(verdict) if verdict in ("short", "over") else ""


def _figure_names() -> list[str]:
    return ["EC mS/cm", "pH", _("ammonium % of N"), _("tanks"), _("out of range")]


def _figures(variant: Variant) -> list[str]:
    ec, ph = variant.ec_ms_per_cm, variant.ph
    return [
        "?" if ec is None else format_decimals(ec, 2),
        "?" if ph is None else format_decimals(ph, 1),
        format_decimals(variant.ammonium_share_percent, 1),
        str(len(variant.tanks)),
        str(variant.missed),
    ]
