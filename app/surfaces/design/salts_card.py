"""The salts: grams for one tank first, then what they mean for the feed."""

from __future__ import annotations

from itertools import pairwise

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.session import changes
from app.session.session import Session
from app.surfaces.design.salt_lines import salt_lines
from app.surfaces.design.salt_row import SaltLine, SaltRow, salt_columns
from app.widgets import paint, theme
from app.widgets.card import PAD, Card
from app.widgets.link_button import LinkButton
from app.wording import surfaces as say
from core.plan.records import Plan
from core.recipe import RecipeError
from core.recipe.records import Recipe

LEAST_ROW, MOST_ROW = 25, 36
LEAST_TWO_LINES, MOST_TWO_LINES = 40, 44
LINK, FOOT = 30, 6


class SaltsCard(Card):
    """Keeps one row per shelf entry; rows move, they are not made anew.

    Signals
    -------
    height_changed : the card needs another height.
    """

    height_changed = Signal()

    def __init__(self, parent: QWidget, session: Session) -> None:
        super().__init__(parent, say.salts_title())
        self._session = session
        self.rows: dict[str, SaltRow] = {}
        self._used: tuple[str, ...] = ()
        self._unused: tuple[str, ...] = ()
        self._most_used = 0
        self.unused_link = LinkButton(self, unfolds=True)
        self.unused_link.toggled.connect(self._unfold)
        self.unused_link.hide()

    def show_plan(self, recipe: Recipe, plan: Plan) -> None:
        """Show the plan."""
        before = (self._used, self._unused)
        lines = salt_lines(recipe, plan)
        self._keep_rows_of(lines)
        for line in lines:
            self.rows[line.entry_id].show_line(line)
        self._used = tuple(line.entry_id for line in lines if line.used)
        self._unused = tuple(line.entry_id for line in lines if not line.used)
        self._most_used = max(self._most_used, len(self._used))
        if (self._used, self._unused) != before:
            self._rearrange()

    def shown(self) -> tuple[str, ...]:
        """Return the entries shown, from the top."""
        return (*self._used, *self._unused) if self.unused_link.isChecked() else self._used

    def least_height(self, width: int) -> int:
        return self._height_with(LEAST_ROW if salt_columns(width).one_line else LEAST_TWO_LINES)

    def most_height(self, width: int) -> int:
        return self._height_with(MOST_ROW if salt_columns(width).one_line else MOST_TWO_LINES)

    def _height_with(self, row: int) -> int:
        return self.body_top + theme.px(FOOT + LINK) + theme.px(row) * self._reserved()

    def _reserved(self) -> int:
        """Return the rows there is room for: as many as this shelf ever used, so that typing moves no card."""
        return self._most_used + (len(self._unused) if self.unused_link.isChecked() else 0)

    def _keep_rows_of(self, lines: tuple[SaltLine, ...]) -> None:
        known = {line.entry_id for line in lines}
        if known != set(self.rows):
            self._most_used = 0
        for entry_id in [entry_id for entry_id in self.rows if entry_id not in known]:
            row = self.rows.pop(entry_id)
            row.hide()
            row.deleteLater()
        for line in lines:
            if line.entry_id not in self.rows:
                self.rows[line.entry_id] = self._new_row(line.entry_id)

    def _new_row(self, entry_id: str) -> SaltRow:
        row = SaltRow(self, entry_id)
        row.field.typed.connect(lambda value: self._edit(row, value))
        row.field.stepped.connect(lambda by: self._step(entry_id, by))
        return row

    def _edit(self, row: SaltRow, mg_per_l: float | None) -> None:
        recipe = self._session.recipe
        if recipe is None:
            return
        changed = changes.with_exact_amount(recipe, row.entry_id, mg_per_l)
        try:
            self._session.push(say.amount_edit(row.product), ("shelf", row.entry_id), changed)
        except RecipeError as error:
            row.field.refuse(say.refused_value(error.what))

    def _step(self, entry_id: str, by: int) -> None:
        shown = self.shown()
        wanted = shown.index(entry_id) + by
        if 0 <= wanted < len(shown):
            self.rows[shown[wanted]].field.setFocus(Qt.FocusReason.TabFocusReason)

    def _unfold(self) -> None:
        self._rearrange()
        self.height_changed.emit()

    def _rearrange(self) -> None:
        shown = self.shown()
        for entry_id, row in self.rows.items():
            row.setVisible(entry_id in shown)
        self._order_by_tab()
        self.unused_link.setVisible(bool(self._unused))
        self.unused_link.set_text(say.unused_line(len(self._unused)))
        self._arrange()

    def _order_by_tab(self) -> None:
        """Let the keyboard walk the rows as they stand, the link after what it counts, the unused after the link."""
        fields = [self.rows[entry_id].field for entry_id in (*self._used, *self._unused)]
        for before, after in pairwise([self.unused_link, *fields]):
            QWidget.setTabOrder(before, after)
        if self._used:
            QWidget.setTabOrder(self.rows[self._used[-1]].field, self.unused_link)

    def _arrange(self) -> None:
        shown, columns = self.shown(), salt_columns(self.width())
        link = theme.px(LINK) if self._unused else 0
        each = self._row_height(columns.one_line)
        top = self.body_top
        for number, entry_id in enumerate(shown):
            if number == len(self._used):
                top += link
            row = self.rows[entry_id]
            row.place(top, self.width(), each, striped=number % 2 == 0)
            row.arrange(columns)
            top += each
        link_top = self.body_top + each * len(self._used) + theme.px(3)
        self.unused_link.move(theme.px(PAD) - theme.px(6), link_top)

    def _row_height(self, one_line: bool) -> int:
        """Return a height that hardly depends on what is used just now, so that rows keep still while one types."""
        least, most = (LEAST_ROW, MOST_ROW) if one_line else (LEAST_TWO_LINES, MOST_TWO_LINES)
        room = self.height() - self.body_top - theme.px(LINK + FOOT)
        return min(theme.px(most), max(theme.px(least), room // max(1, self._reserved())))

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def paint_head(self, painter: QPainter) -> None:
        colours, columns = theme.colours(), salt_columns(self.width())
        weight, field, place, brings = say.salts_columns()
        cells = [(weight, columns.weight, paint.RIGHT), (field, columns.field, paint.RIGHT)]
        if columns.one_line:
            cells += [(place, columns.place, paint.LEFT), (brings, columns.brings, paint.LEFT)]
        for words, (left, width), align in cells:
            inset = theme.px(6) if words == field else 0
            overhang = theme.px(20) if align == paint.RIGHT else 0
            spot = QRectF(left - overhang, 1, width + overhang - inset, self.body_top)
            paint.text(painter, spot, words, theme.small(), colours.muted, align)
        line = QRectF(theme.px(PAD), self.body_top - 1, self.width() - 2 * theme.px(PAD), 1)
        painter.fillRect(line, colours.line)
