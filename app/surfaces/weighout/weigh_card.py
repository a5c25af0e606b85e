"""The weights of one place: a tank, the water before it, the reservoir after it."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget

from app.surfaces.contents import ContentLine, paint_line
from app.widgets import paint, theme
from app.widgets.card import PAD, Card

ROW, FOOT = 46, 40


class WeighCard(Card):
    """Lines large enough to read at the bench, and below them how to pour."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, "")
        self._lines: tuple[ContentLine, ...] = ()
        self._foot = ""

    def show_lines(self, title: str, aside: str, lines: tuple[ContentLine, ...], foot: str) -> None:
        """Show what goes into this place."""
        self._lines, self._foot = lines, foot
        self.set_title(title)
        self.set_aside(aside)
        weights = ", ".join(f"{line.name} {line.grade} {line.weight}, {line.scale}" for line in lines)
        self.setAccessibleDescription(weights)
        self.update()

    def least_height(self, width: int) -> int:
        return self.body_top + theme.px(ROW) * len(self._lines) + theme.px(FOOT)

    def paint_body(self, painter: QPainter) -> None:
        colours, pad, row = theme.colours(), theme.px(PAD), theme.px(ROW)
        for number, content in enumerate(self._lines):
            place = QRectF(pad, self.body_top + number * row, self.width() - 2 * pad, row)
            painter.fillRect(QRectF(pad, place.top(), place.width(), 1), colours.line)
            name = place.adjusted(0, theme.px(4), 0, -theme.px(19))
            weight = QRectF(name.left(), place.top(), name.width(), row)
            paint_line(painter, name, weight, content, 19)
            below = place.adjusted(0, theme.px(24), 0, -theme.px(3))
            paint.text(painter, below, content.scale, theme.small(), colours.muted)
        foot = QRectF(pad, self.height() - theme.px(FOOT), self.width() - 2 * pad, theme.px(FOOT))
        painter.fillRect(QRectF(pad, foot.top(), foot.width(), 1), colours.line)
        paint.text(painter, foot, self._foot, theme.small(), colours.muted)
