"""The table of variants as rows: a name, and a cell per variant with its text, its place in a range, its copy."""

from __future__ import annotations

from typing import NamedTuple

from app.session.side_by_side import Column, Held
from app.wording import caution_text, figures, format_decimals, format_number, format_short, salt_name, verdict_word
from app.wording import comparing as say
from app.wording.goals import goal_word
from core.plan.costing import Bag
from core.plan.records import NutrientRow
from core.recipe.records import NUTRIENTS

ALWAYS = ("Na", "Cl")
"""Nutrients shown whether or not anything is asked of them."""


class Cell(NamedTuple):
    """What stands in one cell; `told` is what a screen reader says beyond the text, `copied` what a spreadsheet gets.

    `row` places a nutrient in its range, `off` marks what is not as wanted.
    """

    text: str = ""
    told: str = ""
    copied: str = ""
    row: NutrientRow | None = None
    off: bool = False


class Row(NamedTuple):
    """One line of the table; a section's line has no cells."""

    name: str
    copied: str
    cells: tuple[Cell, ...] = ()

    @property
    def is_section(self) -> bool:
        """Whether it only heads those below it."""
        return not self.cells


def rows_of(columns: tuple[Column, ...]) -> tuple[Row, ...]:
    """Return all rows of a comparison."""
    if not columns:
        return ()
    names = _product_names(columns)
    return (*_amounts(columns, names), *_nutrients(columns), *_feed(columns), *_cost(columns), *_bags(columns, names))


def head_of(held: Held, title: str, goal: str) -> tuple[str, str]:
    """Return what a column is called, and what it is."""
    saved = held.kind == "adapted" and held.path is not None
    kind = say.kind_words("saved" if saved else held.kind, goal)
    if held.name:
        return held.name, kind
    if held.kind == "open":
        return say.this_recipe(), kind
    if held.kind == "goal":
        return figures.capital(goal_word(held.goal)), kind
    return say.title_of(title), kind


def copied_text(rows: tuple[Row, ...], heads: list[str], chosen: list[int]) -> str:
    """Return some columns for a spreadsheet: names first, tabs between, a line per row."""
    lines = ["\t".join(["", *(heads[number] for number in chosen)])]
    for row in rows:
        cells = [] if row.is_section else [row.cells[number].copied for number in chosen]
        lines.append("\t".join([row.copied, *cells]))
    return "".join(f"{line}\n" for line in lines)


def _product_names(columns: tuple[Column, ...]) -> dict[str, str]:
    """Return the shelf entries any variant uses with their names: as short as tells them apart."""
    salts: dict[str, str] = {}
    for column in columns:
        salts.update({amount.entry_id: amount.salt for amount in column.plan.amounts})
    parts = {key: figures.name_parts(salt_name(salt)) for key, salt in salts.items()}
    short = [main for main, _grade in parts.values()]
    names = {key: main if short.count(main) == 1 else f"{main} {grade}".strip() for key, (main, grade) in parts.items()}
    known = list(names.values())
    return {key: name if known.count(name) == 1 else f"{name} ({key})" for key, name in names.items()}


def _amounts(columns: tuple[Column, ...], names: dict[str, str]) -> list[Row]:
    rows = [Row(say.section("amounts"), say.section("amounts"))]
    for key, name in names.items():
        cells = []
        for column in columns:
            amount = next((one for one in column.plan.amounts if one.entry_id == key), None)
            dose = column.held.doses_ml_per_l.get(key)
            if amount is None:
                cells.append(Cell(figures.DASH, say.not_used(), "0"))
                continue
            if dose is not None:
                text = say.litres_of_tank(dose)
                cells.append(Cell(text, say.as_mixed(), text))
                continue
            grams = say.grams(amount.mg_per_l)
            millilitres = amount.ml_per_1000_l
            text = grams if millilitres is None else figures.millilitres(format_number(millilitres))
            cells.append(Cell(text, "" if millilitres is None else grams, format_number(amount.mg_per_l, 4)))
        mixed = any(key in column.held.doses_ml_per_l for column in columns)
        rows.append(Row(figures.capital(name) if mixed else name, say.amount_copied(name), tuple(cells)))
    return rows


def _nutrients(columns: tuple[Column, ...]) -> list[Row]:
    told = [{row.nutrient: row for row in column.plan.rows} for column in columns]
    shown = [name for name in NUTRIENTS if name in ALWAYS or any(_matters(rows.get(name)) for rows in told)]
    rows = [Row(say.section("nutrients"), say.section("nutrients"))]
    for name in shown:
        cells = tuple(
            _nutrient_cell(known.get(name), column, name) for known, column in zip(told, columns, strict=True)
        )
        rows.append(Row(say.nutrient_row(name), say.nutrient_copied(name), cells))
    return rows


