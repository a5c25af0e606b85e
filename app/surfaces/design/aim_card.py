"""The aim: one row per nutrient, target beside what the feed reaches."""

from __future__ import annotations

from collections.abc import Container

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.session import changes
from app.session.session import Session
from app.surfaces.design.aim_row import AimColumns, AimRow, aim_columns
from app.widgets import paint, theme
from app.widgets.card import PAD, Card
from app.widgets.change_marks import ChangeMarks
from app.wording import editors as edit_words
from app.wording import surfaces as say
from core.plan.records import NutrientRow, Plan
from core.recipe import RecipeError
from core.recipe.records import NUTRIENTS, Recipe, Target

ALWAYS_SHOWN = ("N", "NH4-N", "P", "K", "Ca", "Mg", "S", "Fe", "Mn", "Zn", "B", "Cu", "Mo", "Na", "Cl")
LEAST_ROW, MOST_ROW = 28, 44
FOOT = 8
LEGEND_FROM = 136
HEAD_OVER = 20
"""How far the head over the feed's figures reaches over the bars beside them."""


class AimCard(Card):
    """Keeps one row per nutrient for good and only changes what they show."""

    def __init__(self, parent: QWidget, session: Session) -> None:
        super().__init__(parent, say.aim_title())
        self._session = session
        self._marks = ChangeMarks(self, session.edits)
        session.opened.connect(self._marks.forget)
        self.rows = {nutrient: AimRow(self, nutrient) for nutrient in NUTRIENTS}
        self._shown: tuple[str, ...] = ALWAYS_SHOWN
        for row in self.rows.values():
            self._wire(row)
            row.setVisible(row.nutrient in self._shown)

    def show_plan(self, recipe: Recipe, plan: Plan) -> None:
        """Show the plan."""
        before = self._shown
        lines = {line.nutrient: line for line in plan.rows}
        targets: dict[str, Target] = {target.nutrient: target for target in recipe.aim.targets}
        asked = {*targets, *(limit.nutrient for limit in recipe.aim.limits)}
        self._shown = tuple(name for name in NUTRIENTS if name in lines and _matters(lines[name], asked))
        self._marks.tell(self.rows, {name: self.rows[name].feed_text(line) for name, line in lines.items()})
        for name in self._shown:
            self.rows[name].show_row(lines[name], targets.get(name))
        if self._shown != before:
            for name, row in self.rows.items():
                if row.isHidden() == (name in self._shown):
                    row.setVisible(name in self._shown)
            self._arrange()

    def least_height(self, width: int) -> int:
        return self._height_with(LEAST_ROW)

    def most_height(self, width: int) -> int:
        return self._height_with(MOST_ROW)

    def _height_with(self, row: int) -> int:
        return self.body_top + theme.px(FOOT) + theme.px(row) * len(self._shown)

    def _wire(self, row: AimRow) -> None:
        row.field.typed.connect(lambda value: self._edit(row, value))
        row.field.left.connect(lambda: self._remember(row))
        row.field.stepped.connect(lambda by: self._step(row.nutrient, by))

    def _edit(self, row: AimRow, mg_per_l: float | None) -> None:
        recipe = self._session.recipe
        if recipe is None:
            return
        changed = changes.with_target(recipe, row.nutrient, mg_per_l, row.like)
        try:
            self._session.push(say.target_edit(row.nutrient), ("aim", row.nutrient), changed)
        except RecipeError as error:
            row.field.refuse(say.refused_value(error.what))

    def _remember(self, row: AimRow) -> None:
        if self._session.recipe is not None:
            row.like = changes.target_of(self._session.recipe, row.nutrient)

    def _step(self, nutrient: str, by: int) -> None:
        wanted = self._shown.index(nutrient) + by
        if 0 <= wanted < len(self._shown):
            self.rows[self._shown[wanted]].field.setFocus(Qt.FocusReason.TabFocusReason)

    def _arrange(self) -> None:
        columns = aim_columns(self.width())
        self._place_link(columns)
        top = self.body_top
        room = self.height() - top - theme.px(FOOT)
        each = max(1, room // max(1, len(self._shown)))
        for number, name in enumerate(self._shown):
            row = self.rows[name]
            row.place(top + number * each, self.width(), each, striped=number % 2 == 0)
            row.arrange(columns)

    def _place_link(self, columns: AimColumns) -> None:
        """Put the link between the title and the heads of the columns, or where it does not fit over the bars."""
        if self.link is None:
            return
        self.link.set_text(edit_words.link("aim"))
        after_title = theme.px(PAD) + theme.title().width(self._title) + theme.px(4)
        fits = after_title + self.link.sizeHint().width() <= self._head_left(columns)
        left = after_title if fits else columns.bar[0]
        room = self.width() if fits else columns.bar[1] - theme.px(HEAD_OVER)
        if self.link.sizeHint().width() > room:
            self.link.set_text(edit_words.brief_crop_link())
        self.link.setGeometry(left, self.link.y(), min(self.link.sizeHint().width(), room), self.link.height())

    def _head_left(self, columns: AimColumns) -> int:
        """Return where the head over the targets begins [px]."""
        return sum(columns.field) - theme.px(6) - theme.small().width(say.aim_columns()[0])

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def paint_head(self, painter: QPainter) -> None:
        colours, columns = theme.colours(), aim_columns(self.width())
        target, water, wanted, feed = say.aim_columns()
        height = self.body_top
        cells = {
            target: (columns.field[0], columns.field[1] - theme.px(6), paint.RIGHT),
            feed: (columns.feed[0] - theme.px(HEAD_OVER), columns.feed[1] + theme.px(HEAD_OVER), paint.RIGHT),
        }
        for words, (left, width, align) in cells.items():
            paint.text(painter, QRectF(left, 1, width, height), words, theme.small(), colours.muted, align)
        self._paint_legend(painter, QRectF(columns.bar[0], 1, columns.bar[1], height), water, wanted)
        painter.fillRect(QRectF(theme.px(PAD), height - 1, self.width() - 2 * theme.px(PAD), 1), colours.line)

    def _paint_legend(self, painter: QPainter, place: QRectF, water: str, wanted: str) -> None:
        if place.width() < theme.px(LEGEND_FROM) or (self.link is not None and self.link.x() >= place.left()):
            return
        colours, font, left = theme.colours(), theme.small(), place.left() + theme.px(6)
        swatches = 2 * theme.px(14 + 5) + font.width(water) + theme.px(12) + font.width(wanted)
        if left + swatches > place.right():
            return
        for words, fill in ((water, colours.water), (wanted, colours.wanted)):
            swatch = QRectF(left, place.center().y() - theme.px(4), theme.px(14), theme.px(8))
            paint.panel(painter, swatch, fill, None, theme.px(2))
            room = QRectF(swatch.right() + theme.px(5), place.top(), theme.px(90), place.height())
            paint.text(painter, room, words, font, colours.muted)
            left = room.left() + max(font.width(words) + theme.px(12), theme.px(55))


def _matters(line: NutrientRow, asked: Container[str]) -> bool:
    silicon = line.nutrient == "Si" and line.feed_mg_per_l > 0
    return line.nutrient in ALWAYS_SHOWN or line.target_mg_per_l is not None or line.nutrient in asked or silicon
