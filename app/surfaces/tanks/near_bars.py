"""The solids closest to settling, each as a bar up to the mark at which it comes out."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.surfaces.tank_marks import worst_verdict
from app.widgets import paint, theme
from app.widgets.card import PAD
from app.widgets.tank_bar import TankBar
from app.wording import tanks as say
from core.plan.records import NearSolid, Tank

LINE, HEADING, BARS = 20, 20, 3
NAME_SHARE, RATIO = 0.3, 84


class NearBars(QWidget):
    """Always as tall, so that nothing moves while one types."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._near: tuple[NearSolid, ...] = ()
        self._heading = ("", "")
        self.bars = [TankBar(self) for _ in range(BARS)]

    def show_tank(self, tank: Tank, coldest_c: float, colour: QColor) -> None:
        """Show what is nearest to settling in this tank."""
        near, heading = tank.near[:BARS], say.near_heading(coldest_c)
        for number, bar in enumerate(self.bars):
            bar.setVisible(number < len(near))
            if number < len(near):
                over = near[number].fullness > 1.0
                bar.set_tank(near[number].fullness, worst_verdict(tank) if over else "clear", colour)
                bar.setAccessibleName(say.near_text(near[number]))
                bar.setToolTip(say.near_text(near[number]))
        if (near, heading) != (self._near, self._heading):
            self._near, self._heading = near, heading
            self._arrange()
            self.update()

    def words(self) -> str:
        """Return in words what the bars draw."""
        return "; ".join(map(say.near_text, self._near)) or say.nothing_near()

    @staticmethod
    def tall() -> int:
        """Return the height it needs [px]."""
        return theme.px(HEADING + BARS * LINE)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        left, width = self._bar_place()
        for number, bar in enumerate(self.bars):
            top = theme.px(HEADING + number * LINE) + (theme.px(LINE) - bar.height()) // 2
            bar.setGeometry(left, top, width, bar.height())

    def _bar_place(self) -> tuple[int, int]:
        pad, inner = theme.px(PAD), self.width() - 2 * theme.px(PAD)
        names = [theme.font(12.5).width(say.near_name(near)) + theme.px(12) for near in self._near]
        left = pad + min(max([int(NAME_SHARE * inner), *names]), inner // 2)
        return left, self.width() - pad - theme.px(RATIO) - left

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter, pad = theme.colours(), QPainter(self), theme.px(PAD)
        left, width = self._bar_place()
        heading = QRectF(pad, 0, self.width() - 2 * pad, theme.px(HEADING))
        room, out = self._heading
        if not self._near:
            paint.text(painter, heading, say.nothing_near(), theme.small(), colours.muted)
            return
        used = max(theme.px(RATIO), theme.small().width(out) + theme.px(8))
        paint.text(painter, heading.adjusted(0, 0, -used, 0), room, theme.small(), colours.muted)
        paint.text(painter, heading, out, theme.small(), colours.muted, paint.RIGHT)
        for number, near in enumerate(self._near):
            line = QRectF(pad, theme.px(HEADING + number * LINE), self.width() - 2 * pad, theme.px(LINE))
            name = QRectF(pad, line.top(), left - pad - theme.px(8), line.height())
            paint.text(painter, name, say.near_name(near), theme.font(12.5), colours.text)
            ink = colours.text if near.fullness <= 1.0 else colours.stop
            paint.text(painter, line, say.near_ratio(near), theme.font(12.5), ink, paint.RIGHT)
