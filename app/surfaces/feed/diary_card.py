"""The last entries of the chosen reservoir, the newest first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget

from app.widgets import paint, theme
from app.widgets.card import PAD, Card
from app.wording import feed_cards as say

if TYPE_CHECKING:
    from core.logbook.records import Reservoir
    from core.units.formats import System

LINE, SHOWN, DAY, READ = 24, 5, 52, 108


class DiaryCard(Card):
    """Day, what was read, what was done."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, say.diary_title())
        self._lines: list[tuple[str, str, str]] = []
        self._blank = say.diary_empty(False)

    def show_reservoir(self, reservoir: Reservoir | None, system: System) -> None:
        """Show a reservoir's last entries."""
        entries = () if reservoir is None else reservoir.entries
        self._lines = [say.entry_parts(entry, system) for entry in reversed(entries[-SHOWN:])]
        self._blank = say.diary_empty(reservoir is not None)
        self.set_aside("" if reservoir is None else reservoir.name)
        spoken = "; ".join(", ".join(part for part in line if part) for line in self._lines)
        self.setAccessibleDescription(spoken or self._blank)
        self.update()

    def lines(self) -> list[tuple[str, str, str]]:
        """Return what is shown."""
        return self._lines

    def least_height(self, width: int) -> int:
        del width
        return self.body_top + theme.px(LINE) * max(len(self._lines), 3) + theme.px(14)

    def paint_body(self, painter: QPainter) -> None:
        colours, pad, line = theme.colours(), theme.px(PAD), theme.px(LINE)
        inner, top = self.width() - 2 * pad, self.body_top
        if not self._lines:
            place = QRectF(pad, top, inner, self.height() - top)
            paint.paragraph(painter, place, self._blank, theme.font(12.5), colours.muted)
            return
        fits = max(1, (self.height() - top - theme.px(6)) // line)
        for day, read, done in self._lines[:fits]:
            left, wide = pad + theme.px(DAY), theme.px(READ)
            paint.text(painter, QRectF(pad, top, theme.px(DAY), line), day, theme.font(12.5), colours.muted)
            paint.text(painter, QRectF(left, top, wide, line), read, theme.font(12.5, strong=True), colours.text)
            rest = QRectF(left + wide + theme.px(6), top, inner - theme.px(DAY) - wide - theme.px(6), line)
            paint.text(painter, rest, done, theme.font(12.5), colours.muted, paint.RIGHT)
            top += line
