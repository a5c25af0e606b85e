"""A scroll bar that is only as wide as its purpose."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QScrollArea, QScrollBar

from app.widgets import paint, theme


class SlimBar(QScrollBar):
    """An upright scroll bar: a rounded handle, no arrows drawn."""

    def __init__(self) -> None:
        super().__init__(Qt.Orientation.Vertical)

    def sizeHint(self) -> QSize:
        return QSize(theme.px(11), super().sizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        painter.fillRect(self.rect(), colours.window)
        place = self._handle().adjusted(theme.px(2), theme.px(2), -theme.px(2), -theme.px(2))
        paint.panel(painter, place, colours.muted if self.underMouse() else colours.field_line, None, place.width() / 2)

    def _handle(self) -> QRectF:
        """Return the part of the track that stands for what is in view, where the mouse finds it."""
        from PySide6.QtWidgets import QStyle, QStyleOptionSlider  # slow to load, and most windows need no scroll bar

        option = QStyleOptionSlider()
        self.initStyleOption(option)
        control, part = QStyle.ComplexControl.CC_ScrollBar, QStyle.SubControl.SC_ScrollBarSlider
        return QRectF(self.style().subControlRect(control, option, part, self))


def slim(area: QScrollArea) -> None:
    """Give a scroll area a slim bar, upright only."""
    area.setVerticalScrollBar(SlimBar())
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
