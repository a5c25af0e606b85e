"""One nutrient as a bar: what the water brings, what is wanted, what the feed reaches."""

from __future__ import annotations

from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from app.widgets import paint, theme
from core.plan.records import NutrientRow

ANCHOR = 0.72
"""Where the target, or a limit without one, stands in every bar: what is off target leaves the common line."""

FINENESS = 4000
"""Steps along a bar that can be told apart on the widest screen."""


class RangeBar(QWidget):
    """One `NutrientRow` as a bar; every bar has its own scale, so the targets stand below one another.

    Whoever it lies on draws it with `draw`, in one go with what stands beside it: a widget less to paint at every key.
    """

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._row: NutrientRow | None = None
        self._full = 0.0
        self._drawn: tuple[object, ...] = ()

    def set_row(self, row: NutrientRow) -> bool:
        """Show this row; returns whether that looks any different from before."""
        self._row, self._full = row, _full_scale(row)
        values = (row.water_mg_per_l, row.target_mg_per_l, row.low_mg_per_l, row.high_mg_per_l, row.feed_mg_per_l)
        steps = [None if value is None else round(FINENESS * self.position(value)) for value in values]
        drawn = (row.verdict, *steps)
        changed, self._drawn = drawn != self._drawn, drawn
        return changed

    def position(self, mg_per_l: float) -> float:
        """Return where along the bar a concentration stands, 0 to 1; what is off the scale stands at its end."""
        return min(1.0, max(0.0, mg_per_l / self._full)) if self._full > 0 else 0.0

    def draw(self, painter: QPainter) -> None:
        """Draw the bar with its top left corner at the painter's origin."""
        if self._row is None:
            return
        painter.setRenderHint(paint.SMOOTH)
        inset = theme.px(6)
        scale = _Scale(self._full, inset, self.width() - 2 * inset, self.height() / 2)
        _paint_ground(painter, self._row, scale)
        _paint_ticks(painter, self._row, scale)
        _paint_marker(painter, self._row, scale)


class _Scale(NamedTuple):
    """Where concentrations up to `full` [mg/L] stand [px]."""

    full: float
    inset: int
    length: int
    middle: float

    def x(self, mg_per_l: float) -> float:
        if self.full <= 0:
            return self.inset
        return self.inset + min(1.0, max(0.0, mg_per_l / self.full)) * self.length

    def span(self, low: float, high: float, height: int) -> QRectF:
        left = self.x(low)
        return QRectF(left, self.middle - height / 2, max(0.0, self.x(high) - left), height)


def _paint_ground(painter: QPainter, row: NutrientRow, scale: _Scale) -> None:
    colours = theme.colours()
    thick = theme.px(8)
    track = QRectF(scale.inset, scale.middle - thick / 2, scale.length if scale.full > 0 else 0, thick)
    paint.panel(painter, track, colours.track, None, thick / 2)
    low, high = row.low_mg_per_l or 0.0, row.high_mg_per_l
    if high is not None:
        band = scale.span(low, high, theme.px(12) if low > 0 else thick)
        paint.panel(painter, band, colours.wanted, None, theme.px(3) if low > 0 else thick / 2)
    elif row.low_mg_per_l is not None:
        paint.panel(painter, scale.span(low, scale.full, thick), colours.wanted, None, thick / 2)
    if row.feed_mg_per_l > row.water_mg_per_l:
        painter.fillRect(scale.span(row.water_mg_per_l, row.feed_mg_per_l, theme.px(2)), colours.added)
    if scale.x(row.water_mg_per_l) - scale.inset > 1:
        paint.panel(painter, scale.span(0, row.water_mg_per_l, thick), colours.water, None, thick / 2)


def _paint_ticks(painter: QPainter, row: NutrientRow, scale: _Scale) -> None:
    colours = theme.colours()
    middle = scale.middle
    if row.target_mg_per_l is not None:
        x, reach = scale.x(row.target_mg_per_l), theme.px(10)
        painter.fillRect(QRectF(x - 1, middle - reach, 2, 2 * reach), colours.target)
    elif row.high_mg_per_l is not None or row.low_mg_per_l is not None:
        limit = row.high_mg_per_l if row.high_mg_per_l is not None else row.low_mg_per_l or 0.0
        pen = QPen(colours.muted, 1.5, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap)
        pen.setDashPattern([2, 1.5])
        painter.setPen(pen)
        x, reach = scale.x(limit), theme.px(8)
        painter.drawLine(QPointF(x, middle - reach), QPointF(x, middle + reach))


def _paint_marker(painter: QPainter, row: NutrientRow, scale: _Scale) -> None:
    colours = theme.colours()
    x, middle, r = scale.x(row.feed_mg_per_l), scale.middle, theme.px(4.5)
    off = row.verdict in {"short", "over"}
    painter.setPen(QPen(colours.card, 1.5))
    painter.setBrush(colours.check if off else colours.accent)
    if off:
        up = -1 if row.verdict == "over" else 1
        points = [QPointF(x - r - 2, middle - up * r), QPointF(x + r + 2, middle - up * r)]
        painter.drawPolygon(QPolygonF([*points, QPointF(x, middle + up * (r + 1))]))
    elif row.verdict == "met":
        painter.drawEllipse(QPointF(x, middle), r + 0.75, r + 0.75)
    else:
        painter.setPen(QPen(colours.accent, 2))
        painter.setBrush(colours.card)
        painter.drawEllipse(QPointF(x, middle), r - 0.5, r - 0.5)


def _full_scale(row: NutrientRow) -> float:
    asked = row.target_mg_per_l or row.high_mg_per_l or row.low_mg_per_l
    return asked / ANCHOR if asked else 2.0 * max(row.feed_mg_per_l, row.water_mg_per_l)  # half-way: no verdict meant
