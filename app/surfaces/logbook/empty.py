"""What the logbook is for, while there is no reservoir, and the one thing to do then."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.widgets import icons, paint, theme
from app.widgets.main_button import MainButton
from app.wording import logbook as say

WIDE, SIDE = 460, 48


class Empty(QWidget):
    """Drawing, heading, a few sentences, a button."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.button = MainButton(self)
        self.button.set_text(say.empty_button())
        self.setAccessibleName(say.empty_title())
        self.setAccessibleDescription(say.empty_text())

    def _parts(self) -> tuple[QRectF, QRectF, QRectF]:
        """Where drawing, heading and text stand."""
        wide, side = min(theme.px(WIDE), self.width() - theme.px(32)), theme.px(SIDE)
        left, top = (self.width() - wide) / 2, max(theme.px(12), self.height() * 0.3 - side)
        drawing = QRectF((self.width() - side) / 2, top, side, side)
        heading = QRectF(left, drawing.bottom() + theme.px(14), wide, theme.px(28))
        return drawing, heading, QRectF(left, heading.bottom() + theme.px(6), wide, theme.px(110))

    def resizeEvent(self, _event: QResizeEvent) -> None:
        _drawing, _heading, text = self._parts()
        size = self.button.sizeHint()
        self.button.setGeometry((self.width() - size.width()) // 2, round(text.bottom()), size.width(), size.height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        drawing, heading, text = self._parts()
        icons.draw(painter, "logbook", drawing, colours.muted)
        paint.text(painter, heading, say.empty_title(), theme.font(17, strong=True), colours.text, paint.CENTRE)
        paint.paragraph(painter, text, say.empty_text(), theme.font(13.5), colours.text, paint.TOP_CENTRE)
