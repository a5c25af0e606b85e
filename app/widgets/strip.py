"""A line across the surface that says what went otherwise, with one button that settles it."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.widgets import icons, paint, theme
from app.widgets.laid_card import Text
from app.widgets.main_button import MainButton

PAD, MARK, BESIDE_FROM = 14, 16, 560


class Strip(QWidget):
    """Takes no room while it says nothing.

    Signals
    -------
    accepted : its button was pressed.
    """

    accepted = Signal()

    def __init__(self, parent: QWidget, *, level: str = "check") -> None:
        super().__init__(parent)
        self._level = level
        self.words = Text(self, 13.5)
        self.button = MainButton(self)
        self.button.clicked.connect(self.accepted)
        self.hide()

    def say(self, words: str, button: str = "") -> None:
        """Show this sentence with this button; nothing for no words."""
        self.words.say(words)
        self.setAccessibleName(words)
        self.button.set_text(button)
        self.button.setVisible(bool(button))
        self.setVisible(bool(words))
        self._lay(self.width(), place=True)  # other words in the same place need other room in it
        self.update()

    def height_for(self, width: int) -> int:
        """Return the height needed at a width [px]; none while there is nothing to say."""
        return 0 if self.isHidden() else self._lay(width, place=False)

    def _lay(self, width: int, *, place: bool) -> int:
        pad, left = theme.px(PAD), theme.px(PAD + MARK + 10)
        button = self.button.sizeHint() if not self.button.isHidden() else None
        beside = button is not None and width >= theme.px(BESIDE_FROM)
        room = width - left - pad - (button.width() + pad if beside and button is not None else 0)
        words = max(self.words.heightForWidth(room), theme.px(22))
        tall = max(words, button.height()) if beside and button is not None else words
        below = button.height() + theme.px(8) if button is not None and not beside else 0
        if place:
            self.words.setGeometry(left, pad + (tall - words) // 2, room, words)
            if button is not None and beside:
                self.button.setGeometry(width - pad - button.width(), pad + (tall - button.height()) // 2,
                                        button.width(), button.height())  # fmt: skip
            elif button is not None:
                wide = min(button.width(), width - left - pad)
                self.button.setGeometry(left, pad + tall + theme.px(8), wide, button.height())
        return tall + below + 2 * pad

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._lay(self.width(), place=True)

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter, side = theme.colours(), QPainter(self), theme.px(MARK)
        calm = self._level == "met"
        fill, line = (colours.card, colours.line) if calm else (colours.strip, colours.strip_line)
        paint.panel(painter, QRectF(self.rect()), fill, line, theme.px(theme.RADIUS))
        spot = QRectF(theme.px(PAD), self.words.geometry().center().y() - side / 2, side, side)
        icons.draw(painter, "mark-met" if calm else "mark-check", spot, colours.accent if calm else colours.check)
