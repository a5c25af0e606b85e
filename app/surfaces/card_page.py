"""A page of equal cards side by side, as many as the width takes; it scrolls where they do not fit."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtGui import QPalette, QResizeEvent
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QWidget

from app.widgets import theme
from app.widgets.card import Card
from app.widgets.slim_bar import slim

MARGIN = 14
LEAST_CARD, MOST_CARD = 380, 620


class CardPage(QScrollArea):
    """Holds cards and places them; what the cards show is their owner's matter."""

    def __init__(self, parent: QWidget, name: str) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setFrameShape(QFrame.Shape.NoFrame)
        slim(self)
        self.page = QWidget()
        self.setWidget(self.page)
        self._cards: Sequence[Card] = ()
        self._note = QLabel(self.page)
        self._note.setFont(theme.small())
        self._note.setForegroundRole(QPalette.ColorRole.PlaceholderText)

    def set_note(self, text: str) -> None:
        """Show a remark below the cards."""
        self._note.setText(text)

    def set_cards(self, cards: Sequence[Card]) -> None:
        """Show these cards, in this order."""
        for card in self._cards:
            card.setVisible(card in cards)
        self._cards = tuple(cards)
        for card in self._cards:
            card.show()
        self._arrange()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        margin, gap = theme.px(MARGIN), theme.px(theme.GAP)
        inner = self.width() - 2 * margin
        columns = max(1, min(len(self._cards), (inner + gap) // (theme.px(LEAST_CARD) + gap)))
        width = min(theme.px(MOST_CARD), (inner - gap * (columns - 1)) // columns)
        top = margin
        for start in range(0, len(self._cards), columns):
            row = self._cards[start : start + columns]
            height = max(card.least_height(width) for card in row)
            for number, card in enumerate(row):
                card.setGeometry(margin + number * (width + gap), top, width, height)
            top += height + gap
        self._note.setGeometry(margin + theme.px(2), top, inner, theme.px(20) if self._note.text() else 0)
        self.page.resize(self.viewport().width(), top + self._note.height() + margin)
