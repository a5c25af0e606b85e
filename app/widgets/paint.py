"""Small painting helps shared by everything that draws itself."""

from __future__ import annotations

import math
from functools import lru_cache

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPixmap

from app.widgets.face import Face

LEFT = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
CENTRE = int(Qt.AlignmentFlag.AlignCenter)
TOP = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
TOP_CENTRE = int(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)

SMOOTH = QPainter.RenderHint.Antialiasing
NO_PEN, NO_BRUSH, SOLID_LINE = Qt.PenStyle.NoPen, Qt.BrushStyle.NoBrush, Qt.PenStyle.SolidLine
WRAPPED = int(Qt.TextFlag.TextWordWrap)

KEPT_UP_TO, KEPT = 12_000, 256
"""The area [px²] up to which a rounded area is kept as drawn, and how many are; larger ones are put together."""


def text(painter: QPainter, place: QRectF, words: str, face: Face, colour: QColor, align: int = LEFT) -> None:
    """Paint one line of text, a little smaller where the place is too small, and then shortened at its end."""
    room = place.width()
    width = int(room)
    if not words or width <= 0:
        return
    if face.width(words) > width + 1:
        face = face.smaller()
        words = face.fitted(words, width)
    left = place.left()
    if align != LEFT:
        spare = room - face.width(words)
        left += spare if align == RIGHT else spare / 2
    painter.setPen(colour)
    face.draw(painter, left, place.top() + place.height() / 2 - face.height() / 2, words)


def paragraph(painter: QPainter, place: QRectF, words: str, face: Face, colour: QColor, align: int = TOP) -> None:
    """Paint text on as many lines as it needs; whoever paints it gives it the height for them."""
    painter.setFont(face)
    painter.setPen(colour)
    painter.drawText(place, align | WRAPPED, words)


def panel(
    painter: QPainter, place: QRectF, fill: QColor, line: QColor | None, radius: float, ground: QColor | None = None
) -> None:
    """Paint a rounded area, with a hairline around it where one is given; the pen stays off afterwards.

    One that covers whole pixels is drawn once and kept, or put together from corners that are: round corners are most
    of the work.

    Parameters
    ----------
    ground : painted in the corners too, so that nothing of what is below is left.
    """
    painter.setRenderHint(SMOOTH)
    left, top, width, height = place.x(), place.y(), place.width(), place.height()
    ratio = painter.device().devicePixelRatio()
    whole = left.is_integer() and top.is_integer() and width.is_integer() and height.is_integer()
    if whole and ratio.is_integer() and width > 0 and height > 0:
        edge = None if line is None else line.rgba()
        under = None if ground is None else ground.rgba()
        if width * height <= KEPT_UP_TO:
            kept = _kept(int(width), int(height), fill.rgba(), edge, radius, int(ratio), under)
            painter.drawPixmap(QPointF(left, top), kept)
            painter.setPen(NO_PEN)
            return
        if ground is None and min(width, height) > 2 * radius + 2:
            _put_together(painter, place.toRect(), fill, line, radius, int(ratio))
            painter.setPen(NO_PEN)
            return
    if ground is not None:
        painter.fillRect(place.adjusted(-1, -1, 1, 1), ground)  # also the rest of a pixel at the edge
    _round(painter, place, fill, line, radius)


def _put_together(
    painter: QPainter, place: QRect, fill: QColor, line: QColor | None, radius: float, ratio: int
) -> None:
    """Paint a large rounded area from its corners and what is between them."""
    side = math.ceil(radius) + 1
    edge = fill if line is None else line
    left, top, width, height = place.x(), place.y(), place.width(), place.height()
    right, bottom = left + width, top + height
    painter.fillRect(left + 1, top + side, width - 2, height - 2 * side, fill)
    for y, inner in ((top, top + 1), (bottom - 1, bottom - side)):
        painter.fillRect(left + side, y, width - 2 * side, 1, edge)
        painter.fillRect(left + side, inner, width - 2 * side, side - 1, fill)
    for x in (left, right - 1):
        painter.fillRect(x, top + side, 1, height - 2 * side, edge)
    kept = _kept(2 * side, 2 * side, fill.rgba(), None if line is None else line.rgba(), radius, ratio, None)
    for x, from_x in ((left, 0), (right - side, side)):
        for y, from_y in ((top, 0), (bottom - side, side)):
            source = QRect(from_x * ratio, from_y * ratio, side * ratio, side * ratio)
            painter.drawPixmap(QRect(x, y, side, side), kept, source)


def _round(painter: QPainter, place: QRectF, fill: QColor, line: QColor | None, radius: float) -> None:
    painter.setBrush(fill)
    if line is None:
        painter.setPen(NO_PEN)
        painter.drawRoundedRect(place, radius, radius)
    else:
        painter.setPen(line)
        painter.drawRoundedRect(place.adjusted(0.5, 0.5, -0.5, -0.5), radius, radius)
        painter.setPen(NO_PEN)


@lru_cache(maxsize=KEPT)
def _kept(
    width: int, height: int, fill: int, line: int | None, radius: float, ratio: int, ground: int | None
) -> QPixmap:
    pixmap = QPixmap(width * ratio, height * ratio)
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent if ground is None else QColor.fromRgba(ground))
    painter = QPainter(pixmap)
    painter.setRenderHint(SMOOTH)
    edge = None if line is None else QColor.fromRgba(line)
    _round(painter, QRectF(0, 0, width, height), QColor.fromRgba(fill), edge, radius)
    painter.end()
    return pixmap


def focus_ring(painter: QPainter, place: QRectF, colour: QColor, radius: float) -> None:
    """Paint the ring around whatever the keyboard is on."""
    painter.setRenderHint(SMOOTH)
    pen = painter.pen()
    pen.setStyle(SOLID_LINE)
    pen.setColor(colour)
    pen.setWidthF(2.0)
    painter.setPen(pen)
    painter.setBrush(NO_BRUSH)
    painter.drawRoundedRect(place.adjusted(1, 1, -1, -1), radius, radius)
