"""What stands in an empty recipe: one sentence, and the ways to begin."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.widgets import icons, paint, theme
from app.widgets.link_button import LinkButton
from app.wording import editors as say

ORDER = ("water", "shelf", "aim", "tanks")


class Beginning(QWidget):
    """Leads to the editors.

    Signals
    -------
    wanted : the editor asked for.
    """

    wanted = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAccessibleName(say.beginning_name())
        self.setAccessibleDescription(say.beginning())
        self.links = {name: LinkButton(self) for name in ORDER}
        for name, link in self.links.items():
            link.set_text(say.menu(name)[0].replace("&", ""))
            link.clicked.connect(lambda _checked=False, name=name: self.wanted.emit(name))

    def _words(self) -> QRectF:
        width = min(theme.px(420), self.width() - theme.px(48))
        return QRectF((self.width() - width) / 2, self.height() * 0.3, width, theme.px(70))

    def resizeEvent(self, _event: QResizeEvent) -> None:
        words = self._words()
        left = round((self.width() - sum(link.width() for link in self.links.values()) - theme.px(24)) / 2)
        for link in self.links.values():
            link.move(left, round(words.bottom()) + theme.px(6))
            left += link.width() + theme.px(8)

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter, words, side = theme.colours(), QPainter(self), self._words(), theme.px(44)
        icons.draw(
            painter, "design", QRectF((self.width() - side) / 2, words.top() - side - 16, side, side), colours.muted
        )
        paint.paragraph(painter, words, say.beginning(), theme.font(14), colours.text, paint.TOP_CENTRE)
