"""Puts a plan's amounts into words, one line per product on the shelf."""

from __future__ import annotations

from collections import Counter
from typing import NamedTuple

from app.surfaces.design.salt_row import SaltLine
from app.wording import figures, format_number, format_short, tank_title
from app.wording import surfaces as say
from app.wording.phrases import product_parts, weight_text
from core.plan.records import Amount, Plan, TankContent, in_all
from core.recipe.records import Recipe, ShelfEntry

BRINGS_AT_MOST = 3
TOO_LITTLE_SHARE = 0.02
"""What a product brings beside its main nutrient is named from this share of it on."""

NITROGEN_FORMS = frozenset({"NO3-N", "NH4-N", "urea-N"})


def salt_lines(recipe: Recipe, plan: Plan) -> tuple[SaltLine, ...]:
    """Return the lines of everything on the shelf: what goes into the water, each tank's products, the unused.

    Within a place they stand as on the shelf, so that no line changes its place because amounts change.
    """
    amounts = {amount.entry_id: amount for amount in plan.amounts}
    tanks = _in_tanks(plan)
    several = Counter(entry.salt for entry in recipe.shelf)
    lines = []
    for entry in recipe.shelf:
        grade = (entry.entry_id or "") if several[entry.salt] > 1 else ""
        amount = amounts.get(entry.key)
        lines.append(_unused(entry, grade) if amount is None else _used(entry, grade, amount, tanks))
    first = say.into_water()
    return tuple(sorted(lines, key=lambda line: (not line.used, _rank(line, first))))


class _InTanks(NamedTuple):
    """The tanks' numbers and titles by name, and what each product's weighings are."""

    numbers: dict[str, int]
    titles: dict[str, str]
    contents: dict[str, list[TankContent]]


def _in_tanks(plan: Plan) -> _InTanks:
    contents: dict[str, list[TankContent]] = {}
    for tank in plan.tanks:
        for content in tank.contents:
            contents.setdefault(content.entry_id, []).append(content)
    numbers = {tank.name: number for number, tank in enumerate(plan.tanks)}
    return _InTanks(numbers, {tank.name: tank_title(tank.content) for tank in plan.tanks}, contents)


def _rank(line: SaltLine, into_water: str) -> int:
    if line.place_number is not None:
        return line.place_number + 1
    return 0 if line.place == into_water else 99


def _unused(entry: ShelfEntry, grade: str) -> SaltLine:
    name, kind = product_parts(entry)
    fixed = entry.exactly_mg_per_l is not None  # at nothing: the line stays under the hand that typed it
    return SaltLine(
        entry.key, name, grade or kind, say.not_used(), "0", entry.exactly_mg_per_l, "", None, "", used=fixed
    )


def _used(entry: ShelfEntry, grade: str, amount: Amount, tanks: _InTanks) -> SaltLine:
    name, kind = product_parts(entry)
    number = tanks.numbers.get(amount.tank or "")
    return SaltLine(
        entry.key,
        name,
        grade or kind,
        _weight(amount, tanks.contents.get(amount.entry_id)),
        format_short(amount.mg_per_l),
        entry.exactly_mg_per_l,
        _place(amount, tanks.titles),
        number,
        _brings(amount),
        used=True,
        total=_total(amount, tanks.contents.get(amount.entry_id)),
    )


def _place(amount: Amount, titles: dict[str, str]) -> str:
    if amount.tank == "water":
        return say.into_water()
    if amount.tank == "reservoir":
        return say.into_reservoir()
    return " + ".join(title for name, title in titles.items() if name in amount.shares or name == amount.tank)


def _total(amount: Amount, contents: list[TankContent] | None) -> str:
    """The weight of all tanks together; "" where one tank takes it all."""
    if not contents or len(contents) == 1:
        return ""
    return say.together(_weight(amount, [in_all(contents)]))


def _weight(amount: Amount, contents: list[TankContent] | None) -> str:
    if not contents:
        return "" if amount.ml_per_filling is None else figures.millilitres(format_number(amount.ml_per_filling, 4))
    if all(content.millilitres is not None for content in contents):
        return figures.millilitres(" + ".join(format_short(content.millilitres or 0.0, 4) for content in contents))
    return " + ".join(map(weight_text, contents))


def _brings(amount: Amount) -> str:
    brings = amount.brings_mg_per_l
    forms = NITROGEN_FORMS if "N" in brings else frozenset()
    kept = sorted(((value, name) for name, value in brings.items() if value > 0 and name not in forms), reverse=True)
    words = [
        f"{figures.symbol(name)} {format_short(value)}"
        for value, name in kept[:BRINGS_AT_MOST]
        if value >= TOO_LITTLE_SHARE * kept[0][0]
    ]
    if amount.tank in {"water", "reservoir"} and amount.alkalinity_meq_per_l < 0:
        words.append(say.takes_alkalinity(amount.alkalinity_meq_per_l))
    return "  ".join(words)
