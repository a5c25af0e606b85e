"""The forms the feed is made of: a bar of what carries its conductivity over a table of ions and pairs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget

from app.surfaces.chemistry.ec_bar import EcBar, Share
from app.surfaces.chemistry.form_row import ROW, FormRow, form_columns
from app.widgets import paint, theme
from app.widgets.card import PAD, Card
from app.widgets.slim_bar import slim
from app.wording import chemistry as say

if TYPE_CHECKING:
    from core.plan.chemistry_details import FeedChemistry, Form

SHOWN_FROM_MMOL_PER_L = 1e-4
"""Forms below a ten-thousandth of a mmol/L only make the table long."""

HEAD = 26
LEAST_ROWS = 6


class FormsCard(Card):
    """Keeps its rows and only changes what they show.

    Signals
    -------
    explained : what the form under the mouse or the keyboard is.
    """

    explained = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, say.forms_title())
        self.set_aside(say.forms_aside())
        self.bar = EcBar(self)
        self.bar.explained.connect(self.explained)
        self._scroll = QScrollArea(self)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        slim(self._scroll)
        self._page = QWidget()
        self._scroll.setWidget(self._page)
        self.rows: list[FormRow] = []
        self._shown = 0
        self._current = 0

    def show_chemistry(self, told: FeedChemistry) -> None:
        """Show the forms of this feed."""
        forms = [form for form in told.forms if form.mmol_per_l >= SHOWN_FROM_MMOL_PER_L]
        texts = [_explanation(form, told.forms) for form in forms]
        self.bar.set_shares(
            tuple(
                Share(say.form_symbol(form.name, form.charge), form.charge, form.ec_percent, text)
                for form, text in zip(forms, texts, strict=True)
                if form.charge
            )
        )
        while len(self.rows) < len(forms):
            self._add_row()
        for number, (form, text) in enumerate(zip(forms, texts, strict=True)):
            self.rows[number].set_form(form, text, striped=number % 2 == 0)
        self._shown = len(forms)
        for number, row in enumerate(self.rows):
            row.setVisible(number < self._shown)
        self._set_current(min(self._current, max(0, self._shown - 1)))
        self._arrange()

    def least_height(self, width: int) -> int:
        return self.body_top + self.bar.height() + theme.px(HEAD + 14) + LEAST_ROWS * theme.px(ROW)

    def _add_row(self) -> None:
        row, number = FormRow(self._page), len(self.rows)
        row.explained.connect(self.explained)
        row.stepped.connect(lambda by: self._step(number + by))
        QWidget.setTabOrder(self.rows[-1] if self.rows else self.bar, row)
        self.rows.append(row)

    def _step(self, to: int) -> None:
        wanted = min(max(to, 0), self._shown - 1)
        self._set_current(wanted)
        self.rows[wanted].setFocus(Qt.FocusReason.OtherFocusReason)
        self._scroll.ensureWidgetVisible(self.rows[wanted], 0, theme.px(ROW))

    def _set_current(self, number: int) -> None:
        """Let Tab reach one row of the table only."""
        self._current = number
        for place, row in enumerate(self.rows):
            row.setFocusPolicy(Qt.FocusPolicy.StrongFocus if place == number else Qt.FocusPolicy.ClickFocus)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        pad = theme.px(PAD)
        self.bar.setGeometry(pad, self.body_top, self.width() - 2 * pad, self.bar.height())
        top = self._table_top()
        self._scroll.setGeometry(1, top, self.width() - 2, max(0, self.height() - top - theme.px(6)))
        width = self._scroll.width() - theme.px(11)
        self._page.resize(width, self._shown * theme.px(ROW))
        for number, row in enumerate(self.rows[: self._shown]):
            row.setGeometry(0, number * theme.px(ROW), width, theme.px(ROW))

    def _table_top(self) -> int:
        return self.body_top + self.bar.height() + theme.px(HEAD + 4)

    def paint_body(self, painter: QPainter) -> None:
        colours, columns = theme.colours(), form_columns(self.width() - 2 - theme.px(11))
        top, height = self.body_top + self.bar.height() + theme.px(4), theme.px(HEAD)
        places = (columns.symbol, columns.words, columns.amount, columns.charge, columns.share)
        for number, (words, (left, width)) in enumerate(zip(say.form_columns(), places, strict=True)):
            align = paint.LEFT if number < 2 else paint.RIGHT
            paint.text(painter, QRectF(left + 1, top, width, height), words, theme.small(), colours.muted, align)
        pad = theme.px(PAD)
        painter.fillRect(QRectF(pad, self._table_top() - 1, self.width() - 2 * pad, 1), colours.line)


def _explanation(form: Form, forms: tuple[Form, ...]) -> str:
    from core.chemistry.provenance import conductivity_of, formation_of

    share = None
    if form.of and not form.name.startswith("inert"):
        total = next((one for one in say.FIRST_OF_A_PAIR if one in form.of), form.of[0])
        share = (total, form.percent_of(total, forms))
    return say.form_explanation(form, share, formation_of(form.name), conductivity_of(form.name))
