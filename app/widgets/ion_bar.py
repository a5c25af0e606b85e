"""The ions of one sign as one bar, largest first, each with its share of the charge."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, Qt
from PySide6.QtGui import QHelpEvent, QPainter, QPainterPath, QPaintEvent
from PySide6.QtWidgets import QToolTip, QWidget

from app.widgets import paint, theme
from app.widgets.afterwards import afterwards
from app.wording import figures
from app.wording import surfaces as say
from core.plan.records import IonShare

LEAST_SHARE = 0.004
"""An ion below this share of the longer bar would be thinner than a line; it is named in the bar's text only."""


class IonBar(QWidget):
    """Draws ions to a common scale, so that the lengths of two bars compare; it lies on a card."""

    def __init__(self, parent: QWidget, kind: str) -> None:
        super().__init__(parent)
        self._kind = kind
        self._ions: tuple[IonShare, ...] = ()
        self._full_meq_per_l = 0.0
        self.setFixedHeight(theme.px(26))
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setAccessibleName(kind)

    def set_ions(self, ions: tuple[IonShare, ...], full_meq_per_l: float) -> None:
        """Show these ions; a bar of `full_meq_per_l` would fill the width."""
        ordered = tuple(sorted(ions, key=lambda ion: -ion.meq_per_l))
        if (ordered, full_meq_per_l) == (self._ions, self._full_meq_per_l):
            return
        self._ions, self._full_meq_per_l = ordered, full_meq_per_l
        self.update()
        afterwards(self, self._tell)

    def _tell(self) -> None:
        self.setAccessibleDescription(", ".join(map(say.ion_text, self._ions)))

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            at = event.pos().x()
            words = next((say.ion_text(ion) for ion, place in self._places() if place.left() <= at < place.right()), "")
            QToolTip.showText(event.globalPos(), words or self.accessibleDescription(), self)
            return True
        return super().event(event)

    def _places(self) -> list[tuple[IonShare, QRectF]]:
        places: list[tuple[IonShare, QRectF]] = []
        left = 0.0
        for ion in self._ions:
            width = self.width() * ion.meq_per_l / self._full_meq_per_l if self._full_meq_per_l > 0 else 0.0
            places.append((ion, QRectF(left, 0, width, self.height())))
            left += width
        return places

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours = theme.colours()
        painter = QPainter(self)
        painter.fillRect(self.rect(), colours.card)
        painter.setRenderHint(paint.SMOOTH)
        shades = colours.cations if any(ion.charge > 0 for ion in self._ions) else colours.anions
        round_ends = QPainterPath()
        places = self._places()
        whole = QRectF(0, 0, places[-1][1].right() if places else 0, self.height())
        round_ends.addRoundedRect(whole, theme.px(4), theme.px(4))
        painter.setClipPath(round_ends)
        font = theme.font(12, strong=True)
        for number, (ion, place) in enumerate(places):
            if place.width() < LEAST_SHARE * self.width():
                continue
            fill, ink = shades[min(number, len(shades) - 1)]
            inside = place.adjusted(0, 0, -1.5, 0)
            painter.fillRect(inside, fill)
            words = figures.symbol(ion.ion)
            if font.width(words) + theme.px(6) <= place.width():
                paint.text(painter, inside, words, font, ink, paint.CENTRE)
