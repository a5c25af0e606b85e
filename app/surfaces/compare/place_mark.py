"""A nutrient's place in its wanted range, small enough for a cell of a table."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPolygonF

from app.widgets import paint, theme
from core.plan.records import NutrientRow

LOW, HIGH = 0.28, 0.72
"""Where along the bar the wanted range begins and ends, whatever it is: the place in it is what counts here."""


def position(row: NutrientRow, mg_per_l: float) -> float:
    """Return where along the bar a concentration stands, 0 to 1; what is off the scale stands at its end.

    A range with one end begins at nothing, or goes on to twice its end.
    """
    low, high = _range(row)
    if high <= low:
        return 0.5
    begin = 0.0 if low <= 0.0 else LOW
    return min(1.0, max(0.0, begin + (mg_per_l - low) / (high - low) * (HIGH - begin)))


def _range(row: NutrientRow) -> tuple[float, float]:
    low = row.low_mg_per_l or 0.0
    return low, 2.0 * low if row.high_mg_per_l is None else row.high_mg_per_l


def paint_place(painter: QPainter, place: QRectF, row: NutrientRow) -> None:
    """Paint range and feed: a disc within the range, a triangle that points back to it outside."""
    colours, thick, inset = theme.colours(), theme.px(4), theme.px(5)
    middle, width = place.center().y(), place.width() - 2 * inset
    track = QRectF(place.left(), middle - thick / 2, place.width(), thick)
    paint.panel(painter, track, colours.field_line, None, thick / 2)
    left = track.left() if _range(row)[0] <= 0.0 else place.left() + inset + LOW * width
    right = track.right() if row.high_mg_per_l is None else place.left() + inset + HIGH * width
    paint.panel(
        painter, QRectF(left, middle - theme.px(5), right - left, theme.px(10)), colours.wanted, colours.wanted_line,
        theme.px(2),
    )  # fmt: skip
    spot = QPointF(place.left() + inset + position(row, row.feed_mg_per_l) * width, middle)
    _paint_mark(painter, spot, row.verdict)


def _paint_mark(painter: QPainter, spot: QPointF, verdict: str) -> None:
    colours, reach = theme.colours(), theme.px(3.5)
    painter.setPen(Qt.PenStyle.NoPen)
    if verdict in ("met", "fine"):
        painter.setBrush(colours.accent)
        painter.drawEllipse(spot, reach, reach)
        return
    painter.setBrush(colours.check)
    ahead = reach + 1.5 if verdict == "short" else -reach - 1.5
    corners = [spot + QPointF(ahead, 0.0), spot + QPointF(-ahead, reach + 1.0), spot + QPointF(-ahead, -reach - 1.0)]
    painter.drawPolygon(QPolygonF(corners))
