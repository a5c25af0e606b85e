"""How a titration is drawn: grid and axes, the two lines, the marks, the cursor."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from app.widgets import paint, theme
from app.widgets.axis import Axis, axis_up_to
from app.wording import format_short
from app.wording import titration as say

if TYPE_CHECKING:
    from core.plan.titration import Titration

TICKS_AT_MOST = 7
LEFT, RIGHT, TOP, BOTTOM = 40, 16, 34, 46
"""Room around the plot for figures, titles and legend [px]."""


class CurveDrawing:
    """One painting of one curve."""

    def __init__(self, painter: QPainter, plot: QRectF, curve: Titration) -> None:
        self._painter = painter
        self._plot = plot
        self._curve = curve
        self._doses = dose_axis(curve.dose_per_1000_l[-1])
        self._ph = ph_axis(curve)

    def _x(self, dose: float) -> float:
        return self._plot.left() + self._plot.width() * dose / self._doses.high

    def _y(self, ph: float) -> float:
        return self._plot.bottom() - self._plot.height() * (ph - self._ph.low) / (self._ph.high - self._ph.low)

    def paint_ground(self) -> None:
        """Paint grid, figures, axis titles and where calcium phosphate may cloud."""
        colours, painter, plot = theme.colours(), self._painter, self._plot
        self._paint_clouding()
        small, line = theme.small(), theme.small().height()
        for ph in self._ph.ticks:
            y = self._y(ph)
            painter.fillRect(QRectF(plot.left(), y - 0.5, plot.width(), 1), colours.line)
            place = QRectF(0, y - line / 2, plot.left() - theme.px(7), line)
            paint.text(painter, place, format_short(ph), small, colours.muted, paint.RIGHT)
        for dose in self._doses.ticks:
            place = QRectF(self._x(dose) - theme.px(30), plot.bottom() + theme.px(3), theme.px(60), line)
            paint.text(painter, place, format_short(dose, 4), small, colours.muted, paint.CENTRE)
        below = QRectF(plot.left(), plot.bottom() + theme.px(22), plot.width(), line)
        paint.text(painter, below, say.axis(self._curve), small, colours.muted, paint.CENTRE)
        head = QRectF(0, plot.top() - theme.px(24), plot.left() - theme.px(7), line)
        paint.text(painter, head, "pH", small, colours.muted, paint.RIGHT)

    def _paint_clouding(self) -> None:
        brushite, doses = self._curve.brushite, self._curve.dose_per_1000_l
        over = [dose for dose, index in zip(doses, brushite or (), strict=False) if index > 0.0]
        if not over or len(over) < 2:
            return
        colours, left, right = theme.colours(), self._x(over[0]), self._x(over[-1])
        place = QRectF(left, self._plot.top(), right - left, self._plot.height())
        self._painter.fillRect(place, colours.strip)
        words = QRectF(
            left + theme.px(6), place.bottom() - theme.px(20), self._plot.width() - theme.px(8), theme.px(18)
        )
        paint.text(self._painter, words, say.clouding(), theme.small(), colours.check)

    def paint_line(self, values: tuple[float, ...], colour: QColor, *, dashed: bool) -> None:
        """Paint one line of the curve."""
        points = [QPointF(self._x(d), self._y(v)) for d, v in zip(self._curve.dose_per_1000_l, values, strict=True)]
        pen = QPen(colour, 2.2, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap, Qt.PenJoinStyle.RoundJoin)
        if dashed:
            pen.setDashPattern([4.0, 2.0])
        self._painter.setPen(pen)
        self._painter.setBrush(Qt.BrushStyle.NoBrush)
        self._painter.drawPolyline(QPolygonF(points))

    def paint_wanted(self) -> None:
        """Mark the pH the aim names."""
        wanted, colours = self._curve.ph_wanted, theme.colours()
        if wanted is None or not self._ph.low <= wanted <= self._ph.high:
            return
        y, font, words = self._y(wanted), theme.small(), say.wanted_mark()
        self._painter.setPen(QPen(colours.target, 1.4, Qt.PenStyle.DotLine))
        self._painter.drawLine(QPointF(self._plot.left(), y), QPointF(self._plot.right(), y))
        place = QRectF(self._plot.left() + theme.px(6), y + theme.px(1), font.width(words) + theme.px(4), theme.px(17))
        paint.text(self._painter, place, words, font, colours.text)

    def paint_planned(self) -> None:
        """Mark the plan's own dose, and the pH it reaches."""
        planned, colours, painter = self._curve.planned_dose, theme.colours(), self._painter
        if planned is None:
            return
        x = self._x(planned)
        painter.setPen(QPen(colours.target, 1.4, Qt.PenStyle.DotLine))
        painter.drawLine(QPointF(x, self._plot.top()), QPointF(x, self._plot.bottom()))
        font, words = theme.small(), say.planned_mark()
        width = font.width(words)
        place = QRectF(x - width - theme.px(6), self._plot.top() + theme.px(2), width, theme.px(18))
        paint.text(painter, place, words, font, colours.text, paint.RIGHT)
        for ph, colour in zip(self._curve.ph_planned, (colours.accent, colours.places[1]), strict=True):
            self._paint_dot(x, self._y(ph), colour, filled=True)

    def _paint_dot(self, x: float, y: float, colour: QColor, *, filled: bool) -> None:
        colours, reach = theme.colours(), theme.px(4.5)
        self._painter.setPen(QPen(colours.card if filled else colour, 1.5))
        self._painter.setBrush(colour if filled else colours.card)
        self._painter.drawEllipse(QPointF(x, y), reach, reach)

    def paint_cursor(self, dose: float) -> None:
        """Mark where the cursor stands on both lines."""
        colours, x = theme.colours(), self._x(dose)
        self._painter.fillRect(QRectF(x - 0.5, self._plot.top(), 1, self._plot.height()), colours.muted)
        for ph, colour in zip(self._curve.at(dose), (colours.accent, colours.places[1]), strict=True):
            self._paint_dot(x, self._y(ph), colour, filled=False)
        words = say.point(self._curve, dose)
        strong = theme.font(12.5, strong=True)
        place = QRectF(self._plot.left(), 0, strong.width(words) + theme.px(4), theme.px(TOP) - theme.px(6))
        paint.text(self._painter, place, words, strong, colours.text)

    def paint_legend(self, whole: QRectF) -> None:
        """Name the two lines at the upper right."""
        colours, painter, font = theme.colours(), self._painter, theme.small()
        right = whole.right() - theme.px(RIGHT)
        fresh, aired = say.legend()
        for words, colour, dashed in ((aired, colours.places[1], True), (fresh, colours.accent, False)):
            width = font.width(words)
            paint.text(painter, QRectF(right - width, 0, width + 1, theme.px(28)), words, font, colours.muted)
            pen = QPen(colour, 2.2, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap)
            if dashed:
                pen.setDashPattern([4.0, 2.0])
            painter.setPen(pen)
            start = right - width - theme.px(30)
            painter.drawLine(QPointF(start, theme.px(14)), QPointF(start + theme.px(24), theme.px(14)))
            right = start - theme.px(14)


def dose_axis(most: float) -> Axis:
    """Return an axis from 0 to a dose, its ticks at round numbers."""
    return axis_up_to(most, TICKS_AT_MOST)


def ph_axis(curve: Titration) -> Axis:
    """Return an axis of whole pH around both lines."""
    values = (*curve.ph_closed, *curve.ph_aired)
    low, high = math.floor(min(values) - 0.1), math.ceil(max(values) + 0.1)
    return Axis(float(low), float(high), tuple(float(ph) for ph in range(low, high + 1)))
