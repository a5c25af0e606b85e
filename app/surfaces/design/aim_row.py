"""One nutrient of the aim: its target to type, and where the feed stands."""

from __future__ import annotations

from typing import NamedTuple

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget

from app.widgets import icons, paint, theme
from app.widgets.card import PAD
from app.widgets.quantity_field import QuantityField
from app.widgets.range_bar import RangeBar
from app.widgets.reading import concentration_of
from app.widgets.stripe import Stripe
from app.wording import figures, format_short, nutrient_word, verdict_word
from app.wording import surfaces as say
from core.plan.records import NutrientRow
from core.recipe.records import Target

NAMES_FROM_WIDTH = 470
"""Narrower cards leave the nutrient's word out; the symbol stays."""


class AimColumns(NamedTuple):
    """Where the columns of the aim begin and how wide they are, from the card's left edge [px]."""

    symbol: tuple[int, int]
    word: tuple[int, int]
    field: tuple[int, int]
    bar: tuple[int, int]
    feed: tuple[int, int]
    verdict: tuple[int, int]


def aim_columns(width: int) -> AimColumns:
    """Return the columns of an aim card this wide; the bars take what is left."""
    left, right = theme.px(PAD), width - theme.px(PAD)
    symbol, word = theme.px(48), theme.px(84) if width >= theme.px(NAMES_FROM_WIDTH) else 0
    field, gap, feed, verdict = theme.px(60), theme.px(8), theme.px(46), theme.px(54)
    field_left = left + symbol + word
    bar_left = field_left + field + gap
    verdict_left = right - verdict
    feed_left = verdict_left - feed - gap
    return AimColumns(
        (left, symbol),
        (left + symbol, word),
        (field_left, field),
        (bar_left, feed_left - bar_left),
        (feed_left, feed),
        (verdict_left, verdict),
    )


class AimRow(Stripe):
    """Shows one `NutrientRow`; its field takes the target."""

    def __init__(self, parent: QWidget, nutrient: str) -> None:
        super().__init__(parent)
        self.nutrient = nutrient
        self.like: Target | None = None
        self._row: NutrientRow | None = None
        self._feed = ""
        self._columns = aim_columns(600)
        self.field = QuantityField(self, concentration_of(nutrient))
        self.field.setAccessibleName(say.target_name(nutrient))
        self.field.set_hint(figures.DASH)
        self.bar = RangeBar(self)
        self.bar.setAccessibleName(figures.capital(nutrient_word(nutrient)))

    def show_row(self, row: NutrientRow, target: Target | None) -> None:
        """Show what the plan says of this nutrient and what the recipe wants of it."""
        if not self.field.hasFocus():
            self.like = target
        self.field.set_quantity(None if target is None else target.mg_per_l)
        feed = format_short(row.feed_mg_per_l)
        before = (self._feed, self._row and self._row.verdict)
        self._row, self._feed = row, feed
        if not self.bar.set_row(row) and before == (feed, row.verdict):
            return
        words = say.range_text(row.water_mg_per_l, row.feed_mg_per_l, row.low_mg_per_l, row.high_mg_per_l, row.verdict)
        self.bar.setAccessibleDescription(words)
        self.bar.setToolTip(words)
        self.field.setAccessibleDescription(words)
        self.update()

    def arrange(self, columns: AimColumns) -> None:
        """Place the parts in the card's columns."""
        if columns != self._columns:
            self._columns = columns
            self.update()
        self.put(self.field, *columns.field, self.field.height())
        self.put(self.bar, *columns.bar, self.height())

    def paint_row(self, painter: QPainter) -> None:
        row = self._row
        if row is None:
            return
        colours, columns = theme.colours(), self._columns
        strong = theme.font(strong=True)
        paint.text(painter, self._cell(columns.symbol), figures.symbol(self.nutrient), strong, colours.text)
        paint.text(painter, self._cell(columns.word), say.row_word(self.nutrient), theme.small(), colours.muted)
        paint.text(painter, self._cell(columns.feed), self._feed, theme.font(), colours.text, paint.RIGHT)
        self._paint_verdict(painter, row)

    def _paint_verdict(self, painter: QPainter, row: NutrientRow) -> None:
        colours = theme.colours()
        off = row.verdict in {"short", "over"}
        colour = colours.check if off else colours.muted
        cell, side = self._cell(self._columns.verdict), theme.px(11)
        mark = colour if off else colours.accent
        icons.draw(painter, f"mark-{row.verdict}", QRectF(cell.left(), (self.height() - side) / 2, side, side), mark)
        font = theme.font(12, strong=off)
        paint.text(painter, cell.adjusted(side + theme.px(5), 0, 0, 0), verdict_word(row.verdict), font, colour)

    def _cell(self, column: tuple[int, int]) -> QRectF:
        return QRectF(column[0], 0, column[1], self.height())
