"""A cross that closes what it stands on."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QWidget

from app.widgets import icons, paint, theme


class CrossButton(QAbstractButton):
    """A cross; `name` says to screen readers, and under the mouse, what it closes."""

    def __init__(self, parent: QWidget, name: str) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setToolTip(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter, side = theme.colours(), QPainter(self), theme.px(12)
        place = QRectF((self.width() - side) / 2, (self.height() - side) / 2, side, side)
        icons.draw(painter, "mark-close", place, colours.text if self.underMouse() else colours.muted)
        if self.hasFocus():
            paint.focus_ring(painter, QRectF(self.rect()), colours.focus, theme.px(4))
