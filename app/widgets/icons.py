"""The program's own drawings, tinted for the place they stand in and kept as pixmaps."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

from PySide6.QtCore import QByteArray, QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer


@cache
def _drawing(name: str) -> bytes:
    return files("resources.icons").joinpath(f"{name}.svg").read_bytes()


@cache
def _pixmap(name: str, rgb: int, side: float, ratio: float) -> QPixmap:
    pixmap = QPixmap(round(side * ratio), round(side * ratio))
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    tint = QColor.fromRgb(rgb).name().encode()
    renderer = QSvgRenderer(QByteArray(_drawing(name).replace(b"currentColor", tint)))
    painter = QPainter(pixmap)
    renderer.render(painter, QRectF(0, 0, side, side))
    painter.end()
    return pixmap


def draw(painter: QPainter, name: str, place: QRectF, colour: QColor) -> None:
    """Paint a drawing into a square place in one colour."""
    ratio = painter.device().devicePixelRatio()
    painter.drawPixmap(place.topLeft(), _pixmap(name, colour.rgb(), place.width(), ratio))


def app_icon() -> QIcon:
    """Return the program's icon in the sizes desktops ask for."""
    icon = QIcon()
    for side in (16, 24, 32, 48, 64, 128, 256):
        icon.addPixmap(_pixmap("saltwright", 0, float(side), 1.0))
    return icon
