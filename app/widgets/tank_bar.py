"""How full of dissolved salts a tank is, against what stays dissolved."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from app.widgets import paint, theme
from core.plan.records import Verdict

LIMIT_AT = 0.8
"""Where the mark of saturation stands along the bar; what is beyond it settles."""


class TankBar(QWidget):
    """Fills up to the mark while a tank stays clear and past it when something settles; it lies on a card."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self._fullness: float | None = None
        self._verdict: Verdict = "clear"
        self._colour = theme.colours().accent
        self.setFixedHeight(theme.px(14))

    def set_tank(self, fullness: float | None, verdict: Verdict, colour: QColor) -> None:
        """Show a tank; `fullness` is 1 at saturation, None where nothing limits it."""
        if (fullness, verdict, colour) != (self._fullness, self._verdict, self._colour):
            self._fullness, self._verdict, self._colour = fullness, verdict, colour
            self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours = theme.colours()
        painter = QPainter(self)
        painter.fillRect(self.rect(), colours.card)
        thick = theme.px(8)
        top = (self.height() - thick) / 2
        track = QRectF(0, top, self.width(), thick)
        paint.panel(painter, track, colours.track, None, thick / 2)
        limit = LIMIT_AT * self.width()
        length = min(1.0, LIMIT_AT * (self._fullness or 0.0)) * self.width()
        fill = {"doubtful": colours.check, "settles": colours.stop}.get(self._verdict, self._colour)
        paint.panel(painter, QRectF(0, top, length, thick), theme.faded(fill, colours.card), None, thick / 2)
        painter.fillRect(QRectF(limit - 1, 0, 2, self.height()), colours.target)
