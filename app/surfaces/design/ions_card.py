"""The charge the feed carries, cations over anions to one scale."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.widgets import paint, theme
from app.widgets.card import PAD, Card
from app.widgets.ion_bar import IonBar
from app.wording import surfaces as say
from core.plan.records import Plan

BAR_GAP, TEXT_GAP, FOOT = 5, 8, 10
SENTENCE_LINES = 2


class IonsCard(Card):
    """Two bars and a sentence."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, say.ions_title())
        self.set_aside(say.ions_unit())
        cations, anions = say.ion_kinds()
        self.cations = IonBar(self, cations)
        self.anions = IonBar(self, anions)
        self._sentence = ""

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's ions."""
        positive = tuple(ion for ion in plan.feed.ions if ion.charge > 0)
        negative = tuple(ion for ion in plan.feed.ions if ion.charge < 0)
        full = max(sum(ion.meq_per_l for ion in ions) for ions in (positive, negative))
        self.cations.set_ions(positive, full)
        self.anions.set_ions(negative, full)
        sentence = say.ions_sentence(plan.feed.charge_error_percent, plan.feed.alkalinity_meq_per_l)
        if sentence != self._sentence:
            self._sentence = sentence
            self.setAccessibleDescription(sentence)
            self.update(self._text_place().toRect())

    def least_height(self, width: int) -> int:
        return self._text_top() + SENTENCE_LINES * theme.small().height() + theme.px(FOOT)

    def _text_top(self) -> int:
        return self.body_top + 2 * self.cations.height() + theme.px(BAR_GAP + TEXT_GAP)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        pad, width = theme.px(PAD), self.width() - 2 * theme.px(PAD)
        for number, bar in enumerate((self.cations, self.anions)):
            bar.setGeometry(pad, self.body_top + number * (bar.height() + theme.px(BAR_GAP)), width, bar.height())

    def _text_place(self) -> QRectF:
        pad, top = theme.px(PAD), self._text_top()
        return QRectF(pad, top, self.width() - 2 * pad, self.height() - top - 1)

    def paint_body(self, painter: QPainter) -> None:
        paint.paragraph(painter, self._text_place(), self._sentence, theme.small(), theme.colours().muted)
