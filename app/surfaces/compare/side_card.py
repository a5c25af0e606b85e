"""A quiet sheet for words, fields and small plots beside the table."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.widgets import paint, theme
from app.widgets.form import Words


class SideCard(QWidget):
    """A title over whatever is put into its column."""

    def __init__(self, parent: QWidget, title: str) -> None:
        super().__init__(parent)
        self.setAccessibleName(title)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(theme.px(10), theme.px(10), theme.px(12), theme.px(12))
        self.column.setSpacing(theme.px(4))
        self.head = Words(self, title, muted=False, strong=True)
        self.head.setFont(theme.font(14, strong=True))
        self.add_words(self.head)

    def add_words(self, words: Words) -> None:
        """Add plain words, in line with those the keyboard stops at."""
        words.setContentsMargins(theme.px(4), 0, 0, 0)
        self.column.addWidget(words)

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours = theme.colours()
        paint.panel(QPainter(self), QRectF(self.rect()), colours.card, colours.line, theme.px(theme.RADIUS))
