"""The concentrates at a glance: does each stay clear on the coldest night, and what would come out first."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.surfaces.tank_marks import paint_verdict, place_colour, verdict_text, worst_verdict
from app.widgets import paint, theme
from app.widgets.afterwards import afterwards
from app.widgets.card import PAD, Card
from app.widgets.stripe import EDGE
from app.widgets.tank_bar import TankBar
from app.wording import figures, joined, solid_word, tank_title
from app.wording import surfaces as say
from core.plan.records import Plan, Tank
from core.recipe.records import Recipe

CAPTION_TOP, CAPTION_GAP, FOOT = 33, 5, 8
ONE_LINE_FROM = 300


class TankGlance(QWidget):
    """One tank: title, verdict, bar, and what limits it."""

    def __init__(self, parent: QWidget, number: int) -> None:
        super().__init__(parent)
        self._number = number
        self._tank: Tank | None = None
        self._words = ("", "")
        self._limit = ""
        self.bar = TankBar(self)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def show_tank(self, tank: Tank) -> None:
        """Show this tank."""
        if tank == self._tank:
            return
        verdict = worst_verdict(tank)
        self.bar.setVisible(tank.fullness is not None)
        self.bar.set_tank(tank.fullness, verdict, place_colour(self._number))
        before, self._tank = self._tank, tank
        if before is None or (before.content, _judged(before)) != (tank.content, _judged(tank)):
            self.update()
        limit = limit_text(tank)
        if limit != self._limit:
            self._limit = limit
            self.update(self._caption().toRect())
        afterwards(self, self._tell)

    def _tell(self) -> None:
        tank = self._tank
        if tank is None:
            return
        words = say.tank_bar_text(figures.capital(tank_title(tank.content)), tank.fullness, verdict_text(tank))
        if (words, self._limit) != self._words:
            self._words = (words, self._limit)
            self.bar.setAccessibleName(words)
            self.bar.setAccessibleDescription(self._limit)
            self.setToolTip(f"{words}. {self._limit}")

    def height_for(self, width: int) -> int:
        """Return the height a tank needs at a width; it does not depend on what is said [px]."""
        lines = 1 if width >= theme.px(ONE_LINE_FROM) else 2
        return theme.px(CAPTION_TOP + CAPTION_GAP) + lines * theme.small().height()

    def resizeEvent(self, _event: QResizeEvent) -> None:
        pad = theme.px(PAD) - EDGE
        self.bar.setGeometry(pad, theme.px(19), self.width() - 2 * pad, self.bar.height())

    def _caption(self) -> QRectF:
        pad, top = theme.px(PAD) - EDGE, theme.px(CAPTION_TOP)
        return QRectF(pad, top, self.width() - 2 * pad, self.height() - top)

    def paintEvent(self, event: QPaintEvent) -> None:
        tank, colours, painter, pad = self._tank, theme.colours(), QPainter(self), theme.px(PAD) - EDGE
        painter.fillRect(self.rect(), colours.card)
        if tank is None:
            return
        below = self._caption()
        if event.rect().top() < below.top():
            line = QRectF(pad, 0, self.width() - 2 * pad, theme.px(18))
            room = line.adjusted(0, 0, -paint_verdict(painter, line, tank), 0)
            paint.text(painter, room, figures.capital(tank_title(tank.content)), theme.font(strong=True), colours.text)
        if event.rect().bottom() < below.top():
            return
        words = limit_text(tank, int(below.width()) if below.height() < 2 * theme.small().height() else 0)
        paint.paragraph(painter, below, words, theme.small(), colours.muted)


class TanksCard(Card):
    """One glance per tank, kept and reused."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, say.tanks_title())
        self.glances: list[TankGlance] = []
        self._count = 0

    def show_plan(self, recipe: Recipe, plan: Plan) -> None:
        """Show the plan's tanks."""
        cold = recipe.tanks.coldest_c
        self.set_aside("" if cold is None else say.coldest(cold))
        while len(self.glances) < len(plan.tanks):
            self.glances.append(TankGlance(self, len(self.glances)))
        for glance, tank in zip(self.glances, plan.tanks, strict=False):
            glance.show_tank(tank)
        if len(plan.tanks) != self._count:
            self._count = len(plan.tanks)
            for number, glance in enumerate(self.glances):
                glance.setVisible(number < self._count)
            self._arrange()

    def least_height(self, width: int) -> int:
        each = (glance.height_for(width) for glance in self.glances[: self._count])
        return self.body_top + sum(each) + theme.px(FOOT)

    def _arrange(self) -> None:
        top = self.body_top - theme.px(2)
        for glance in self.glances[: self._count]:
            height = glance.height_for(self.width())
            glance.setGeometry(EDGE, top, self.width() - 2 * EDGE, height)
            top += height

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()


def _judged(tank: Tank) -> tuple[str, str]:
    return tank.verdict, tank.cold_verdict


def limit_text(tank: Tank, width: int = 0) -> str:
    """Return what comes out, or would first, and how strong the tank may be made, a line each.

    Parameters
    ----------
    width : of one line [px] that has to do; what does not fit into it is left out.
    """
    parts = []
    if tank.settling and worst_verdict(tank) != "clear":
        parts.append(say.settling(joined([_solid(solid) for solid in tank.settling])))
    elif tank.limited_by is not None:
        parts.append(say.first_out(_solid(tank.limited_by)))
    if tank.injector_step is not None:
        parts.append(say.strength_limit(tank.injector_step))
    if not width:
        return "\n".join(parts)
    both = "   ".join(parts)
    return parts[0] if theme.small().width(both) > width else both


def _solid(code: str) -> str:
    return figures.within(figures.name_parts(solid_word(code))[0])
