"""EC, pH and level over time: readings as dots, the balance since the filling as a line, what is wanted as a band."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from app.surfaces.logbook.plot_drawing import (
    BOTTOM,
    LEFT,
    RIGHT,
    TOP,
    Strip,
    TimeAxis,
    legend_width,
    paint_legend,
    paint_times,
)
from app.widgets import paint, theme
from app.widgets.card import Card
from app.wording import logbook_told as say

if TYPE_CHECKING:
    from app.surfaces.logbook.reading import Told
    from core.logbook.forecast import Foretold
    from core.logbook.records import Entry

HEIGHT, SHARES = 262, (0.44, 0.28, 0.28)


class Plots(QWidget):
    """Left and Right go from entry to entry, Home and End to the first and the last; the mouse points."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._told: Told | None = None
        self._entries: tuple[Entry, ...] = ()
        self._moments: tuple[float, ...] = ()
        self._at: int | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAccessibleName(say.plots_name())

    def show_diary(self, entries: tuple[Entry, ...], told: Told | None) -> None:
        """Show these entries, and what follows from them."""
        from core.logbook.uptake import moment

        if len(entries) != len(self._entries):
            self._at = None
        self._entries, self._told = entries, told
        self._moments = tuple(moment(entry.at).timestamp() for entry in entries)
        self._tell()
        self.update()

    def point(self) -> str:
        """Return what is said of the entry pointed at."""
        if self._at is None or not self._entries:
            return ""
        balance, told = self._balance(), self._told
        if not balance or told is None:
            return say.point(self._entries[self._at], None, None)
        foretold = told.foretold[self._at].step_ec_ms_per_cm
        return say.point(self._entries[self._at], foretold, balance[self._at].ec_ms_per_cm)

    def _balance(self) -> tuple[Foretold, ...]:
        told = self._told
        return told.balance if told is not None and len(told.balance) == len(self._entries) else ()

    def _tell(self) -> None:
        self.setAccessibleDescription(self.point())

    def _move(self, to: int) -> None:
        if self._entries:
            self._at = max(0, min(len(self._entries) - 1, to))
            self._tell()
            self.update()

    def _axis(self) -> TimeAxis:
        inner = QRectF(theme.px(LEFT), 0, self.width() - theme.px(LEFT) - theme.px(RIGHT), self.height())
        return TimeAxis(self._moments[0], self._moments[-1], inner.left(), inner.width())

    def strips(self) -> list[Strip]:
        """Return the three plots in their places."""
        room = self.height() - theme.px(TOP) - theme.px(BOTTOM)
        told, balance = self._told, self._balance()
        entries = self._entries
        wanted = (None, None) if told is None else (told.wanted_ec, told.wanted_ph)
        readings = ([e.ec_ms_per_cm for e in entries], [e.ph for e in entries], [e.level_l for e in entries])
        lines: tuple[list[float | None], ...] = (
            [one.ec_ms_per_cm for one in balance],
            [one.ph_aired for one in balance],
            [],
        )
        found, top = [], float(theme.px(TOP))
        for number, which in enumerate(("ec", "ph", "level")):
            tall = room * SHARES[number]
            place = QRectF(
                theme.px(LEFT), top + theme.px(14), self.width() - theme.px(LEFT + RIGHT), tall - theme.px(18)
            )
            band = wanted[number] if number < len(wanted) else None
            found.append(Strip(say.plot_label(which), place, readings[number], lines[number], band))
            top += tall
        return found

    def keyPressEvent(self, event: QKeyEvent) -> None:
        last = len(self._entries) - 1
        here = last + 1 if self._at is None else self._at
        steps = {Qt.Key.Key_Left: here - 1, Qt.Key.Key_Right: here + 1, Qt.Key.Key_Home: 0, Qt.Key.Key_End: last}
        to = steps.get(Qt.Key(event.key()))
        if to is None:
            super().keyPressEvent(event)
        else:
            self._move(to)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._entries:
            axis, x = self._axis(), event.position().x()
            self._move(min(range(len(self._moments)), key=lambda n: abs(axis.x(self._moments[n]) - x)))

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if not self._entries:
            place = QRectF(self.rect()).adjusted(theme.px(16), 0, -theme.px(16), 0)
            paint.text(painter, place, say.plots_empty(), theme.font(12.5), colours.muted, paint.CENTRE)
        else:
            axis = self._axis()
            x = None if self._at is None else axis.x(self._moments[self._at])
            for number, strip in enumerate(self.strips()):
                strip.paint(painter, axis, self._moments, colours.places[(0, 1, 4)[number]], x)
            paint_times(painter, axis, self.height() - theme.px(BOTTOM), self.width())
            head = QRectF(theme.px(LEFT), 0, self.width() - theme.px(LEFT + RIGHT), theme.px(TOP))
            font, point = theme.font(12.5, strong=True), self.point()
            if font.width(point) + legend_width() < head.width():
                paint_legend(painter, head)
            paint.text(painter, head, point, font, colours.text)
        if self.hasFocus():
            paint.focus_ring(painter, QRectF(self.rect()), colours.focus, theme.px(5))


class PlotsCard(Card):
    """The plots on their card."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, say.plots_title())
        self.plots = Plots(self)

    def least_height(self, width: int) -> int:
        del width
        return self.body_top + theme.px(HEIGHT)

    def resizeEvent(self, _event: object) -> None:
        top = self.body_top
        self.plots.setGeometry(theme.px(6), top, self.width() - theme.px(12), self.height() - top - theme.px(6))
