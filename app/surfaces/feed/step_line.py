"""A step that was done or is to come: small, with its number or a tick."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.widgets import icons, paint, theme
from app.widgets.laid_card import Text

BULLET, INDENT = 22, 34


def paint_bullet(painter: QPainter, place: QRectF, number: int, state: str) -> None:
    """Paint a step's place in the order: a tick once it is done, its number filled while it is due, else outlined."""
    colours = theme.colours()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen if state != "coming" else QPen(colours.field_line, 1.4))
    painter.setBrush(colours.accent if state != "coming" else Qt.BrushStyle.NoBrush)
    painter.drawEllipse(place.adjusted(1, 1, -1, -1))
    if state == "done":
        side = place.width() * 0.5
        spot = QRectF(place.center().x() - side / 2, place.center().y() - side / 2, side, side)
        icons.draw(painter, "mark-met", spot, colours.on_accent)
        return
    ink = colours.on_accent if state == "now" else colours.muted
    paint.text(painter, place, str(number), theme.font(12, strong=True), ink, paint.CENTRE)


class StepLine(QWidget):
    """Title and what was read or will be."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._number, self._state = 0, "coming"
        column = QVBoxLayout(self)
        column.setContentsMargins(theme.px(INDENT), theme.px(1), 0, theme.px(3))
        column.setSpacing(0)
        self.title = Text(self, 13, strong=True)
        self.words = Text(self, 12, role="muted")
        self.setMinimumHeight(theme.px(BULLET + 2))
        column.addWidget(self.title)
        column.addWidget(self.words)

    def show_step(self, number: int, state: str, title: str, words: str) -> None:
        """Show this step."""
        self._number, self._state = number, state
        self.title.set_role("muted" if state == "coming" else "text")
        self.title.say(title)
        self.words.say(words)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        side = theme.px(BULLET)
        paint_bullet(QPainter(self), QRectF(theme.px(1), 0, side, side), self._number, self._state)
