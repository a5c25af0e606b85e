"""A card whose parts stand below each other and wrap: it is as tall as they need at its width."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from app.paper.text import unbroken
from app.widgets import theme
from app.widgets.card import PAD, Card


class LaidCard(Card):
    """Holds a column of widgets below its title."""

    def __init__(self, parent: QWidget, title: str) -> None:
        super().__init__(parent, title)
        self.column = QVBoxLayout(self)
        pad = theme.px(PAD)
        self.column.setContentsMargins(pad, self.body_top, pad, theme.px(14))
        self.column.setSpacing(theme.px(6))

    def least_height(self, width: int) -> int:
        self.column.invalidate()
        self.column.activate()
        if self.column.hasHeightForWidth():
            return max(self.column.totalHeightForWidth(width), self.body_top)
        return self.column.totalSizeHint().height()


class Text(QLabel):
    """Plain text that wraps, in a colour of the theme by its role; takes no room while it says nothing."""

    def __init__(self, parent: QWidget, designed: float = 13, *, strong: bool = False, role: str = "text") -> None:
        super().__init__(parent)
        self._role = role
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setFont(theme.font(designed, strong=strong))
        self.setMinimumWidth(1)
        self.recolour()
        self.hide()

    def say(self, words: str) -> None:
        """Show these words, numbers held to their units; read out, they are the words as they came."""
        if words != self.accessibleName() or not self.text():
            self.setText(unbroken(words))
            self.setAccessibleName(words)
        if self.isHidden() == bool(words):
            self.setVisible(bool(words))

    def set_role(self, role: str) -> None:
        """Show the text in another colour of the theme."""
        if role != self._role:
            self._role = role
            self.recolour()

    def recolour(self) -> None:
        """Take the colour anew, after light has become dark."""
        palette = QPalette(self.palette())
        palette.setColor(QPalette.ColorRole.WindowText, getattr(theme.colours(), self._role))
        self.setPalette(palette)
