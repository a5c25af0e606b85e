"""The one button of a surface that does what is to be done now: large, filled, reached by Space and Enter."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from app.widgets import paint, theme

TALL, PAD = 40, 20


class MainButton(QAbstractButton):
    """Filled with the accent colour; a press leaves the keyboard where it is, so that what is typed counts first."""

    def __init__(self, parent: QWidget, *, quiet: bool = False) -> None:
        super().__init__(parent)
        self._quiet = quiet
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)

    def set_text(self, text: str) -> None:
        """Show this text, at the width it needs."""
        if text != self.text():
            self.setText(text)
            self.setAccessibleName(text)
            self.updateGeometry()

    def sizeHint(self) -> QSize:
        return QSize(theme.font(14, strong=True).width(self.text()) + 2 * theme.px(PAD), theme.px(TALL))

    def minimumSizeHint(self) -> QSize:
        return QSize(theme.font(14, strong=True).smaller().width(self.text()) + theme.px(PAD), theme.px(TALL))

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter, place = theme.colours(), QPainter(self), QRectF(self.rect())
        fill, ink, line = colours.accent, colours.on_accent, None
        if not self.isEnabled():
            fill, ink = colours.track, colours.muted
        elif self._quiet:
            fill, ink, line = colours.hover if self.underMouse() else colours.card, colours.accent, colours.field_line
        elif self.underMouse():
            fill = theme.faded(colours.accent, colours.text, 0.15)
        paint.panel(painter, place, fill, line, theme.px(7))
        words = place.adjusted(theme.px(6), 0, -theme.px(6), 0)
        paint.text(painter, words, self.text(), theme.font(14, strong=True), ink, paint.CENTRE)
        if self.hasFocus():
            paint.focus_ring(painter, place.adjusted(2, 2, -2, -2), ink if not self._quiet else colours.focus, 6)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)
