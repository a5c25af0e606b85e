"""The quiet sheet every part of a surface stands on."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from app.widgets import paint, theme
from app.widgets.link_button import LinkButton

TITLE_HEIGHT = 40
PAD = theme.PAD


class Card(QWidget):
    """A titled sheet; subclasses place their parts below `body_top` and paint on with `paint_body`.

    A card says how tall it wants to be at a width, and lays itself out in whatever it is given.
    """

    def __init__(self, parent: QWidget, title: str) -> None:
        super().__init__(parent)
        self._title = title
        self._aside = ""
        self.link: LinkButton | None = None
        self.setAccessibleName(title)

    @property
    def body_top(self) -> int:
        """Where the card's contents begin, below its title [px]."""
        return theme.px(TITLE_HEIGHT)

    def set_title(self, title: str) -> None:
        """Show another title."""
        if title != self._title:
            self._title = title
            self.setAccessibleName(title)
            self.update(0, 0, self.width(), self.body_top)

    def set_aside(self, text: str) -> None:
        """Show a remark at the right end of the title line."""
        if text != self._aside:
            self._aside = text
            self.update(0, 0, self.width(), self.body_top)

    def add_link(self, words: str, tip: str) -> LinkButton:
        """Put a link that leads on behind the title, and return it."""
        link = LinkButton(self)
        link.set_text(words)
        link.setToolTip(tip)
        link.setAccessibleDescription(tip)
        link.move(theme.px(PAD) + theme.title().width(self._title) + theme.px(4), (self.body_top - link.height()) // 2)
        self.link = link
        return link

    def least_height(self, width: int) -> int:
        """Return the height below which something would be cut [px]."""
        raise NotImplementedError

    def most_height(self, width: int) -> int:
        """Return the height above which the card would only be empty [px]."""
        return self.least_height(width)

    def paint_head(self, painter: QPainter) -> None:
        """Paint what stands beside the title."""

    def paint_body(self, painter: QPainter) -> None:
        """Paint what the card shows beside its child widgets."""

    def _paint_aside(self, painter: QPainter, line: QRectF) -> None:
        """Paint the remark beside the title and its link, or not at all: what is cut here helps nobody."""
        used = theme.title().width(self._title) if self.link is None else self.link.geometry().right() - line.left()
        room, face = line.adjusted(used + theme.px(8), 0, 0, 0), theme.small()
        if face.for_room(self._aside, int(room.width())).width(self._aside) <= room.width():
            paint.text(painter, room, self._aside, face, theme.colours().muted, paint.RIGHT)

    def paintEvent(self, event: QPaintEvent) -> None:
        colours = theme.colours()
        painter = QPainter(self)
        paint.panel(painter, QRectF(self.rect()), colours.card, colours.line, theme.px(theme.RADIUS))
        if event.rect().top() <= self.body_top:
            pad = theme.px(PAD)
            line = QRectF(pad, 0, self.width() - 2 * pad, self.body_top)
            paint.text(painter, line, self._title, theme.title(), colours.text)
            self._paint_aside(painter, line)
            self.paint_head(painter)
        self.paint_body(painter)
