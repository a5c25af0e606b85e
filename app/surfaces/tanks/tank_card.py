"""One concentrate in full: how to pour it, whether it stays clear, what is near settling, what is in it."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.surfaces.contents import content_lines
from app.surfaces.tank_marks import paint_verdict, place_colour, verdict_text
from app.surfaces.tanks.content_row import ContentRow, RowContent
from app.surfaces.tanks.near_bars import NearBars
from app.widgets import paint, theme
from app.widgets.card import PAD, Card
from app.wording import figures, tank_title
from app.wording import tanks as say
from core.plan.records import Plan, Tank
from core.recipe.records import Recipe

LINE, ROW, GAP, FOOT = 21, 27, 10, 8
TEXT_LINES = 3
"""How to pour it, verdict, facts; one more where something settles."""


class TankCard(Card):
    """Shows one tank; `connect_row` gets every row it makes."""

    def __init__(self, parent: QWidget, number: int, connect_row: Callable[[ContentRow, TankCard], None]) -> None:
        super().__init__(parent, "")
        self.letter = ""
        self._number = number
        self._tank: Tank | None = None
        self._connect_row = connect_row
        self._target = False
        self._poured = ""
        self.near = NearBars(self)
        self.rows: dict[str, ContentRow] = {}
        self.shown: tuple[str, ...] = ()

    def show_tank(
        self,
        recipe: Recipe,
        plan: Plan,
        tank: Tank,
        came: Mapping[tuple[str, str], str],
        leader: Callable[[str], str],
    ) -> None:
        """Show this tank of the plan.

        `came`: (letter, entry) of what the last edit moved -> content it came from. `leader` names the product whose
        move pinned an entry along, or nothing.
        """
        self._tank, self.letter = tank, tank.name
        self.set_title(figures.capital(tank_title(tank.content)))
        self.set_aside(figures.tank_volume(tank.volume_l))
        self._poured = say.poured(tank.ml_per_l, _fl_oz(tank.ratio))
        coldest = recipe.tanks.temperature_c if recipe.tanks.coldest_c is None else recipe.tanks.coldest_c
        self.near.show_tank(tank, min(coldest, recipe.tanks.temperature_c), place_colour(self._number))
        self._show_rows(recipe, plan, tank, came, leader)
        words = (verdict_text(tank), say.comes_out(tank), say.strongest(tank), say.facts(tank), self.near.words())
        self.setAccessibleDescription(". ".join(word.strip(". ") for word in words if word))
        self.update()

    def _show_rows(
        self,
        recipe: Recipe,
        plan: Plan,
        tank: Tank,
        came: Mapping[tuple[str, str], str],
        leader: Callable[[str], str],
    ) -> None:
        shares = {amount.entry_id: amount.shares.get(tank.name, 1.0) for amount in plan.amounts}
        lines = content_lines(recipe, tank.contents)
        reasons = tank.reasons or ("",) * len(lines)
        order = tuple(content.entry_id for content in tank.contents)
        for entry_id in self.rows.keys() - set(order):
            gone = self.rows.pop(entry_id)
            gone.hide()
            gone.deleteLater()
        for content, line, code in zip(tank.contents, lines, reasons, strict=True):
            key = content.entry_id
            pinned = recipe.tanks.pins.get(key) == tank.name
            source = None if pinned else came.get((tank.name, key))
            led_by = leader(key) if pinned else ""
            words = say.brought_along(led_by) if led_by else say.moved_reason(source, code)
            row = RowContent(key, line, shares.get(key, 1.0), pinned, words, source is not None)
            self._row(key).show_content(row)
        self.shown = order
        self._arrange()

    def _row(self, entry_id: str) -> ContentRow:
        if entry_id not in self.rows:
            row = self.rows[entry_id] = ContentRow(self, entry_id)
            row.stepped.connect(lambda by: self._step(entry_id, by))
            self._connect_row(row, self)
            row.show()
        return self.rows[entry_id]

    def set_target(self, target: bool) -> None:
        """Mark the tank a dragged salt would go into."""
        if target != self._target:
            self._target = target
            self.update()

    def _step(self, entry_id: str, by: int) -> None:
        wanted = min(max(self.shown.index(entry_id) + by, 0), len(self.shown) - 1)
        self.rows[self.shown[wanted]].setFocus(Qt.FocusReason.TabFocusReason)

    def least_height(self, width: int) -> int:
        return self._rows_top() + theme.px(ROW) * len(self.shown) + theme.px(FOOT)

    def _near_top(self) -> int:
        lines = TEXT_LINES + (self._tank is not None and bool(self._tank.settling))
        return self.body_top + theme.px(lines * LINE + GAP - 4)

    def _rows_top(self) -> int:
        return self._near_top() + self.near.tall() + theme.px(GAP)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        self.near.setGeometry(0, self._near_top(), self.width(), self.near.tall())
        for number, key in enumerate(self.shown):
            top = self._rows_top() + number * theme.px(ROW)
            self.rows[key].setGeometry(1, top, self.width() - 2, theme.px(ROW))

    def paint_body(self, painter: QPainter) -> None:
        tank = self._tank
        if tank is None:
            return
        colours, pad, each = theme.colours(), theme.px(PAD), theme.px(LINE)
        line = QRectF(pad, self.body_top - theme.px(4), self.width() - 2 * pad, each)
        paint.text(painter, line, self._poured, theme.font(), colours.text)
        verdict = line.translated(0, each)
        taken = theme.font(12, strong=True).width(verdict_text(tank)) + theme.px(26)
        beside = verdict.adjusted(0, 0, -taken, 0)
        words = say.comes_out(tank) or _strongest(tank, beside.width())
        paint.text(painter, beside, words, theme.small(), colours.muted)
        paint_verdict(painter, verdict, tank)
        below = [_strongest(tank, line.width()), say.facts(tank)] if tank.settling else [say.facts(tank)]
        for number, words in enumerate(below, start=1):
            paint.text(painter, verdict.translated(0, number * each), words, theme.small(), colours.muted)
        top = self._rows_top() - theme.px(GAP / 2)
        painter.fillRect(QRectF(pad, top, line.width(), 1), colours.line)
        if self._target:
            paint.focus_ring(painter, QRectF(self.rect()), colours.accent, theme.px(theme.RADIUS))


def _strongest(tank: Tank, room: float) -> str:
    """How strong a tank may be made, with what sets it where there is room for that."""
    words = say.strongest(tank)
    return words if theme.small().width(words) <= room else say.strongest(tank, named=False)


def _fl_oz(ratio: float) -> float:
    from core.bench.quantities import fl_oz_per_us_gallon_of_feed

    return fl_oz_per_us_gallon_of_feed(ratio)
