"""The salts: grams for one tank first, then what they mean for the feed."""

from __future__ import annotations

from itertools import pairwise

from msgspec import structs
from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.session import changes
from app.session.session import Session
from app.surfaces.design.goal_foot import GoalFoot
from app.surfaces.design.salt_lines import salt_lines
from app.surfaces.design.salt_row import SaltColumns, SaltLine, SaltRow, salt_columns
from app.widgets import paint, theme
from app.widgets.afterwards import afterwards
from app.widgets.card import PAD, Card
from app.widgets.change_marks import ChangeMarks
from app.widgets.choice import Choice
from app.widgets.link_button import LinkButton
from app.widgets.reading import Reading, read_plain
from app.wording import goals as of_goals
from app.wording import surfaces as say
from core.plan.records import Plan
from core.recipe import RecipeError
from core.recipe.records import Recipe

LEAST_ROW, MOST_ROW = 25, 36
LEAST_TWO_LINES, MOST_TWO_LINES = 40, 44
LINK, FOOT = 30, 6
FOOT_BESIDE_FROM = 480
"""Narrower cards give the foot a line of its own."""


class SaltsCard(Card):
    """Keeps one row per shelf entry; rows move, they are not made anew.

    Signals
    -------
    height_changed : the card needs another height.
    editor_wanted : the sheet a button leads to.
    """

    height_changed = Signal()
    editor_wanted = Signal(str)

    def __init__(self, parent: QWidget, session: Session) -> None:
        super().__init__(parent, say.salts_title())
        self._session = session
        self.rows: dict[str, SaltRow] = {}
        self._marks = ChangeMarks(self, session.edits)
        session.opened.connect(self._marks.forget)
        self._used: tuple[str, ...] = ()
        self._unused: tuple[str, ...] = ()
        self._most_used = 0
        self._goal = ""
        self._name_px = self._place_px = 0
        self.goal = Choice(self, of_goals.goal_name(), of_goals.goals())
        self.goal.chosen.connect(self._set_goal)
        self.foot = GoalFoot(self, session)
        self.foot.prices_wanted.connect(lambda: self.editor_wanted.emit("shelf"))
        self.foot.why_wanted.connect(lambda: self.editor_wanted.emit("why"))
        self.unused_link = LinkButton(self, unfolds=True)
        self.unused_link.toggled.connect(self._unfold)
        self.unused_link.hide()

    def show_plan(self, recipe: Recipe, plan: Plan) -> None:
        """Show the plan."""
        if recipe.goal != self._goal:
            self._goal = recipe.goal
            self.goal.set_key(recipe.goal)
            self.goal.setToolTip(of_goals.goal_tip(recipe.goal))
        self.foot.show_plan(recipe, plan)
        before = (self._used, self._unused, self._name_px, self._place_px)
        lines = salt_lines(recipe, plan)
        self._keep_rows_of(lines)
        for line in lines:
            self.rows[line.entry_id].show_line(line)
        self._name_px = max((row.name_width() for row in self.rows.values()), default=0)
        self._place_px = max((self._place_px, *(row.place_width() for row in self.rows.values())))
        self._used = tuple(line.entry_id for line in lines if line.used)
        self._unused = tuple(line.entry_id for line in lines if not line.used)
        self._most_used = max(self._most_used, len(self._used))
        self._marks.tell(self.rows, {line.entry_id: line.weight for line in lines})
        if (self._used, self._unused, self._name_px, self._place_px) != before:
            self._rearrange()

    def shown(self) -> tuple[str, ...]:
        """Return the entries shown, from the top."""
        return (*self._used, *self._unused) if self.unused_link.isChecked() else self._used

    def least_height(self, width: int) -> int:
        return self._height_with(LEAST_ROW if self._columns(width).one_line else LEAST_TWO_LINES, width)

    def most_height(self, width: int) -> int:
        return self._height_with(MOST_ROW if self._columns(width).one_line else MOST_TWO_LINES, width)

    def _columns(self, width: int) -> SaltColumns:
        return salt_columns(width, self._name_px, self._place_px)

    def _height_with(self, row: int, width: int) -> int:
        return self.body_top + self._foot(width) + theme.px(row) * self._reserved()

    def _foot(self, width: int) -> int:
        """Return the room below the rows [px]."""
        return theme.px(FOOT + LINK + (0 if width >= theme.px(FOOT_BESIDE_FROM) else LINK + FOOT))

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
        row = SaltRow(self, entry_id, lambda text: self._read(entry_id, text))
        row.field.typed.connect(lambda value: self._edit(row, value))
        row.field.stepped.connect(lambda by: self._step(entry_id, by))
        return row

    def _read(self, entry_id: str, text: str) -> Reading:
        """Understand an amount: mg/L of feed, or what is weighed for one tank."""
        from core.bench.typed_amount import typed_amount  # first needed when somebody types

        recipe = self._session.recipe
        entry = None if recipe is None else changes.entry_of(recipe, entry_id)
        if recipe is None or entry is None:
            return read_plain(text)
        return Reading(*typed_amount(text, recipe, entry))

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

    def _set_goal(self, goal: str) -> None:
        recipe = self._session.recipe
        if recipe is not None:
            self._session.push(of_goals.goal_edit(goal), ("goal",), structs.replace(recipe, goal=goal))

    def _unfold(self) -> None:
        self._rearrange()
        self.height_changed.emit()

    def _rearrange(self) -> None:
        shown = self.shown()
        for entry_id, row in self.rows.items():
            if row.isHidden() == (entry_id in shown):
                row.setVisible(entry_id in shown)
        afterwards(self, self._order_by_tab)
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
        last = self.rows[self._unused[-1]].field if self._unused else self.unused_link
        for before, after in pairwise([last, self.foot.button, self.foot.why]):
            QWidget.setTabOrder(before, after)

    def _arrange(self) -> None:
        shown, columns = self.shown(), self._columns(self.width())
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
        self._place_goal()

    def _place_goal(self) -> None:
        """Put the goal behind the title, and what is said of it at the foot, beside the count where there is room."""
        pad = theme.px(PAD)
        left = self.link.geometry().right() + theme.px(8) if self.link is not None else pad + theme.px(60)
        self.goal.setGeometry(left, theme.px(7), self.goal.sizeHint().width(), self.goal.height())
        beside = self.width() >= theme.px(FOOT_BESIDE_FROM)
        left = self.unused_link.geometry().right() + theme.px(10) if beside and self._unused else pad
        tall = theme.px(34 if self.height() - self.unused_link.y() >= theme.px(34) else 28)
        with_count = beside and self._unused and not self.unused_link.isChecked()
        top = self.unused_link.y() + theme.px(13) - tall // 2 if with_count else self.height() - tall - theme.px(3)
        self.foot.setGeometry(left, top, self.width() - pad - left + theme.px(4), tall)

    def _row_height(self, one_line: bool) -> int:
        """Return a height that hardly depends on what is used just now, so that rows keep still while one types."""
        least, most = (LEAST_ROW, MOST_ROW) if one_line else (LEAST_TWO_LINES, MOST_TWO_LINES)
        room = self.height() - self.body_top - self._foot(self.width())
        return min(theme.px(most), max(theme.px(least), room // max(1, self._reserved())))

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def paint_head(self, painter: QPainter) -> None:
        colours, columns = theme.colours(), self._columns(self.width())
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
