"""Answers as parts of a sheet: sentences the keyboard comes to, each with what can be done about it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.widgets import paint, theme
from app.widgets.form import Words
from app.widgets.link_button import LinkButton

Offer = tuple[str, Callable[[], object]]
"""What a button says and does."""

Line = tuple[str, Offer | None]
"""A sentence, and the button below it where there is one."""


class Told(Words):
    """Sentences that the keyboard stops at, so that a screen reader says them and the sheet scrolls to them."""

    def __init__(self, parent: QWidget, text: str) -> None:
        super().__init__(parent, text, muted=False)
        self.setFont(theme.font(12.5))
        self.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(text)
        self.setContentsMargins(theme.px(4), theme.px(2), theme.px(4), theme.px(2))

    def say(self, text: str, *, warns: bool = False) -> None:
        super().say(text, warns=warns)
        self.setAccessibleName(text)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self.hasFocus():
            painter = QPainter(self)
            paint.focus_ring(painter, QRectF(self.rect()), theme.colours().focus, theme.px(4))


class Part(QWidget):
    """A heading over sentences; takes no room while it holds none."""

    def __init__(self, parent: QWidget, title: str) -> None:
        super().__init__(parent)
        self.setAccessibleName(title)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, theme.px(4), 0, theme.px(6))
        self._column.setSpacing(theme.px(3))
        head = Words(self, title, muted=False, strong=True)
        head.setFont(theme.font(13, strong=True))
        head.setContentsMargins(theme.px(4), 0, 0, 0)
        self._column.addWidget(head)
        self.told: list[Told] = []
        self.buttons: list[LinkButton] = []
        self.hide()

    def show_lines(self, lines: Sequence[Line]) -> None:
        """Show these sentences, each with its button where it has one."""
        for old in (*self.told, *self.buttons):
            old.hide()
            self._column.removeWidget(old)
            old.deleteLater()
        self.told, self.buttons = [], []
        for text, offer in lines:
            told = Told(self, text)
            self._column.addWidget(told)
            self.told.append(told)
            if offer is not None:
                self._add_button(text, *offer)
        self.setVisible(bool(lines))

    def texts(self) -> list[str]:
        """Return what is told."""
        return [told.text() for told in self.told]

    def _add_button(self, text: str, words: str, act: Callable[[], object]) -> None:
        button = LinkButton(self)
        button.set_text(words)
        button.setAccessibleDescription(text)
        button.clicked.connect(lambda _checked=False: act())
        self._column.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
        self.buttons.append(button)
