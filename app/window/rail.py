"""The navigation rail: one button per surface, always there."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QButtonGroup, QWidget

from app.widgets import icons, paint, theme
from app.wording import surfaces as say

WIDTH, NARROW_WIDTH = 84, 52
BUTTON, NARROW_BUTTON = 70, 48


class RailButton(QAbstractButton):
    """A drawing with the surface's name below it; the name is left out where the window is narrow."""

    def __init__(self, parent: QWidget, surface: str, number: int) -> None:
        super().__init__(parent)
        self.surface = surface
        self.setText(say.surface(surface))
        self.setToolTip(f"{say.surface_tip(surface)} (Ctrl+{number})")
        self.setAccessibleDescription(say.surface_tip(surface))
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        chosen = self.isChecked()
        inset = QRectF(self.rect()).adjusted(theme.px(6), theme.px(2), -theme.px(6), -theme.px(2))
        if chosen or self.underMouse():
            paint.panel(painter, inset, colours.rail_chosen if chosen else colours.hover, None, theme.px(8))
        ink = colours.accent if chosen else colours.muted
        narrow = self.width() < theme.px(WIDTH)
        side = theme.px(24)
        top = (self.height() - side) / 2 if narrow else theme.px(12)
        icons.draw(painter, self.surface, QRectF((self.width() - side) / 2, top, side, side), ink)
        if not narrow:
            words = QRectF(0, theme.px(40), self.width(), theme.px(18))
            font = theme.font(12, strong=chosen)
            paint.text(painter, words, self.text(), font, colours.text if chosen else colours.muted, paint.CENTRE)
        if chosen:
            bar = QRectF(0, inset.top() + theme.px(10), theme.px(3), inset.height() - theme.px(20))
            paint.panel(painter, bar, colours.accent, None, theme.px(1.5))
        if self.hasFocus():
            paint.focus_ring(painter, inset, colours.focus, theme.px(8))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)


class Rail(QWidget):
    """The six surfaces, top to bottom.

    Signals
    -------
    chosen : the surface to go to.
    """

    chosen = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._group = QButtonGroup(self)
        self._group.setExclusive(True)
        self.buttons = {
            surface: RailButton(self, surface, number) for number, surface in enumerate(say.SURFACES, start=1)
        }
        for button in self.buttons.values():
            self._group.addButton(button)
        self._group.buttonClicked.connect(lambda button: self.chosen.emit(button.surface))

    def show_chosen(self, surface: str) -> None:
        """Mark this surface as the one in view."""
        self.buttons[surface].setChecked(True)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        each = theme.px(BUTTON if self.width() >= theme.px(WIDTH) else NARROW_BUTTON)
        each = min(each, max(theme.px(30), (self.height() - theme.px(16)) // len(self.buttons)))
        for number, button in enumerate(self.buttons.values()):
            button.setGeometry(0, theme.px(8) + number * each, self.width(), each)

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        painter.fillRect(self.rect(), colours.card)
        painter.fillRect(QRectF(self.width() - 1, 0, 1, self.height()), colours.line)
