"""What can be pointed at tells what it is: figures that take the keyboard, and the line that explains them."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, Qt, Signal
from PySide6.QtGui import QEnterEvent, QFocusEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QLabel, QWidget

from app.widgets import icons, paint, theme
from app.wording import chemistry as say

FIGURE_HEIGHT = 58
LINES = ((1100, 3), (760, 4), (0, 7))
"""Width of the 100 % drawing from which so many lines hold every explanation."""


class Explained(QWidget):
    """A widget that explains itself while the mouse is over it or the keyboard is on it.

    Signals
    -------
    explained : what it is, from where, how sure.
    """

    explained = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._explanation = ""
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def explain(self, text: str) -> None:
        """Take another explanation."""
        if text != self._explanation:
            self._explanation = text
            self.setAccessibleDescription(text)
            if self.hasFocus() or self.underMouse():
                self.explained.emit(text)

    def explanation(self) -> str:
        """Return what it says of itself."""
        return self._explanation

    def enterEvent(self, event: QEnterEvent) -> None:
        super().enterEvent(event)
        self.explained.emit(self.explanation())
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.update()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.explained.emit(self.explanation())
        self.update()


class FigureTile(Explained):
    """One figure of the chemistry: heading, number, unit."""

    def __init__(self, parent: QWidget, heading: str) -> None:
        super().__init__(parent)
        self._heading = heading
        self._figure = ("", "")
        self.setFixedHeight(theme.px(FIGURE_HEIGHT))
        self.setAccessibleName(heading)

    def set_figure(self, number: str, unit: str, explanation: str) -> None:
        """Show this figure."""
        if (number, unit) != self._figure:
            self._figure = (number, unit)
            self.setAccessibleName(f"{self._heading}: {number} {unit}".strip())
            self.update()
        self.explain(explanation)

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        place, pad = QRectF(self.rect()), theme.px(12)
        fill = colours.hover if self.underMouse() else colours.card
        paint.panel(painter, place, fill, colours.line, theme.px(theme.RADIUS))
        inner = place.adjusted(pad, 0, -theme.px(4), 0)
        heading = QRectF(inner.left(), theme.px(7), inner.width(), theme.px(18))
        paint.text(painter, heading, self._heading, theme.small(), colours.muted)
        number, unit = self._figure
        strong = theme.font(18, strong=True)
        line = QRectF(inner.left(), heading.bottom(), inner.width(), theme.px(26))
        paint.text(painter, line, number, strong, colours.text)
        beside = line.adjusted(strong.width(number) + theme.px(6), theme.px(3), 0, 0)
        paint.text(painter, beside, unit, theme.small(), colours.muted)
        if self.hasFocus():
            paint.focus_ring(painter, place, colours.focus, theme.px(theme.RADIUS))


class ExplanationLine(QWidget):
    """Says what the figure under the mouse or the keyboard is; always as tall, so that nothing moves."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._words = QLabel(say.hint(), self)
        self._words.setWordWrap(True)
        self._words.setFont(theme.font(12.5))
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._words.setAlignment(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft)
        self._words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.setAccessibleName(say.explanation_name())

    def text(self) -> str:
        """Return what it says."""
        return self._words.text()

    def say(self, text: str) -> None:
        """Say this, or what can be pointed at where there is nothing to say."""
        self._words.setText(text or say.hint())

    def height_for(self, width: int) -> int:
        """Return its height at a width: more lines where they are short [px]."""
        lines = next(count for least, count in LINES if width >= theme.px(least))
        return lines * theme.font(12.5).height() + theme.px(18)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        left = theme.px(40)
        self._words.setGeometry(left, theme.px(4), self.width() - left - theme.px(14), self.height() - theme.px(8))

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter, side = theme.colours(), QPainter(self), theme.px(14)
        paint.panel(painter, QRectF(self.rect()), colours.card, colours.line, theme.px(theme.RADIUS))
        icons.draw(painter, "mark-note", QRectF(theme.px(14), (self.height() - side) / 2, side, side), colours.muted)
