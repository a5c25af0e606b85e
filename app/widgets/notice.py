"""A line across the window that says what went wrong, laid into the window and closed by hand or when mended."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QLabel, QWidget

from app.widgets import icons, theme
from app.widgets.cross_button import CrossButton
from app.widgets.link_button import LinkButton
from app.wording import window as say

Offer = tuple[str, Callable[[], object]]
"""What a button says and what it does."""

LEAST_WORDS_WIDTH = 260


class _Message(NamedTuple):
    topic: str
    text: str
    offers: tuple[Offer, ...]
    calm: bool


class Notice(QWidget):
    """Takes no room while there is nothing to say.

    Of several messages the newest is in view; when it goes, the one before comes back.

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
        self._close = CrossButton(self, say.close_notice())
        self._close.clicked.connect(self._put_away)
        self._messages: list[_Message] = []
        self.buttons: list[LinkButton] = []
        self.hide()

    def text(self) -> str:
        """Return what the notice says; nothing while it is hidden."""
        return self._words.text() if not self.isHidden() else ""

    def says(self, topic: str) -> bool:
        """Return whether what is in view is of this."""
        return bool(self._messages) and self._messages[-1].topic == topic

    def say(self, text: str, offers: tuple[Offer, ...] = (), topic: str = "", *, calm: bool = False) -> None:
        """Show this text.

        Parameters
        ----------
        offers : what to do about it, a button each.
        topic : what it is about; it replaces what was said of the same before.
        calm : whether nothing is wrong.
        """
        self._messages = [other for other in self._messages if other.topic != topic]
        self._messages.append(_Message(topic, text, offers, calm))
        self._show_newest()

    def clear(self, topic: str = "") -> None:
        """Say nothing of this any more."""
        kept = [message for message in self._messages if message.topic != topic]
        if kept != self._messages:
            self._messages = kept
            self._show_newest()

    def _put_away(self) -> None:
        self._messages.pop()
        self._show_newest()

    def _show_newest(self) -> None:
        for button in self.buttons:
            button.hide()
            button.deleteLater()
        self.buttons = []
        if self._messages:
            message = self._messages[-1]
            self._words.setText(message.text)
            self._words.setAccessibleName(message.text)
            self.buttons = [self._button(*offer) for offer in message.offers]
            self.setFixedHeight(self._height_for(self.width()))
            self._arrange()
            self.update()
        self.setVisible(bool(self._messages))
        self.height_changed.emit()

    def _button(self, text: str, act: Callable[[], object]) -> LinkButton:
        button = LinkButton(self)
        button.set_text(text)
        button.setAccessibleName(text)
        button.clicked.connect(lambda _checked=False: act())
        button.show()
        return button

    def _words_width(self, width: int) -> tuple[int, bool]:
        """Return the room for the words [px], and whether the buttons stand beside them, not below."""
        full = max(1, width - theme.px(88))
        beside = full - sum(button.width() + theme.px(4) for button in self.buttons)
        return (beside, True) if beside >= theme.px(LEAST_WORDS_WIDTH) else (full, not self.buttons)

    def _height_for(self, width: int) -> int:
        room, beside = self._words_width(width)
        below = 0 if beside else theme.px(30)
        return max(theme.px(40), self._words.heightForWidth(room) + theme.px(20)) + below

    def _arrange(self) -> None:
        room, beside = self._words_width(self.width())
        below = 0 if beside else theme.px(30)
        self._words.setGeometry(theme.px(42), 0, room, self.height() - below)
        left = theme.px(42) + room if beside else theme.px(36)
        for button in self.buttons:
            top = (self.height() - button.height()) // 2 if beside else self.height() - theme.px(34)
            button.move(left, top)
            left += button.width() + theme.px(4)
        side = theme.px(28)
        top = (self.height() - below - side) // 2
        self._close.setGeometry(self.width() - side - theme.px(10), top, side, side)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        if self._messages and self.height() != (needed := self._height_for(self.width())):
            self.setFixedHeight(needed)
            self.height_changed.emit()
        self._arrange()

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter, side = theme.colours(), QPainter(self), theme.px(16)
        painter.fillRect(self.rect(), colours.strip)
        calm = bool(self._messages) and self._messages[-1].calm
        mark, colour = ("mark-note", colours.accent) if calm else ("mark-stop", colours.stop)
        painter.fillRect(QRectF(0, 0, theme.px(4), self.height()), colour)
        painter.fillRect(QRectF(0, self.height() - 1, self.width(), 1), colours.strip_line)
        icons.draw(painter, mark, QRectF(theme.px(16), (self.height() - side) / 2, side, side), colour)
