"""One concentrate in full."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.surfaces.contents import ContentLine, content_lines, paint_line
from app.surfaces.design.salt_row import place_colour
from app.surfaces.design.tanks_card import limit_text, paint_verdict, verdict_text, worst_verdict
from app.widgets import paint, theme
from app.widgets.card import PAD, Card
from app.widgets.tank_bar import TankBar
from app.wording import figures, tank_title
from app.wording import surfaces as say
from app.wording.phrases import dilution_text
from core.plan.records import Tank
from core.recipe.records import Recipe

ROW, VERDICT, FOOT = 28, 92, 10


class TankCard(Card):
    """Shows one tank: how to pour it, whether it stays clear, what is in it."""

    def __init__(self, parent: QWidget, number: int) -> None:
        super().__init__(parent, "")
        self._number = number
        self._tank: Tank | None = None
        self._lines: tuple[ContentLine, ...] = ()
        self.bar = TankBar(self)

    def show_tank(self, recipe: Recipe, tank: Tank) -> None:
        """Show this tank."""
        self._tank, self._lines = tank, content_lines(recipe, tank.contents)
        self.set_title(figures.capital(tank_title(tank.content)))
        self.set_aside(figures.tank_volume(tank.volume_l))
        self.bar.setVisible(tank.fullness is not None)
        self.bar.set_tank(tank.fullness, worst_verdict(tank), place_colour(self._number))
        self.bar.setAccessibleName(say.tank_bar_text(tank_title(tank.content), tank.fullness, verdict_text(tank)))
        contents = ", ".join(f"{line.name} {line.grade} {line.weight}" for line in self._lines)
        self.setAccessibleDescription(contents)
        self.update()

    def least_height(self, width: int) -> int:
        return self.body_top + theme.px(VERDICT + FOOT) + theme.px(ROW) * len(self._lines)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        pad = theme.px(PAD)
        self.bar.setGeometry(pad, self.body_top + theme.px(42), self.width() - 2 * pad, self.bar.height())

    def paint_body(self, painter: QPainter) -> None:
        tank = self._tank
        if tank is None:
            return
        colours, pad, row = theme.colours(), theme.px(PAD), theme.px(ROW)
        line = QRectF(pad, self.body_top - theme.px(4), self.width() - 2 * pad, theme.px(20))
        poured = dilution_text(tank.ratio)
        paint.text(painter, line, poured, theme.font(), colours.text)
        verdict = line.translated(0, theme.px(24))
        paint.text(painter, verdict, limit_text(tank), theme.small(), colours.muted)
        paint_verdict(painter, verdict, tank)
        top = self.body_top + theme.px(VERDICT - 20)
        painter.fillRect(QRectF(pad, top - theme.px(6), line.width(), 1), colours.line)
        for number, content in enumerate(self._lines):
            place = QRectF(pad, top + number * row, line.width(), row)
            paint_line(painter, place, place, content, 13)
