"""Cost against fit: the cheapest there is for every worst miss, as a line, and each variant as a point."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.widgets import paint, theme
from app.wording import comparing_cards as cards
from app.wording import format_short

if TYPE_CHECKING:
    from core.blend.frontier import Frontier

TALL, LEFT, RIGHT, TOP, BOTTOM = 220, 46, 14, 24, 38
TICKS = 6
NEAR = 0.02
"""Share of an axis under which two marks are as good as in one place."""


class Stop(NamedTuple):
    """A place the cursor stops at: a corner of the line, or a variant by its name."""

    deviation_percent: float
    per_1000_l: float
    name: str = ""
    chosen: bool = False


class Axis(NamedTuple):
    """An axis with its ticks."""

    low: float
    high: float
    ticks: tuple[float, ...]

    def share(self, value: float) -> float:
        """Return where along the axis a value lies, 0 to 1."""
        return (value - self.low) / (self.high - self.low) if self.high > self.low else 0.0


def axis(low: float, high: float, count: int = TICKS) -> Axis:
    """Return an axis that holds both ends, its ticks at round numbers."""
    least = max(high - low, abs(high) * 0.05, 1e-6) / max(1, count - 1)
    size = 10.0 ** math.floor(math.log10(least))
    step = next(size * factor for factor in (1.0, 2.0, 2.5, 5.0, 10.0) if size * factor >= least * (1 - 1e-9))
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    last = max(last, first + 1)
    return Axis(first * step, last * step, tuple(number * step for number in range(first, last + 1)))


class CostPlot(QWidget):
    """Left and Right walk along corners and variants.

    Signals
    -------
    told_of : what is told of where the cursor stands now.
    """

    told_of = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._corners: tuple[Stop, ...] = ()
        self._points: tuple[Stop, ...] = ()
        self._currency = ""
        self._at = 0
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(cards.curve_name())

    def show_curve(self, curve: Frontier, points: tuple[Stop, ...], currency: str) -> None:
        """Show the line and the variants on it or above it."""
        self._corners = tuple(Stop(100.0 * corner.deviation, corner.per_1000_l) for corner in curve.corners)
        self._points, self._currency = points, currency
        stops = self.stops()
        chosen = next((number for number, stop in enumerate(stops) if stop.chosen), 0)
        self._move(chosen)

    def stops(self) -> list[Stop]:
        """Return where the cursor can stand, from the left."""
        return sorted((*self._corners, *self._points), key=lambda stop: (stop.deviation_percent, stop.name))

    def told(self) -> str:
        """Return what is told of where the cursor stands."""
        stops = self.stops()
        if not stops:
            return ""
        stop = stops[self._at]
        if stop.name:
            return cards.curve_point(stop.name, stop.deviation_percent, stop.per_1000_l, self._currency)
        return cards.curve_corner(stop.deviation_percent, stop.per_1000_l, self._currency)

    def sizeHint(self) -> QSize:
        return QSize(theme.px(320), theme.px(TALL))

    def _move(self, to: int) -> None:
        self._at = max(0, min(len(self.stops()) - 1, to))
        self.setAccessibleDescription(self.told())
        self.told_of.emit(self.told())
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        last = len(self.stops()) - 1
        steps = {
            Qt.Key.Key_Right: self._at + 1, Qt.Key.Key_Left: self._at - 1, Qt.Key.Key_Home: 0, Qt.Key.Key_End: last,
        }  # fmt: skip
        to = steps.get(Qt.Key(event.key()))
        if to is None:
            super().keyPressEvent(event)
        else:
            self._move(to)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        across, up = self._axes()
        stops, where = self.stops(), event.position()
        if stops:
            spots = [self._spot(stop, across, up) - where for stop in stops]
            self._move(min(range(len(spots)), key=lambda n: spots[n].manhattanLength()))

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    def _axes(self) -> tuple[Axis, Axis]:
        stops = self.stops()
        costs = [stop.per_1000_l for stop in stops] or [0.0, 1.0]
        widest = max([stop.deviation_percent for stop in stops] or [1.0])
        return axis(0.0, max(widest, 1.0)), axis(min(costs), max(costs), 5)

    def _plot(self) -> QRectF:
        return QRectF(self.rect()).adjusted(theme.px(LEFT), theme.px(TOP), -theme.px(RIGHT), -theme.px(BOTTOM))

    def _spot(self, stop: Stop, across: Axis, up: Axis) -> QPointF:
        plot = self._plot()
        x = plot.left() + across.share(stop.deviation_percent) * plot.width()
        return QPointF(x, plot.bottom() - up.share(stop.per_1000_l) * plot.height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self.stops():
            across, up = self._axes()
            self._paint_ground(painter, across, up)
            self._paint_line(painter, across, up)
            self._paint_points(painter, across, up)
            self._paint_cursor(painter, across, up)
        if self.hasFocus():
            paint.focus_ring(painter, QRectF(self.rect()), colours.focus, theme.px(5))

    def _paint_ground(self, painter: QPainter, across: Axis, up: Axis) -> None:
        colours, plot, small, line = theme.colours(), self._plot(), theme.font(11.5), theme.font(11.5).height()
        digits = 3 if up.high < 100.0 else 4
        for tick in up.ticks:
            y = plot.bottom() - up.share(tick) * plot.height()
            painter.fillRect(QRectF(plot.left(), y - 0.5, plot.width(), 1), colours.line)
            place = QRectF(0, y - line / 2, plot.left() - theme.px(6), line)
            paint.text(painter, place, format_short(tick, digits), small, colours.muted, paint.RIGHT)
        for tick in across.ticks:
            x = plot.left() + across.share(tick) * plot.width()
            place = QRectF(x - theme.px(20), plot.bottom() + theme.px(2), theme.px(40), line)
            paint.text(painter, place, format_short(tick), small, colours.muted, paint.CENTRE)
        below = QRectF(0, plot.bottom() + theme.px(19), self.width() - theme.px(6), line)
        paint.text(painter, below, cards.curve_axes(self._currency)[0], small, colours.muted, paint.RIGHT)
        head = QRectF(theme.px(2), plot.top() - line - theme.px(4), self.width(), line)
        paint.text(painter, head, cards.curve_axes(self._currency)[1], small, colours.muted)

    def _paint_line(self, painter: QPainter, across: Axis, up: Axis) -> None:
        colours = theme.colours()
        spots = [self._spot(corner, across, up) for corner in self._corners]
        painter.setPen(QPen(colours.accent, 2.0, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolyline(QPolygonF(spots))
        for spot in spots:
            self._paint_dot(painter, spot, colours.card, colours.accent, theme.px(3))

    def _paint_points(self, painter: QPainter, across: Axis, up: Axis) -> None:
        """Paint the variants, names beside them; names of points in one place stand below each other."""
        colours, plot, face = theme.colours(), self._plot(), theme.font(11.5)
        taken: list[QRectF] = []
        for point in sorted(self._points, key=lambda one: not one.chosen):
            spot = self._spot(point, across, up)
            fill = colours.places[1] if point.chosen else colours.card
            self._paint_dot(painter, spot, fill, colours.places[1], theme.px(5))
            wide = face.width(point.name) + 2.0
            left = spot.x() + theme.px(9)
            if left + wide > plot.right():
                left = max(plot.left(), spot.x() - theme.px(9) - wide)
            words = QRectF(left, spot.y() - face.height() - theme.px(1), wide, face.height())
            while any(words.intersects(other) for other in taken) or words.top() < plot.top() - theme.px(2):
                words.translate(0, face.height())
            taken.append(words)
            paint.text(painter, words, point.name, face, colours.text)

    def _paint_dot(self, painter: QPainter, spot: QPointF, fill: QColor, line: QColor, reach: float) -> None:
        painter.setPen(QPen(line, 1.8))
        painter.setBrush(fill)
        painter.drawEllipse(spot, reach, reach)

    def _paint_cursor(self, painter: QPainter, across: Axis, up: Axis) -> None:
        colours = theme.colours()
        spot = self._spot(self.stops()[self._at], across, up)
        painter.setPen(QPen(colours.target, 1.2, Qt.PenStyle.DotLine))
        painter.drawLine(QPointF(spot.x(), self._plot().top()), QPointF(spot.x(), self._plot().bottom()))
        self._paint_dot(painter, spot, QColor(0, 0, 0, 0), colours.target, theme.px(7))
