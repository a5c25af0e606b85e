"""What carries the conductivity, as one bar: cations at the left, anions at the right, largest first."""

from __future__ import annotations

from typing import NamedTuple

from PySide6.QtCore import QRectF
from PySide6.QtGui import QMouseEvent, QPainter, QPainterPath, QPaintEvent
from PySide6.QtWidgets import QWidget

from app.surfaces.chemistry.explained import Explained
from app.widgets import paint, theme
from app.widgets.colours import Shades
from app.wording import chemistry as say

LEAST_PERCENT = 0.7
"""A share below this would be thinner than a line; together these stand at the end of their side."""


class Share(NamedTuple):
    """One ion's share of the conductivity."""

    symbol: str
    charge: int
    percent: float
    explanation: str


class EcBar(Explained):
    """The whole width is the whole conductivity."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._shares: tuple[Share, ...] = ()
        self.setFixedHeight(theme.px(28))
        self.setMouseTracking(True)
        self.setAccessibleName(say.ec_bar_name())

    def set_shares(self, shares: tuple[Share, ...]) -> None:
        """Show these shares."""
        sides = [_gathered([one for one in shares if one.charge * sign > 0]) for sign in (1, -1)]
        self._shares = (*sides[0], *reversed(sides[1]))
        ordered = sorted(self._shares, key=lambda one: -one.percent)
        self.explain(", ".join(say.ec_share(one.symbol, one.percent) for one in ordered) + ".")
        self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        at = event.position().x()
        found = next((one for one, place in self._places() if place.left() <= at < place.right()), None)
        self.explained.emit(self.explanation() if found is None else found.explanation)

    def _places(self) -> list[tuple[Share, QRectF]]:
        places: list[tuple[Share, QRectF]] = []
        left, whole = 0.0, sum(one.percent for one in self._shares) or 1.0
        for one in self._shares:
            width = self.width() * one.percent / whole
            places.append((one, QRectF(left, 0, width, self.height())))
            left += width
        return places

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ends = QPainterPath()
        ends.addRoundedRect(QRectF(self.rect()), theme.px(4), theme.px(4))
        painter.save()
        painter.setClipPath(ends)
        positive = [one for one in self._shares if one.charge > 0]
        negative = [one for one in reversed(self._shares) if one.charge < 0]
        for one, place in self._places():
            side, shades = (positive, colours.cations) if one.charge > 0 else (negative, colours.anions)
            self._paint_share(painter, one, place.adjusted(0, 0, -1.5, 0), side.index(one), shades)
        painter.restore()
        if self.hasFocus():
            paint.focus_ring(painter, QRectF(self.rect()), colours.focus, theme.px(4))

    def _paint_share(self, painter: QPainter, one: Share, place: QRectF, number: int, shades: Shades) -> None:
        fill, ink = shades[min(number, len(shades) - 1)]
        painter.fillRect(place, fill)
        font = theme.font(12, strong=True)
        long = say.ec_share(one.symbol, one.percent)
        words = long if font.width(long) + theme.px(8) <= place.width() else one.symbol
        if font.width(words) + theme.px(4) <= place.width():
            paint.text(painter, place, words, font, ink, paint.CENTRE)


def _gathered(shares: list[Share]) -> list[Share]:
    """Largest first, those too small to be seen as one."""
    large = sorted((one for one in shares if one.percent >= LEAST_PERCENT), key=lambda one: -one.percent)
    small = [one for one in shares if 0.0 < one.percent < LEAST_PERCENT]
    if not small:
        return large
    whole = sum(one.percent for one in small)
    words = ", ".join(say.ec_share(one.symbol, one.percent) for one in sorted(small, key=lambda one: -one.percent))
    return [*large, Share(say.other_ions(), small[0].charge, whole, f"{words}.")]
