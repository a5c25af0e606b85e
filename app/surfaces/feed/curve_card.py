"""EC against what is poured: as foretold, as read, the band it may be off by, and where it should end."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from app.widgets import paint, theme
from app.widgets.axis import axis_up_to
from app.widgets.card import PAD, Card
from app.wording import feed as words
from app.wording import feed_cards as say
from app.wording import format_short

if TYPE_CHECKING:
    from app.surfaces.feed.dosing import Dosing
    from core.plan.feeding_records import Curve

LEFT, RIGHT, BOTTOM, LEAST = 44, 18, 44, 210
TICKS_AT_MOST = 7
UNITS = {
    "metric": (("mL", 0.001), ("L", 1.0)),
    "us": (("US fl oz", 0.03), ("US gal", 3.79)),
    "imperial": (("imp fl oz", 0.028), ("imp gal", 4.55)),
}
"""Units of the axis of doses, each with about its litres: the larger one from twice itself on."""


class CurveCard(Card):
    """Draws the curve of the dosing on the scale of her meter and in the units she pours in."""

    def __init__(self, parent: QWidget, dosing: Dosing) -> None:
        super().__init__(parent, say.curve_title())
        self._dosing = dosing
        self._curve: Curve | None = None
        self._crop = ""

    def show_told(self, crop: str) -> None:
        """Show the dosing's curve; the band wanted is the crop's where its profile has one."""
        told, dosing = self._dosing.told, self._dosing
        self._curve = None if told is None else told.curve
        self._crop = crop
        self.set_aside(words.scale(dosing.meter.unit))
        if told is not None and self._curve is not None:
            self.setAccessibleDescription(say.curve_text(self._curve, told, dosing.system, dosing.meter))
        self.update()

    def least_height(self, width: int) -> int:
        del width
        return self.body_top + theme.px(LEAST)

    def paint_body(self, painter: QPainter) -> None:
        plot = QRectF(
            theme.px(LEFT), self.body_top + theme.px(4), self.width() - theme.px(LEFT + RIGHT),
            self.height() - self.body_top - theme.px(BOTTOM + 4),
        )  # fmt: skip
        if self._curve is None or plot.height() < theme.px(60):
            place = QRectF(theme.px(PAD), self.body_top, self.width() - 2 * theme.px(PAD), theme.px(60))
            paint.paragraph(painter, place, say.no_curve(), theme.font(), theme.colours().muted)
            return
        _Drawing(painter, plot, self._curve, self._dosing, self._crop).paint()


class _Drawing:
    """One painting of one curve; doses in the units poured in, EC as the meter shows it."""

    def __init__(self, painter: QPainter, plot: QRectF, curve: Curve, dosing: Dosing, crop: str) -> None:
        from core.units import value_in

        self._painter, self._plot, self._curve, self._dosing, self._crop = painter, plot, curve, dosing, crop
        small, large = UNITS[dosing.system]
        self._unit = large[0] if curve.dose_ml[-1] >= 2000.0 * large[1] else small[0]
        self._per_ml = value_in(0.001, "volume", self._unit)
        last = curve.dose_ml[-1] * self._per_ml
        self._doses = axis_up_to(last, TICKS_AT_MOST)
        shows = dosing.meter.shows
        top = max(shows(max(curve.high)), shows(curve.range_ms_per_cm[1]) * 1.04)
        self._ec = axis_up_to(top, TICKS_AT_MOST)

    def paint(self) -> None:
        """Paint ground, band, lines and marks."""
        self._painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._wanted_band()
        self._grid()
        self._band()
        colours = theme.colours()
        self._line(self._curve.forecast, colours.muted, dashed=True)
        if self._curve.line is not None:
            self._line(self._curve.line, colours.accent, dashed=False)
        self._marks()

    def _x(self, ml: float) -> float:
        return self._plot.left() + self._plot.width() * ml * self._per_ml / self._doses.high

    def _y(self, ms_per_cm: float) -> float:
        return self._height_of(self._dosing.meter.shows(ms_per_cm))

    def _height_of(self, shown: float) -> float:
        return self._plot.bottom() - self._plot.height() * shown / self._ec.high

    def _grid(self) -> None:
        colours, painter, plot, small = theme.colours(), self._painter, self._plot, theme.small()
        line = theme.small().height()
        for tick in self._ec.ticks:
            y = self._height_of(tick)
            painter.fillRect(QRectF(plot.left(), y - 0.5, plot.width(), 1), colours.line)
            place = QRectF(0, y - line / 2, plot.left() - theme.px(7), line)
            paint.text(painter, place, format_short(tick, 4), small, colours.muted, paint.RIGHT)
        for tick in self._doses.ticks:
            place = QRectF(self._x(tick / self._per_ml) - theme.px(30), plot.bottom() + theme.px(3), theme.px(60), line)
            paint.text(painter, place, format_short(tick, 4), small, colours.muted, paint.CENTRE)
        below = QRectF(plot.left(), plot.bottom() + theme.px(20), plot.width(), line)
        paint.text(painter, below, say.curve_axis(self._curve, self._unit), small, colours.muted, paint.RIGHT)

    def _wanted_band(self) -> None:
        low, high = self._curve.range_ms_per_cm
        colours, top, bottom = theme.colours(), self._y(high), self._y(low)
        place = QRectF(self._plot.left(), top, self._plot.width(), max(bottom - top, 2.0))
        fill = QColor(colours.wanted)
        fill.setAlphaF(0.55)
        self._painter.fillRect(place, fill)
        meter = self._dosing.meter
        mark = say.band_mark(self._crop, words.number_on(low, meter), words.number_on(high, meter))
        tall = theme.small().height()
        inside = place.height() >= tall
        top = place.top() + (theme.px(2) if inside else -tall)
        words_at = QRectF(place.left() + theme.px(8), top, place.width() - theme.px(8), tall)
        paint.text(self._painter, words_at, mark, theme.small(), colours.text if inside else colours.muted)

    def _band(self) -> None:
        curve, colours = self._curve, theme.colours()
        up = [QPointF(self._x(ml), self._y(ec)) for ml, ec in zip(curve.dose_ml, curve.high, strict=True)]
        down = [QPointF(self._x(ml), self._y(ec)) for ml, ec in zip(curve.dose_ml, curve.low, strict=True)]
        fill = QColor(colours.accent)
        fill.setAlphaF(0.14)
        self._painter.setPen(Qt.PenStyle.NoPen)
        self._painter.setBrush(fill)
        self._painter.drawPolygon(QPolygonF([*up, *reversed(down)]))

    def _line(self, values: tuple[float, ...], colour: QColor, *, dashed: bool) -> None:
        points = [QPointF(self._x(ml), self._y(ec)) for ml, ec in zip(self._curve.dose_ml, values, strict=True)]
        pen = QPen(colour, 1.5 if dashed else 2.4, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap)
        if dashed:
            pen.setDashPattern([5.0, 3.0])
        self._painter.setPen(pen)
        self._painter.setBrush(Qt.BrushStyle.NoBrush)
        self._painter.drawPolyline(QPolygonF(points))

    def _marks(self) -> None:
        """The readings as filled points, the end wanted as an open one, each with its words."""
        curve, colours, dosing = self._curve, theme.colours(), self._dosing
        if curve.line is not None:
            self._name_forecast()
        wanted = curve.wanted
        for place, (ml, ec) in enumerate(curve.points):
            self._dot(ml, ec, colours.text, filled=True)
            there = wanted is not None and wanted[0] == ml
            if place:
                text = say.point_mark(words.number_on(ec, dosing.meter))
                self._words(ml, ec, text, colours.accent if there else colours.text, strong=there)
        if wanted is not None and wanted[0] not in [ml for ml, _ec in curve.points]:
            self._dot(*wanted, colours.accent, filled=False)
            mark = say.wanted_point(words.millilitres(wanted[0], dosing.system))
            self._words(*wanted, mark, colours.accent, strong=True)

    def _name_forecast(self) -> None:
        end = len(self._curve.dose_ml) - 2
        font, text = theme.small(), say.as_forecast()
        at = QPointF(self._x(self._curve.dose_ml[end]), self._y(self._curve.forecast[end]))
        wide = font.width(text)
        place = QRectF(at.x() - wide - theme.px(14), at.y() - theme.px(22), wide + 2, theme.px(18))
        paint.text(self._painter, place, text, font, theme.colours().muted)

    def _dot(self, ml: float, ec: float, colour: QColor, *, filled: bool) -> None:
        colours, reach = theme.colours(), theme.px(5.5 if filled else 6.5)
        self._painter.setPen(QPen(colours.card if filled else colour, 1.6))
        self._painter.setBrush(colour if filled else colours.card)
        self._painter.drawEllipse(QPointF(self._x(ml), self._y(ec)), reach, reach)

    def _words(self, ml: float, ec: float, text: str, colour: QColor, *, strong: bool) -> None:
        """Words below and right of a point, moved left where they would leave the plot."""
        font = theme.font(12.5, strong=strong)
        wide, tall = font.width(text) + 3, theme.px(18)
        left = min(self._x(ml) + theme.px(9), self._plot.right() - wide)
        top = self._y(ec) + theme.px(6)
        if top + tall > self._plot.bottom():
            top = self._y(ec) - tall - theme.px(6)
        ground = QColor(theme.colours().card)
        ground.setAlphaF(0.75)
        self._painter.fillRect(QRectF(left - 2, top + 1, wide + 2, tall - 2), ground)
        paint.text(self._painter, QRectF(left, top, wide, tall), text, font, colour)
