"""One nutrient of the aim: its target to type, and where the feed stands."""

from __future__ import annotations

from typing import NamedTuple

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QRegion
from PySide6.QtWidgets import QWidget

from app.widgets import icons, paint, theme
from app.widgets.afterwards import afterwards
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
        self._shown: NutrientRow | None = None
        self._fed_mg_per_l, self._fed = 0.0, ""
        self._feed = self._verdict = ""
        self._columns = aim_columns(600)
        self.field = self.hold(QuantityField(self, concentration_of(nutrient)))
        self.field.setAccessibleName(say.target_name(nutrient))
        self.field.set_hint(figures.DASH)
        self.bar = RangeBar(self)
        self.bar.setAccessibleName(figures.capital(nutrient_word(nutrient)))

    def show_row(self, row: NutrientRow, target: Target | None) -> None:
        """Show what the plan says of this nutrient and what the recipe wants of it."""
        if not self.field.hasFocus():
            self.like = target
        self.field.set_quantity(None if target is None else target.mg_per_l)
        if row == self._shown:
            return
        feed, before = self.feed_text(row), self._shown
        self._shown = row
        if not self.bar.set_row(row) and before is not None and (feed, row.verdict) == (self._feed, self._verdict):
            return
        columns = self._columns
        self.update_from(columns.bar, columns.feed if row.verdict == self._verdict else columns.verdict)
        self._feed, self._verdict = feed, row.verdict
        afterwards(self, self._tell)

    def feed_text(self, row: NutrientRow) -> str:
        """Return the feed's figure, worded once per value."""
        if row.feed_mg_per_l != self._fed_mg_per_l or not self._fed:
            self._fed_mg_per_l, self._fed = row.feed_mg_per_l, format_short(row.feed_mg_per_l)
        return self._fed

    def _tell(self) -> None:
        row = self._shown
        if row is not None:
            words = say.range_text(
                row.water_mg_per_l, row.feed_mg_per_l, row.low_mg_per_l, row.high_mg_per_l, row.verdict
            )
            self.bar.setAccessibleDescription(words)
            self.bar.setToolTip(words)
            self.field.setAccessibleDescription(words)

    def arrange(self, columns: AimColumns) -> None:
        """Place the parts in the card's columns."""
        if columns != self._columns:
            self._columns = columns
            self.update()
        self.put(self.field, *columns.field, self.field.height())
        self.put(self.bar, *columns.bar, self.height())

    def paint_row(self, painter: QPainter, dirty: QRegion) -> None:
        colours, columns = theme.colours(), self._columns
        if self.touches(dirty, columns.symbol):
            name = figures.symbol(self.nutrient)
            paint.text(painter, self.cell(columns.symbol), name, theme.font(strong=True), colours.text)
        if self.touches(dirty, columns.word):
            word = say.row_word(self.nutrient)
            paint.text(painter, self.cell(columns.word), word, theme.small(), colours.muted)
        if self.touches(dirty, columns.bar):
            painter.setClipRect(columns.bar[0], 0, columns.bar[1], self.height())  # no mark reaches over its end
            painter.translate(columns.bar[0], 0)
            self.bar.draw(painter)
            painter.translate(-columns.bar[0], 0)
            painter.setClipping(False)
        if self.touches(dirty, columns.feed):
            paint.text(painter, self.cell(columns.feed), self._feed, theme.font(), colours.text, paint.RIGHT)
        if self._verdict and self.touches(dirty, columns.verdict):
            self._paint_verdict(painter, self._verdict)

    def _paint_verdict(self, painter: QPainter, verdict: str) -> None:
        colours = theme.colours()
        off = verdict in {"short", "over"}
        cell, side = self.cell(self._columns.verdict), theme.px(11)
        place = QRectF(cell.left(), (self.height() - side) / 2, side, side)
        icons.draw(painter, f"mark-{verdict}", place, colours.check if off else colours.accent)
        words = cell.adjusted(side + theme.px(5), 0, 0, 0)
        face, ink = theme.font(12, strong=off), colours.check if off else colours.muted
        paint.text(painter, words, verdict_word(verdict), face, ink)
