"""One dissolved form as a row: symbol, what it is, amount, charge, share of the conductivity."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import QRect, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter
from PySide6.QtWidgets import QWidget

from app.surfaces.chemistry.explained import Explained
from app.widgets import paint, theme
from app.wording import chemistry as say
from app.wording import figures, format_short

if TYPE_CHECKING:
    from core.plan.chemistry_details import Form

ROW = 25
Column = tuple[int, int]


class FormColumns(NamedTuple):
    """Left edge and width of each column [px]."""

    symbol: Column
    words: Column
    amount: Column
    charge: Column
    share: Column
    bar: Column


def form_columns(width: int) -> FormColumns:
    """Return the columns of a table this wide."""
    pad = theme.px(14)
    inner = width - 2 * pad
    symbol, number = theme.px(86), theme.px(65)
    share = theme.px(64)
    bar = max(0, min(theme.px(110), inner - symbol - 2 * number - share - theme.px(166)))
    words = inner - symbol - 2 * number - share - bar
    edges, left = [], pad
    for wide in (symbol, words, number, number, share, bar):
        edges.append((left, wide))
        left += wide
    return FormColumns(*edges)


class FormRow(Explained):
    """Paints its own ground; Up and Down lead to its neighbours.

    Signals
    -------
    stepped : by how many rows the keyboard wants to move.
    """

    stepped = Signal(int)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._form: Form | None = None
        self._striped = False
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def set_form(self, form: Form, explanation: str, striped: bool) -> None:
        """Show this form."""
        self._form, self._striped = form, striped
        self.setAccessibleName(say.form_row_name(form))
        self.explain(explanation)
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {
            Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1, Qt.Key.Key_PageDown: 10, Qt.Key.Key_PageUp: -10,
            Qt.Key.Key_Home: -999, Qt.Key.Key_End: 999,
        }  # fmt: skip
        by = steps.get(Qt.Key(event.key()))
        if by is None:
            super().keyPressEvent(event)
        else:
            self.stepped.emit(by)

    def paintEvent(self, _event: object) -> None:
        form, colours, painter = self._form, theme.colours(), QPainter(self)
        ground = colours.hover if self.underMouse() else colours.zebra if self._striped else colours.card
        painter.fillRect(self.rect(), ground)
        if form is None:
            return
        columns, height = form_columns(self.width()), self.height()
        cells = (
            (columns.symbol, say.form_symbol(form.name, form.charge), theme.font(13, strong=True), True, paint.LEFT),
            (columns.words, say.form_words(form), theme.small(), False, paint.LEFT),
            (columns.amount, format_short(form.mmol_per_l), theme.font(), True, paint.RIGHT),
            (columns.charge, _charge(form), theme.font(), False, paint.RIGHT),
            (
                columns.share,
                say.percent(form.ec_percent) if form.charge else figures.DASH,
                theme.font(),
                True,
                paint.RIGHT,
            ),
        )
        for (left, width), words, font, strong, align in cells:
            place = QRectF(left, 0, width - (theme.px(6) if align == paint.LEFT else 0), height)
            paint.text(painter, place, words, font, colours.text if strong else colours.muted, align)
        self._paint_bar(painter, form, QRect(columns.bar[0], 0, columns.bar[1], height))
        if self.hasFocus():
            paint.focus_ring(painter, QRectF(self.rect()), colours.focus, theme.px(4))

    def _paint_bar(self, painter: QPainter, form: Form, place: QRect) -> None:
        colours, left = theme.colours(), place.left() + theme.px(10)
        full = place.width() - theme.px(10)
        wide = full * min(1.0, form.ec_percent / 50.0)
        if wide >= 0.5:
            fill = (colours.cations if form.charge > 0 else colours.anions)[0][0]
            thick = theme.px(6)
            painter.fillRect(QRectF(left, (place.height() - thick) / 2, wide, thick), fill)


def _charge(form: Form) -> str:
    return format_short(form.meq_per_l) if form.charge else figures.DASH
