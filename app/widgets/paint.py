"""Small painting helps shared by everything that draws itself."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter

from app.widgets.face import Face

LEFT = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
CENTRE = int(Qt.AlignmentFlag.AlignCenter)
TOP = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
TOP_CENTRE = int(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)


def text(painter: QPainter, place: QRectF, words: str, face: Face, colour: QColor, align: int = LEFT) -> None:
    """Paint one line of text, a little smaller where the place is too small, and then shortened at its end."""
    width = int(place.width())
    if words and width > 0:
        used = face.for_room(words, width)
        painter.setFont(used)
        painter.setPen(colour)
        fitted = used.fitted(words, width)
        left = place.left()
        if align != LEFT:
            spare = place.width() - used.width(fitted)
            left += spare if align == RIGHT else spare / 2
        painter.drawStaticText(QPointF(left, place.center().y() - used.height() / 2), used.set_text(fitted))


def paragraph(painter: QPainter, place: QRectF, words: str, face: Face, colour: QColor, align: int = TOP) -> None:
    """Paint text on as many lines as it needs; whoever paints it gives it the height for them."""
    painter.setFont(face)
    painter.setPen(colour)
    painter.drawText(place, align | int(Qt.TextFlag.TextWordWrap), words)


def panel(painter: QPainter, place: QRectF, fill: QColor, line: QColor | None, radius: float) -> None:
    """Paint a rounded area, with a hairline around it where one is given; the pen stays off afterwards."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrush(fill)
    if line is None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.drawRoundedRect(place, radius, radius)
    else:
        painter.setPen(line)
        painter.drawRoundedRect(place.adjusted(0.5, 0.5, -0.5, -0.5), radius, radius)
        painter.setPen(Qt.PenStyle.NoPen)


def focus_ring(painter: QPainter, place: QRectF, colour: QColor, radius: float) -> None:
    """Paint the ring around whatever the keyboard is on."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    pen = painter.pen()
    pen.setStyle(Qt.PenStyle.SolidLine)
    pen.setColor(colour)
    pen.setWidthF(2.0)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(place.adjusted(1, 1, -1, -1), radius, radius)
