"""What is drawn on a page: texts that know their size, rules, frames and curves, in tenths of a point.

Everything is laid out before anything is drawn, so that a test can look at where each text lies.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Literal

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontDatabase, QPainter, QPen, QPolygonF, QTextLayout, QTextOption

from app.paper.text import isolated

UNIT_PER_POINT = 10.0
"""Lengths are tenths of a point, so that a typeface may have half-point sizes though Qt wants whole pixels."""

FONT_FILES = ("Inter-Regular.otf", "Inter-SemiBold.otf")
FAMILY = "Inter"
FIRST_STRONG_ISOLATE, POP_ISOLATE = "\N{FIRST STRONG ISOLATE}", "\N{POP DIRECTIONAL ISOLATE}"

Align = Literal["left", "right", "center"]
_ALIGN = {
    "left": Qt.AlignmentFlag.AlignLeft,
    "right": Qt.AlignmentFlag.AlignRight,
    "center": Qt.AlignmentFlag.AlignHCenter,
}
BLACK, GREY = QColor(0, 0, 0), QColor(150, 150, 150)


def pt(points: float) -> float:
    """Return a length given in points in the units of the page."""
    return points * UNIT_PER_POINT


@cache
def _load_fonts() -> None:
    for name in FONT_FILES:
        QFontDatabase.addApplicationFontFromData(files("resources.fonts").joinpath(name).read_bytes())


@cache
def font(points: float, *, strong: bool = False) -> QFont:
    """Return the paper's typeface at a size."""
    _load_fonts()
    made = QFont(FAMILY)
    made.setPixelSize(round(pt(points)))
    made.setWeight(QFont.Weight.DemiBold if strong else QFont.Weight.Normal)
    made.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    made.setFeature(QFont.Tag("calt"), 0)  # a glyph put in for another is lost to whoever searches or copies the PDF
    return made


class Text:
    """A text broken into lines within a width, placed by its upper left corner."""

    def __init__(self, text: str, width: float, points: float, *, strong: bool = False, align: Align = "left") -> None:
        self.x = self.y = 0.0
        self.turned = False
        self.points = points
        self._layout = _broken(text, width, font(points, strong=strong), align)
        last = self._layout.lineAt(self._layout.lineCount() - 1)
        self.height = last.y() + last.height()
        self.text = text

    def at(self, x: float, y: float) -> Text:
        """Put the text in its place and return it."""
        self.x, self.y = x, y
        return self

    def box(self) -> QRectF:
        """Return where the letters lie."""
        lines = [self._layout.lineAt(number) for number in range(self._layout.lineCount())]
        united = QRectF()
        for line in lines:
            united = united.united(line.naturalTextRect())
        if self.turned:
            return QRectF(self.x + united.top(), self.y - united.right(), united.height(), united.width())
        return united.translated(self.x, self.y)

    def draw(self, painter: QPainter) -> None:
        """Draw it."""
        painter.setPen(BLACK)
        if not self.turned:
            self._layout.draw(painter, QPointF(self.x, self.y))
            return
        painter.save()
        painter.translate(self.x, self.y)
        painter.rotate(-90)
        self._layout.draw(painter, QPointF(0, 0))
        painter.restore()


@dataclass
class Rule:
    """A straight line."""

    x1: float
    y1: float
    x2: float
    y2: float
    points: float = 0.75
    grey: bool = False
    dashed: bool = False

    def box(self) -> QRectF:
        """Return what it covers."""
        return QRectF(QPointF(self.x1, self.y1), QPointF(self.x2, self.y2)).normalized()

    def draw(self, painter: QPainter) -> None:
        """Draw it."""
        pen = QPen(GREY if self.grey else BLACK, pt(self.points))
        pen.setStyle(Qt.PenStyle.DashLine if self.dashed else Qt.PenStyle.SolidLine)
        pen.setCapStyle(Qt.PenCapStyle.SquareCap if not self.dashed else Qt.PenCapStyle.FlatCap)
        painter.setPen(pen)
        painter.drawLine(QLineF(self.x1, self.y1, self.x2, self.y2))


@dataclass
class Frame:
    """An empty rectangle."""

    rect: QRectF
    points: float = 1.0
    dashed: bool = False

    def box(self) -> QRectF:
        """Return what it covers."""
        return self.rect

    def draw(self, painter: QPainter) -> None:
        """Draw it."""
        pen = QPen(BLACK, pt(self.points), Qt.PenStyle.DashLine if self.dashed else Qt.PenStyle.SolidLine)
        pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(self.rect)


@dataclass
class Way:
    """A line through points, with a dot at one of them."""

    points: tuple[tuple[float, float], ...]
    dot: tuple[float, float]

    def box(self) -> QRectF:
        """Return what it covers."""
        return self._polygon().boundingRect()

    def draw(self, painter: QPainter) -> None:
        """Draw it."""
        painter.setPen(QPen(BLACK, pt(1.5)))
        painter.drawPolyline(self._polygon())
        painter.setBrush(QColor(255, 255, 255))
        painter.drawEllipse(QPointF(*self.dot), pt(3.5), pt(3.5))
        painter.setBrush(Qt.BrushStyle.NoBrush)

    def _polygon(self) -> QPolygonF:
        return QPolygonF([QPointF(x, y) for x, y in self.points])


Mark = Text | Rule | Frame | Way


def width_of(text: str, points: float, *, strong: bool = False) -> float:
    """Return how wide a text is on one line."""
    return Text(text, 1e9, points, strong=strong).box().width()


def _broken(text: str, width: float, used: QFont, align: Align) -> QTextLayout:
    option = QTextOption(_ALIGN[align])
    option.setWrapMode(QTextOption.WrapMode.WrapAtWordBoundaryOrAnywhere)
    option.setTextDirection(Qt.LayoutDirection.LeftToRight)
    layout = QTextLayout(isolated(text, FIRST_STRONG_ISOLATE, POP_ISOLATE), used)
    layout.setTextOption(option)
    layout.beginLayout()
    top = 0.0
    while (line := layout.createLine()).isValid():
        line.setLineWidth(width)
        line.setPosition(QPointF(0.0, top))
        top += line.height()
    layout.endLayout()
    return layout
