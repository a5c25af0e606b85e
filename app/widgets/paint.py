"""Small painting helps shared by everything that draws itself."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter

from app.widgets.face import Face

LEFT = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
CENTRE = int(Qt.AlignmentFlag.AlignCenter)


def text(painter: QPainter, place: QRectF, words: str, face: Face, colour: QColor, align: int = LEFT) -> None:
    """Paint one line of text, shortened at its end where the place is too small."""
    width = place.width()
    if words and width > 0:
        painter.setFont(face)
        painter.setPen(colour)
        painter.drawText(place, align, face.fitted(words, int(width)))


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
