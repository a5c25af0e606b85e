"""The weights of one tank as rows to tick, and below them how the tank is poured."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.surfaces.weighout.bench_sheet import Line, TankSheet
from app.surfaces.weighout.weigh_row import WeighRow
from app.widgets import paint, theme
from app.widgets.card import PAD, Card
from app.widgets.laid_card import Text
from app.wording import figures

FOOT = 12


class WeighCard(Card):
    """Keeps a row per product; `connect_row` gets every row it makes."""

    def __init__(self, parent: QWidget, connect_row: Callable[[WeighRow], None]) -> None:
        super().__init__(parent, "")
        self._connect_row = connect_row
        self._kept: list[WeighRow] = []
        self.rows: list[WeighRow] = []
        self._foot = Text(self, 12, role="muted")

    def show_tank(self, tank: TankSheet, lines: tuple[Line, ...], now: tuple[str, str] | None) -> None:
        """Show this tank's weights; `now` is the place of the large one."""
        self.set_title(figures.capital(tank.title))
        self.set_aside(tank.volume)
        self._foot.say(tank.dose)
        while len(self._kept) < len(lines):
            row = WeighRow(self)
            self._connect_row(row)
            self._kept.append(row)
        self.rows = self._kept[: len(lines)]
        for row, line in zip(self.rows, lines, strict=True):
            row.show_line(line, now=line.item.place == now)
        for number, row in enumerate(self._kept):
            row.setVisible(number < len(lines))
        for before, after in pairwise(self.rows):
            QWidget.setTabOrder(before, after)
        self._arrange()

    def least_height(self, width: int) -> int:
        return self.body_top + sum(row.height_for(width) for row in self.rows) + self._foot_height(width)

    def _foot_height(self, width: int) -> int:
        return self._foot.heightForWidth(width - 2 * theme.px(PAD)) + 2 * theme.px(FOOT)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        top, pad = self.body_top, theme.px(PAD)
        for row in self.rows:
            tall = row.height_for(self.width())
            row.setGeometry(0, top, self.width(), tall)
            top += tall
        foot = self._foot_height(self.width())
        self._foot.setGeometry(pad, top + theme.px(FOOT), self.width() - 2 * pad, foot - 2 * theme.px(FOOT))

    def paint_body(self, painter: QPainter) -> None:
        pad = theme.px(PAD)
        line = QRectF(pad, self._foot.y() - theme.px(FOOT), self.width() - 2 * pad, 1)
        painter.fillRect(line, theme.colours().line)

    def paint_head(self, painter: QPainter) -> None:
        done = sum(row.line.done for row in self.rows)
        words = f"{done}/{len(self.rows)}"
        pad = theme.px(PAD)
        left = pad + theme.title().width(self._title) + theme.px(10)
        place = QRectF(left, 0, theme.small().width(words) + 2, self.body_top)
        paint.text(painter, place, words, theme.small(), theme.colours().muted)
