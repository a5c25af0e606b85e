"""A choice among a few: a combo box that the wheel leaves alone and that keeps a key beside each text."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QWheelEvent
from PySide6.QtWidgets import QComboBox, QWidget

from app.widgets import icons, paint, theme


class Choice(QComboBox):
    """Shows (key, text) pairs.

    Signals
    -------
    chosen : the key a person chose.
    """

    chosen = Signal(str)

    def __init__(self, parent: QWidget, name: str, pairs: Iterable[tuple[str, str]] = ()) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setFont(theme.font(12.5))
        self.setFixedHeight(theme.px(26))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.set_pairs(pairs)
        self.activated.connect(lambda index: self.chosen.emit(self.itemData(index)))

    def set_pairs(self, pairs: Iterable[tuple[str, str]]) -> None:
        """Offer these instead, keeping the choice where it is still among them."""
        wanted = list(pairs)
        if wanted == [(self.itemData(index), self.itemText(index)) for index in range(self.count())]:
            return
        before = self.key()
        self.clear()
        for key, text in wanted:
            self.addItem(text, key)
        self.set_key(before)

    def set_key(self, key: str, text: str = "") -> None:
        """Show this choice, which is added with its text where it is not among them yet."""
        index = self.findData(key)
        if index < 0 and text:
            self.addItem(text, key)
            index = self.count() - 1
        if index >= 0:
            self.setCurrentIndex(index)

    def key(self) -> str:
        """Return the choice shown."""
        return str(self.currentData() or "")

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter, place = theme.colours(), QPainter(self), QRectF(self.rect())
        paint.panel(painter, place, colours.field, colours.field_line, theme.px(5))
        if self.hasFocus():
            paint.focus_ring(painter, place, colours.focus, theme.px(4))
        side = theme.px(10)
        mark = QRectF(self.width() - side - theme.px(8), (self.height() - side) / 2, side, side)
        icons.draw(painter, "mark-shut", mark, colours.muted)
        words = place.adjusted(theme.px(8), 0, -side - theme.px(12), 0)
        paint.text(painter, words, self.currentText(), theme.font(12.5), colours.text)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            event.ignore()
        else:
            super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()
