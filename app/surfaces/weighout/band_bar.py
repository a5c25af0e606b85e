"""One nutrient of a batch as a bar: the wanted range, the band 19 batches of 20 lie in, and the feed within it."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from app.widgets import paint, theme
from core.logbook.reckoning import BandRow

UNASKED = (0.9, 1.1)
"""Where the bar of a nutrient nobody asked for begins and ends, as shares of the feed."""

ROOM = 0.12
"""Share of the bar left free beyond whatever reaches furthest."""


class BandBar(QWidget):
    """Every bar has its own scale: from a little below the lowest of range and band to a little above the highest."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._band: BandRow | None = None

    def set_band(self, band: BandRow) -> None:
        """Show this nutrient."""
        if band != self._band:
            self._band = band
            self.update()

    def span(self) -> tuple[float, float]:
        """Return the concentrations at both ends of the bar [mg/L]."""
        band = self._band
        if band is None:
            return 0.0, 1.0
        known = [band.low_mg_per_l, band.high_mg_per_l, band.row.feed_mg_per_l]
        known += [end for end in (band.row.low_mg_per_l, band.row.high_mg_per_l) if end is not None]
        if len(known) == 3:  # nothing is wanted of it: a tenth to either side, so that bands can be compared
            known += [share * band.row.feed_mg_per_l for share in UNASKED]
        low, high = min(known), max(known)
        room = ROOM * (high - low) or 1.0
        return low - room, high + room

    def _x(self, mg_per_l: float) -> float:
        low, high = self.span()
        return (mg_per_l - low) / (high - low) * self.width()

    def paintEvent(self, _event: QPaintEvent) -> None:
        band = self._band
        if band is None:
            return
        colours, painter, middle = theme.colours(), QPainter(self), self.height() / 2
        thick = theme.px(14)
        paint.panel(painter, QRectF(0, middle - 3, self.width(), 6), colours.track, None, 3)
        left = 0.0 if band.row.low_mg_per_l is None else self._x(band.row.low_mg_per_l)
        right = float(self.width()) if band.row.high_mg_per_l is None else self._x(band.row.high_mg_per_l)
        if band.row.low_mg_per_l is not None or band.row.high_mg_per_l is not None:
            wanted = QRectF(left, middle - thick / 2, right - left, thick)
            paint.panel(painter, wanted, colours.wanted, None, theme.px(3))
        ends = self._x(band.low_mg_per_l), self._x(band.high_mg_per_l)
        bar = QRectF(ends[0], middle - theme.px(2.5), max(ends[1] - ends[0], 2.0), theme.px(5))
        paint.panel(painter, bar, theme.faded(colours.muted, colours.text, 0.5), None, 2)
        off = band.row.verdict in ("short", "over")
        painter.setPen(QPen(colours.card, 1.5))
        painter.setBrush(colours.check if off else colours.accent)
        painter.drawEllipse(QPointF(self._x(band.row.feed_mg_per_l), middle), theme.px(5), theme.px(5))
