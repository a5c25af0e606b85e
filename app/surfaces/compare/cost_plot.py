"""Cost against fit: the cheapest there is for every worst miss, as a line, and each variant as a point."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.widgets import paint, theme
from app.widgets.axis import Axis, axis_around
from app.wording import comparing_cards as cards
from app.wording import format_short

if TYPE_CHECKING:
    from core.blend.frontier import Frontier

TALL, LEFT, RIGHT, TOP, BOTTOM = 230, 46, 14, 34, 38
TICKS = 6
NEAR = 0.02
"""Share of an axis under which two marks are as good as in one place."""


class Stop(NamedTuple):
    """A place the cursor stops at: a corner of the line, or a variant by its name."""

    deviation_percent: float
    per_1000_l: float
    name: str = ""
    chosen: bool = False


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

    def _axes(self) -> tuple[Axis, Axis]:
        stops = self.stops()
        costs = [stop.per_1000_l for stop in stops] or [0.0, 1.0]
        widest = max([stop.deviation_percent for stop in stops] or [1.0])
        return axis_around(0.0, max(widest, 1.0), TICKS), axis_around(min(costs), max(costs), TICKS - 1)

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
        head = QRectF(theme.px(2), plot.top() - 1.5 * line - theme.px(4), self.width(), line)  # over the top tick
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
        """Paint the variants, each name where it touches no other name and no other variant's mark."""
        colours, face, reach = theme.colours(), theme.font(11.5), theme.px(5)
        spots = {point: self._spot(point, across, up) for point in self._points}
        marks = {point: QRectF(s.x() - reach, s.y() - reach, 2.0 * reach, 2.0 * reach) for point, s in spots.items()}
        taken = self._along_line(across, up)
        for point, spot in sorted(spots.items(), key=lambda one: one[1].y()):
            fill = colours.places[1] if point.chosen else colours.card
            self._paint_dot(painter, spot, fill, colours.places[1], reach)
            others = taken + [mark for other, mark in marks.items() if other is not point]
            words = self._free_place(spot, face.width(point.name) + 2.0, face.height(), others)
            taken.append(words)
            paint.text(painter, words, point.name, face, colours.text)

    def _along_line(self, across: Axis, up: Axis) -> list[QRectF]:
        """Return small squares along the line, which no name may lie over."""
        spots, reach = [self._spot(corner, across, up) for corner in self._corners], theme.px(2)
        found = []
        for start, end in pairwise(spots):
            steps = max(1, round((end - start).manhattanLength() / (2 * reach)))
            for step in range(steps + 1):
                at = start + (end - start) * (step / steps)
                found.append(QRectF(at.x() - reach, at.y() - reach, 2 * reach, 2 * reach))
        return found

    def _free_place(self, spot: QPointF, wide: float, tall: float, others: list[QRectF]) -> QRectF:
        """Return where a name of this size may stand: beside its mark, else below on either side, else further down."""
        plot, gap = self._plot(), theme.px(9)
        right, left = spot.x() + gap, spot.x() - gap - wide
        tops = spot.y() - tall - theme.px(1), spot.y() - tall / 2, spot.y() + theme.px(1)
        beside = [QRectF(x, top, wide, tall) for top in tops for x in (right, left)]
        within = [p for p in beside if p.left() >= plot.left() and p.right() <= plot.right() and p.top() >= plot.top()]
        free = (place for place in within if not any(place.intersects(other) for other in others))
        found = next(free, None)
        if found is None:
            found = QRectF(min(right, plot.right() - wide), max(tops[0], plot.top()), wide, tall)
            while any(found.intersects(other) for other in others):
                found.translate(0, tall)
        return found

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
