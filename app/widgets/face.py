"""The window's typeface at one size and weight, with the widths of what was set in it."""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QFont, QFontMetrics, QFontMetricsF, QPainter, QStaticText

FAMILY = "Inter"
SMALLER = 0.86
"""How much a line is set smaller before it is shortened: 13 px become 11; in English none needs it."""

REMEMBERED = 2048
"""Widths kept per face: more than a window ever shows at once."""


class Face(QFont):
    """A font whose figures are all of one width; measuring the same words again costs a look-up."""

    def __init__(self, pixels: int, strong: bool) -> None:
        super().__init__(FAMILY)
        self.setPixelSize(pixels)
        self.setWeight(QFont.Weight.DemiBold if strong else QFont.Weight.Normal)
        self.setFeature(QFont.Tag("tnum"), 1)
        self._metrics = QFontMetrics(self)
        self._height, self._ascent = self._metrics.height(), QFontMetricsF(self).ascent()
        self._pixels, self._strong = pixels, strong
        self._smaller: Face | None = None
        self._widths: dict[str, int] = {}
        self._fitted: dict[tuple[str, int], str] = {}
        self._set: dict[str, QStaticText | None] = {}

    def height(self) -> int:
        """Return the height of a line [px]."""
        return self._height

    def width(self, words: str) -> int:
        """Return how wide a line of text is [px]."""
        width = self._widths.get(words)
        if width is None:
            if len(self._widths) >= REMEMBERED:
                self._widths.clear()
            width = self._widths[words] = self._metrics.horizontalAdvance(words)
        return width

    def draw(self, painter: QPainter, left: float, top: float, words: str) -> None:
        """Paint a line of text in the painter's pen.

        Letters are placed for good when the same words are painted a second time: to paint them again then costs half,
        but to place them costs thrice as much as to paint figures that will never be seen again.
        """
        placed = self._set.get(words)
        if placed is None:
            painter.setFont(self)
            painter.drawText(QPointF(left, top + self._ascent), words)
            self._remember(words)
        else:
            painter.setFont(self)
            painter.drawStaticText(QPointF(left, top), placed)

    def _remember(self, words: str) -> None:
        if words in self._set:
            placed = QStaticText(words)
            placed.setTextFormat(Qt.TextFormat.PlainText)
            placed.setPerformanceHint(QStaticText.PerformanceHint.AggressiveCaching)
            self._set[words] = placed
        else:
            if len(self._set) >= REMEMBERED:
                self._set.clear()
            self._set[words] = None

    def smaller(self) -> Face:
        """Return the face that text is set in where it is a little too wide."""
        if self._smaller is None:
            self._smaller = Face(round(SMALLER * self._pixels), self._strong)
        return self._smaller

    def for_room(self, words: str, width: int) -> Face:
        """Return this face, or the smaller one for words that are wider than this [px] in it."""
        return self if self.width(words) <= width + 1 else self.smaller()

    def fitted(self, words: str, width: int) -> str:
        """Return the words, shortened at their end where they are wider than this [px]."""
        if self.width(words) <= width + 1:
            return words
        key = (words, width)
        if key not in self._fitted:
            if len(self._fitted) >= REMEMBERED:
                self._fitted.clear()
            self._fitted[key] = self._metrics.elidedText(words, Qt.TextElideMode.ElideRight, width)
        return self._fitted[key]
