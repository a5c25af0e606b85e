"""Shares of the ions as bars, each with the range that is usual for the crop."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.widgets import paint, theme
from app.wording import comparing_cards as cards

if TYPE_CHECKING:
    from core.blend.ratios import Ratio

LINE, HEAD, FIGURE = 19, 22, 46
LEAST_PERCENT = 0.5
"""Ions below this share of their side are left out."""

FULL_PERCENT = 80.0
"""Share at which a bar is full: no ion of a feed carries more of its side."""


class ShareBars(QWidget):
    """Three groups: K to Ca to Mg, the cations, the anions."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._ratios: tuple[Ratio, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(cards.shares_name())

    def show_ratios(self, ratios: tuple[Ratio, ...]) -> None:
        """Show these shares."""
        kinds = cards.share_groups()
        self._ratios = tuple(one for one in ratios if one.kind in kinds and one.value >= LEAST_PERCENT)
        told = [f"{cards.ion_name(one.about)} {cards.share_figure(one.value)}" for one in self._ratios]
        self.setAccessibleDescription(", ".join(told))
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        groups = len({one.kind for one in self._ratios})
        return QSize(theme.px(280), theme.px(HEAD) * groups + theme.px(LINE) * len(self._ratios) + theme.px(4))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter, top, left = QPainter(self), 0.0, theme.px(4)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        names = max((theme.small().width(cards.ion_name(one.about)) for one in self._ratios), default=0) + theme.px(10)
        for kind, heading in cards.share_groups().items():
            group = [one for one in self._ratios if one.kind == kind]
            if not group:
                continue
            place = QRectF(left, top, self.width(), theme.px(HEAD))
            paint.text(painter, place, heading, theme.font(12, strong=True), theme.colours().text)
            top += theme.px(HEAD)
            for ratio in group:
                self._paint_one(painter, QRectF(left, top, self.width() - left, theme.px(LINE)), ratio, names)
                top += theme.px(LINE)

    def _paint_one(self, painter: QPainter, place: QRectF, ratio: Ratio, names: int) -> None:
        colours, small = theme.colours(), theme.small()
        paint.text(painter, place, cards.ion_name(ratio.about), small, colours.muted)
        figure = QRectF(place.left() + names, place.top(), theme.px(FIGURE), place.height())
        off = ratio.unusual
        face = theme.font(12, strong=off)
        paint.text(
            painter, figure, cards.share_figure(ratio.value), face, colours.check if off else colours.text, paint.RIGHT
        )
        left = figure.right() + theme.px(10)
        track = QRectF(left, place.center().y() - theme.px(3), place.right() - left - theme.px(2), theme.px(6))
        paint.panel(painter, track, colours.track, None, theme.px(3))

        def x(percent: float) -> float:
            return track.left() + track.width() * min(1.0, percent / FULL_PERCENT)

        if ratio.usual is not None:
            low, high = x(ratio.usual.low), x(ratio.usual.high)
            usual = QRectF(low - theme.px(2), track.center().y() - theme.px(5), high - low + theme.px(4), theme.px(10))
            paint.panel(painter, usual, colours.wanted, colours.wanted_line, theme.px(2))
        spot = QPointF(x(ratio.value), track.center().y())
        painter.setPen(QPen(colours.card, 1.2))
        painter.setBrush(colours.check if off else colours.accent)
        if off:
            painter.setPen(Qt.PenStyle.NoPen)
            side = theme.px(8)
            painter.drawRect(QRectF(spot.x() - side / 2, spot.y() - side / 2, side, side))
        else:
            painter.drawEllipse(spot, theme.px(4), theme.px(4))
