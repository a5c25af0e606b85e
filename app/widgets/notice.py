"""A line across the window that says what went wrong, laid into the window and closed by hand or when mended."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QLabel, QWidget

from app.widgets import icons, paint, theme
from app.wording import window as say


class _CloseButton(QAbstractButton):
    """A cross."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAccessibleName(say.close_notice())
        self.setToolTip(say.close_notice())
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter, side = theme.colours(), QPainter(self), theme.px(12)
        place = QRectF((self.width() - side) / 2, (self.height() - side) / 2, side, side)
        icons.draw(painter, "mark-close", place, colours.text if self.underMouse() else colours.muted)
        if self.hasFocus():
            paint.focus_ring(painter, QRectF(self.rect()), colours.focus, theme.px(4))


class Notice(QWidget):
    """Takes no room while there is nothing to say.

    Signals
    -------
    height_changed : it appeared, went, or needs another height.
    """

    height_changed = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._words = QLabel(self)
        self._words.setWordWrap(True)
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._words.setFont(theme.font())
        self._close = _CloseButton(self)
        self._close.clicked.connect(self.clear)
        self.hide()

    def text(self) -> str:
        """Return what the notice says; nothing while it is hidden."""
        return self._words.text() if not self.isHidden() else ""

    def say(self, text: str) -> None:
        """Show this text."""
        self._words.setText(text)
        self._words.setAccessibleName(text)
        self.setFixedHeight(self._height_for(self.width()))
        self.show()
        self.height_changed.emit()

    def clear(self) -> None:
        """Say nothing any more."""
        if not self.isHidden():
            self.hide()
            self.height_changed.emit()

    def _height_for(self, width: int) -> int:
        return max(theme.px(40), self._words.heightForWidth(max(1, width - theme.px(88))) + theme.px(20))

    def resizeEvent(self, _event: QResizeEvent) -> None:
        side = theme.px(28)
        self._words.setGeometry(theme.px(42), 0, self.width() - theme.px(88), self.height())
        self._close.setGeometry(self.width() - side - theme.px(10), (self.height() - side) // 2, side, side)

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter, side = theme.colours(), QPainter(self), theme.px(16)
        painter.fillRect(self.rect(), colours.strip)
        painter.fillRect(QRectF(0, 0, theme.px(4), self.height()), colours.stop)
        painter.fillRect(QRectF(0, self.height() - 1, self.width(), 1), colours.strip_line)
        icons.draw(painter, "mark-stop", QRectF(theme.px(16), (self.height() - side) / 2, side, side), colours.stop)
