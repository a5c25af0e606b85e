"""How the plots of a diary are drawn: one strip of values over time, its band, its line and its dots."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from app.widgets import paint, theme
from app.widgets.axis import ticks_within
from app.wording import format_short
from app.wording import logbook_told as say

LEFT, RIGHT, TOP, BOTTOM = 46, 14, 26, 22
TICKS = 3
DAY_S = 86400.0
Values = Sequence[float | None]


class TimeAxis(NamedTuple):
    """Times [s] over a width [px]; one alone stands in the middle."""

    first_s: float
    last_s: float
    left: float
    width: float

    def x(self, moment_s: float) -> float:
        """Return where a time stands [px]."""
        span = self.last_s - self.first_s
        inset = theme.px(8)
        share = (moment_s - self.first_s) / span if span > 0 else 0.5
        return self.left + inset + share * (self.width - 2 * inset)


class Strip(NamedTuple):
    """One quantity over time: readings, the balance since the filling, and the wanted band."""

    title: str
    place: QRectF
    readings: Values
    balance: Values
    wanted: tuple[float, float] | None

    def span(self) -> tuple[float, float]:
        """Return the lowest and the highest value shown."""
        values = [value for group in (self.readings, self.balance, self.wanted or ()) for value in group if value]
        if not values:
            return 0.0, 1.0
        low, high = min(values), max(values)
        room = 0.08 * (high - low) or 0.05 * max(abs(high), 1.0)
        return low - room, high + room

    def paint(
        self, painter: QPainter, axis: TimeAxis, moments: Sequence[float], colour: QColor, cursor_x: float | None
    ) -> None:
        """Paint it; the cursor stands at the entry pointed at."""
        colours, place = theme.colours(), self.place
        self._paint_ground(painter)
        if cursor_x is not None:
            painter.fillRect(QRectF(cursor_x - 0.5, place.top(), 1, place.height()), colours.muted)
        for run in self._runs(self.balance, axis, moments):
            self._paint_run(painter, run, theme.faded(colours.text, colours.card, 0.45), dashed=True)
        for run in self._runs(self.readings, axis, moments, bridge=True):
            self._paint_run(painter, run, theme.faded(colour, colours.card, 0.55), dashed=False)
        painter.setPen(QPen(colours.card, 1.2))
        painter.setBrush(colour)
        reach = theme.px(3.5) if len(moments) < 60 else theme.px(2.2)
        for moment, value in zip(moments, self.readings, strict=False):
            if value is not None:
                painter.drawEllipse(QPointF(axis.x(moment), self._y(value)), reach, reach)

    def _y(self, value: float) -> float:
        low, high = self.span()
        return self.place.bottom() - self.place.height() * (value - low) / (high - low)

    def _paint_ground(self, painter: QPainter) -> None:
        colours, place, small = theme.colours(), self.place, theme.small()
        painter.fillRect(place, colours.zebra)
        if self.wanted is not None:
            top, bottom = self._y(self.wanted[1]), self._y(self.wanted[0])
            painter.fillRect(QRectF(place.left(), top, place.width(), bottom - top), colours.wanted)
        low, high = self.span()
        if not any(value is not None for value in (*self.readings, *self.balance)) and self.wanted is None:
            low, high = 1.0, 0.0
        for tick in ticks(low, high):
            y = self._y(tick)
            painter.fillRect(QRectF(place.left(), y - 0.5, place.width(), 1), colours.line)
            label = QRectF(0, y - small.height() / 2, place.left() - theme.px(6), small.height())
            paint.text(painter, label, format_short(tick, 4), small, colours.muted, paint.RIGHT)
        head = QRectF(place.left(), place.top() - theme.px(15), place.width(), theme.px(14))
        paint.text(painter, head, self.title, theme.font(11.5), colours.muted)

    def _runs(
        self, values: Values, axis: TimeAxis, moments: Sequence[float], *, bridge: bool = False
    ) -> list[list[QPointF]]:
        """Points that hang together; a line goes on over entries without a value where it may bridge them."""
        runs: list[list[QPointF]] = [[]]
        for moment, value in zip(moments, values, strict=False):
            if value is not None:
                runs[-1].append(QPointF(axis.x(moment), self._y(value)))
            elif not bridge:
                runs.append([])
        return [run for run in runs if len(run) > 1]

    def _paint_run(self, painter: QPainter, points: list[QPointF], colour: QColor, *, dashed: bool) -> None:
        pen = QPen(colour, 1.6, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap, Qt.PenJoinStyle.RoundJoin)
        if dashed:
            pen.setDashPattern([4.0, 2.5])
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolyline(QPolygonF(points))


def ticks(low: float, high: float) -> tuple[float, ...]:
    """Return a few round values between two, none where there is nothing between."""
    if high <= low:
        return ()
    return ticks_within(low, high, TICKS + 0.5)


def paint_times(painter: QPainter, axis: TimeAxis, top: float, width: int) -> None:
    """Paint dates below the strips: as many days as have room."""
    colours, small = theme.colours(), theme.small()
    whole, short = (small.width(digits) + theme.px(12) for digits in ("0000-00-00", "00-00"))
    days = max(1.0, (axis.last_s - axis.first_s) / DAY_S)
    every = max(1, math.ceil(days / max(1.0, axis.width / (1.3 * short))))
    day = datetime.fromtimestamp(axis.first_s).replace(hour=0, minute=0)
    right = -1.0
    while day.timestamp() <= axis.last_s:
        x, first = axis.x(max(day.timestamp(), axis.first_s)), right < 0
        room = whole if first else short
        left = min(max(x - room / 2, 0.0), width - room)
        if left > right:
            place = QRectF(left, top + theme.px(2), room, small.height() + 2)
            words = day.date().isoformat()
            paint.text(painter, place, words if first else words[5:], small, colours.muted, paint.CENTRE)
            right = left + room
        day += timedelta(days=every)


def legend_width() -> float:
    """Return the room the legend takes [px]."""
    return sum(theme.small().width(words) + theme.px(36) for words in say.legend())


def paint_legend(painter: QPainter, head: QRectF) -> None:
    """Name the marks at the upper right."""
    colours, font, right = theme.colours(), theme.small(), head.right()
    read, balance, wanted = say.legend()
    for words, kind in ((wanted, "band"), (balance, "line"), (read, "dot")):
        width = font.width(words)
        paint.text(painter, QRectF(right - width, head.top(), width + 1, head.height()), words, font, colours.muted)
        mark = QRectF(right - width - theme.px(24), head.center().y() - theme.px(4), theme.px(18), theme.px(8))
        if kind == "band":
            painter.fillRect(mark, colours.wanted)
        elif kind == "line":
            pen = QPen(theme.faded(colours.text, colours.card, 0.45), 1.6)
            pen.setDashPattern([4.0, 2.5])
            painter.setPen(pen)
            painter.drawLine(QPointF(mark.left(), mark.center().y()), QPointF(mark.right(), mark.center().y()))
        else:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(colours.places[0])
            painter.drawEllipse(mark.center(), theme.px(3.5), theme.px(3.5))
        right = mark.left() - theme.px(12)
