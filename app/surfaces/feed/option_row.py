"""One way to fill a reservoir up: chosen by a click or the keyboard, its amounts large."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from app.widgets import paint, theme

TALL, BIG_TALL = 50, 92


class OptionRow(QAbstractButton):
    """Title, amount, water and the EC after; the chosen one is large."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._words = ("", "", "", "")
        self.setCheckable(True)
        self.setAutoExclusive(True)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.toggled.connect(lambda _on: self.updateGeometry())

    def show_words(self, title: str, amount: str, water: str, after: str) -> None:
        """Show these words."""
        self._words = (title, amount, water, after)
        self.setAccessibleName(", ".join(part for part in self._words if part))
        self.update()

    def words(self) -> tuple[str, str, str, str]:
        """Return what is shown."""
        return self._words

    def sizeHint(self) -> QSize:
        return QSize(theme.px(300), theme.px(BIG_TALL if self.isChecked() else TALL))

    def minimumSizeHint(self) -> QSize:
        return QSize(theme.px(180), self.sizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter, place = theme.colours(), QPainter(self), QRectF(self.rect())
        title, amount, water, after = self._words
        chosen, pad = self.isChecked(), theme.px(12)
        fill = colours.rail_chosen if chosen else colours.hover if self.underMouse() else colours.card
        paint.panel(painter, place, fill, colours.wanted_line if chosen else colours.line, theme.px(7))
        inner = place.adjusted(pad, theme.px(6), -pad, -theme.px(6))
        half = QRectF(inner.left(), inner.top(), inner.width(), theme.px(19))
        paint.text(painter, half, title, theme.font(13, strong=True), colours.text)
        below = QRectF(inner.left(), half.bottom(), inner.width(), inner.bottom() - half.bottom())
        if chosen:
            room = below.adjusted(0, 0, 0, -theme.px(20))
            paint.text(painter, room, amount, theme.font(28, strong=True), colours.text)
            foot = QRectF(below.left(), room.bottom() - theme.px(2), below.width(), theme.px(20))
            paint.text(painter, foot, f"{water}, {after}", theme.font(13), colours.text)
        else:
            paint.text(painter, below, f"{amount} {water}, {after}", theme.font(12.5), colours.muted)
        if self.hasFocus():
            paint.focus_ring(painter, place, colours.focus, theme.px(7))
