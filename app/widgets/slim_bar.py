"""A scroll bar that is only as wide as its purpose."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QScrollArea, QScrollBar

from app.widgets import paint, theme


class SlimBar(QScrollBar):
    """A scroll bar with a rounded handle, no arrows drawn."""

    def __init__(self, orientation: Qt.Orientation = Qt.Orientation.Vertical) -> None:
        super().__init__(orientation)

    def sizeHint(self) -> QSize:
        usual, slim = super().sizeHint(), theme.px(11)
        upright = self.orientation() is Qt.Orientation.Vertical
        return QSize(slim, usual.height()) if upright else QSize(usual.width(), slim)

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        painter.fillRect(self.rect(), colours.window)
        place = self._handle().adjusted(theme.px(2), theme.px(2), -theme.px(2), -theme.px(2))
        ink = colours.muted if self.underMouse() else colours.field_line
        paint.panel(painter, place, ink, None, min(place.width(), place.height()) / 2)

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