def _matters(row: NutrientRow | None) -> bool:
    return row is not None and (row.high_mg_per_l is not None or row.low_mg_per_l is not None)


def _nutrient_cell(row: NutrientRow | None, column: Column, name: str) -> Cell:
    value = column.variant.nutrients_mg_per_l.get(name, 0.0)
    text, copied = format_short(value), format_number(value, 4)
    if row is None or not _matters(row):
        return Cell(text, "", copied)
    told = say.place_words(row.low_mg_per_l, row.high_mg_per_l, row.target_mg_per_l, row.verdict)
    return Cell(text, told, copied, row, row.verdict in ("short", "over"))


def word_of(cell: Cell) -> str:
    """Return the word beside a nutrient's place."""
    return "" if cell.row is None else verdict_word(cell.row.verdict)


def _feed(columns: tuple[Column, ...]) -> list[Row]:
    variants = [column.variant for column in columns]
    ec = [_figure(v.ec_ms_per_cm, 2) for v in variants]
    ph = [_figure(column.plan.feed.ph_aired, 1) for column in columns]
    ammonium = [_figure(v.ammonium_share_percent, 1) for v in variants]
    tanks = [_tanks(column) for column in columns]
    missed = [Cell(say.missed_words(v.missed), "", str(v.missed), off=v.missed > 0) for v in variants]
    cautions = [_cautions(column) for column in columns]
    named = {"ec": ec, "ph": ph, "ammonium": ammonium, "missed": missed, "tanks": tanks, "cautions": cautions}
    return [
        Row(say.section("feed"), say.section("feed")),
        *(Row(say.figure(name), say.figure(name), tuple(cells)) for name, cells in named.items()),
    ]


def _figure(value: float | None, decimals: int) -> Cell:
    text = "?" if value is None else format_decimals(value, decimals)
    return Cell(text, "", text)


def _tanks(column: Column) -> Cell:
    variant = column.variant
    if column.held.doses_ml_per_l:
        return Cell(say.as_mixed(), "", say.as_mixed())
    text = say.tanks_words(variant.tank_verdicts)
    off = any(verdict != "clear" for verdict in variant.tank_verdicts)
    return Cell(text, say.tanks_told(variant.tanks, variant.tank_verdicts), text, off=off)


def _cautions(column: Column) -> Cell:
    grave = [caution for caution in column.plan.cautions if caution.level != "note"]
    stops = sum(caution.level == "stop" for caution in grave)
    text = say.cautions_words(stops, len(grave) - stops)
    told = " ".join(caution_text(caution) for caution in grave)
    return Cell(text, told, text, off=stops > 0)


def _cost(columns: tuple[Column, ...]) -> list[Row]:
    costings = [column.variant.costing for column in columns]
    shown = ["per_1000_l", "per_100_us_gal"]
    shown += ["per_m2_season"] if any(one.per_m2_season is not None for one in costings) else []
    rows = [Row(say.section("cost"), say.section("cost"))]
    for name in shown:
        cells = []
        for one in costings:
            value: float | None = getattr(one, name)
            known = Cell("" if value is None else say.money(value, one.currency), "", _copied(value))
            cells.append(known if value is not None else Cell(say.unknown_cost(), say.missing_words(one.missing)))
        rows.append(Row(say.figure(name), say.figure(name), tuple(cells)))
    return rows


def _copied(value: float | None) -> str:
    return "" if value is None else format_decimals(value, 4)


def _bags(columns: tuple[Column, ...], names: dict[str, str]) -> list[Row]:
    costings = [column.variant.costing for column in columns]
    heading = say.bags_heading(costings[0].feed_l)
    rows = [Row(heading, heading)]
    bags = [{bag.entry_id: bag for bag in one.bags} for one in costings]
    for key, name in names.items():
        cells = tuple(
            Cell(figures.DASH, say.as_mixed()) if key in column.held.doses_ml_per_l
            else _bag(known.get(key), column.variant.costing.currency)
            for known, column in zip(bags, columns, strict=True)
        )  # fmt: skip
        rows.append(Row(name, say.bag_copied(name), cells))
    pays = tuple(
        Cell(figures.DASH, say.bags_unknown()) if one.bags_pay is None
        else Cell(say.money(one.bags_pay, one.currency), "", _copied(one.bags_pay))
        for one in costings
    )  # fmt: skip
    return [*rows, Row(say.figure("pays"), say.figure("pays"), pays)]


def _bag(bag: Bag | None, currency: str) -> Cell:
    if bag is None:
        return Cell(figures.DASH, say.not_used())
    text = say.bag_cell(bag)
    return Cell(text, say.bag_told(bag, currency), text)
