"""A button that looks like the text it is: for what unfolds or leads on."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QWidget

from app.widgets import icons, paint, theme


class LinkButton(QAbstractButton):
    """Accent-coloured text, with an arrow that turns where the button unfolds something."""

    def __init__(self, parent: QWidget, unfolds: bool = False) -> None:
        super().__init__(parent)
        self._unfolds = unfolds
        self.setCheckable(unfolds)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def set_text(self, text: str) -> None:
        """Show this text, at the width it needs."""
        if text != self.text():
            self.setText(text)
            self.resize(self.sizeHint())

    def sizeHint(self) -> QSize:
        width = theme.font(12.5).width(self.text()) + theme.px(12)
        return QSize(width + (theme.px(16) if self._unfolds else 0), theme.px(26))

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours = theme.colours()
        painter = QPainter(self)
        place = QRectF(self.rect())
        if self.underMouse():
            paint.panel(painter, place, colours.hover, None, theme.px(5))
        left = theme.px(6)
        if self._unfolds:
            side = theme.px(11)
            mark = "mark-shut" if self.isChecked() else "mark-open"
            icons.draw(painter, mark, QRectF(left, (self.height() - side) / 2, side, side), colours.accent)
            left += theme.px(16)
        words = place.adjusted(left, 0, 0, 0)
        paint.text(painter, words, self.text(), theme.font(12.5), colours.accent)
        if self.hasFocus():
            paint.focus_ring(painter, place, colours.focus, theme.px(5))
