"""A surface that is not built yet: it says what will be there, and nothing more."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from app.widgets import icons, theme
from app.wording import surfaces as say
from core.plan.records import Plan
from core.recipe.records import Recipe


class NotYet(QWidget):
    """The surface's drawing over one honest sentence."""

    def __init__(self, parent: QWidget, surface: str) -> None:
        super().__init__(parent)
        self._surface = surface
        self._sentence = say.not_yet(surface)
        self.setAccessibleName(say.surface(surface))
        self.setAccessibleDescription(self._sentence)

    def show_plan(self, recipe: Recipe, plan: Plan) -> None:
        """Show nothing: this surface holds no numbers yet."""

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        side, width = theme.px(48), min(theme.px(440), self.width() - theme.px(48))
        left, top = (self.width() - width) / 2, self.height() * 0.36 - side
        place = QRectF((self.width() - side) / 2, top, side, side)
        icons.draw(painter, self._surface, place, colours.muted)
        painter.setFont(theme.font(14))
        painter.setPen(colours.text)
        flags = int(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap)
        words = QRectF(left, place.bottom() + theme.px(18), width, self.height())
        painter.drawText(words, flags, self._sentence)
