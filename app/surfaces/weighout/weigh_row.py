"""One weight of a tank as a row to tick: box, product, weight, and what went in where that was another."""

from __future__ import annotations

from PySide6.QtCore import QRect, QRectF, Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QWidget

from app.surfaces.weighout.bench_sheet import Line
from app.widgets import icons, paint, theme
from app.widgets.face import Face
from app.wording import weighout as say

LEAST, BOX, PAD, TICK = 44, 24, 16, 52


class WeighRow(QAbstractButton):
    """The box and Space tick it off; a click beside the box, or Enter, brings it up as the large one.

    Signals
    -------
    ticked : it was ticked off, or the tick was taken back.
    wanted : it is to be the large one; True where the weight is to be typed.
    stepped : the row above (-1) or below (1) is to have the keyboard.
    """

    ticked = Signal()
    wanted = Signal(bool)
    stepped = Signal(int)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._line: Line | None = None
        self._now = False
        self._place = ("", "")
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setToolTip(say.row_help())
        self.clicked.connect(self.ticked)  # what screen readers press

    @property
    def line(self) -> Line:
        """What is shown."""
        assert self._line is not None
        return self._line

    def show_line(self, line: Line, *, now: bool) -> None:
        """Show this; `now` marks the one that is the large one."""
        if (line, now) != (self._line, self._now):
            self._line, self._now = line, now
            self.setAccessibleName(say.row_words(line.name, line.weight, line.done, self._aside()))
            self.setAccessibleDescription(line.scale)
            self.update()

    def height_for(self, width: int) -> int:
        """Return the height its words need at a width [px]."""
        name, below = self._texts(width)
        return max(theme.px(LEAST), name.height() + below.height() + theme.px(10))

    def _aside(self) -> str:
        line = self.line
        return say.still(line.weight) if line.more else line.was

    def _shown_weight(self) -> str:
        return self.line.weight

    def _texts(self, width: int) -> tuple[QRect, QRect]:
        """Return where the name and what stands below it lie."""
        left, top = theme.px(PAD + BOX + 12), theme.px(5)
        weight = theme.font(17, strong=True).width(self._shown_weight()) + theme.px(PAD + 12)
        room = max(theme.px(80), width - left - max(weight, self._aside_width()))
        name = _box(theme.font(13.5), self.line.name, room)
        below = _box(theme.small(), self._below(), room)
        return QRect(left, top, room, name), QRect(left, top + name, room, below)

    def _aside_width(self) -> int:
        return theme.small().width(self._aside()) + theme.px(PAD + 12) if self._aside() else 0

    def _below(self) -> str:
        line = self.line
        return ", ".join(part for part in (line.scale, line.also, line.remark) if part)

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._line is None:
            return
        colours, painter, line = theme.colours(), QPainter(self), self._line
        ground = QRectF(self.rect()).adjusted(1, 0, -1, 0)
        if self._now or self.underMouse():
            painter.fillRect(ground, colours.rail_chosen if self._now else colours.hover)
        painter.fillRect(QRectF(theme.px(PAD), 0, self.width() - 2 * theme.px(PAD), 1), colours.line)
        self._paint_box(painter)
        ink = colours.muted if line.done else colours.text
        name, below = self._texts(self.width())
        shift = (self.height() - name.height() - below.height() - theme.px(10)) // 2
        paint.paragraph(painter, QRectF(name.translated(0, shift)), line.name, theme.font(13.5), ink)
        paint.paragraph(painter, QRectF(below.translated(0, shift)), self._below(), theme.small(), colours.muted)
        right = QRectF(name.right(), 0, self.width() - name.right() - theme.px(PAD), self.height())
        aside = self._aside()
        upper = right.adjusted(0, 0, 0, -theme.px(18)) if aside else right
        paint.text(painter, upper, self._shown_weight(), theme.font(17, strong=True), ink, paint.RIGHT)
        if aside:
            lower = QRectF(right.left(), self.height() / 2 + theme.px(3), right.width(), theme.px(18))
            paint.text(painter, lower, aside, theme.small(), colours.check, paint.RIGHT)
        if self.hasFocus():
            paint.focus_ring(painter, ground, colours.focus, theme.px(5))

    def _paint_box(self, painter: QPainter) -> None:
        colours, side = theme.colours(), theme.px(BOX)
        box = QRectF(theme.px(PAD), (self.height() - side) / 2, side, side)
        done = self.line.done
        paint.panel(painter, box, colours.accent if done else colours.field, colours.accent, theme.px(5))
        if done:
            inner = theme.px(14)
            spot = QRectF(box.center().x() - inner / 2, box.center().y() - inner / 2, inner, inner)
            icons.draw(painter, "mark-met", spot, colours.on_accent)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and self.rect().contains(event.position().toPoint()):
            if event.position().x() < theme.px(TICK):
                self.ticked.emit()
            else:
                self.wanted.emit(False)
        self.setDown(False)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = event.key()
        if key == Qt.Key.Key_Space:
            self.ticked.emit()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.wanted.emit(True)
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.stepped.emit(-1 if key == Qt.Key.Key_Up else 1)
        else:
            super().keyPressEvent(event)


def _box(face: Face, words: str, room: int) -> int:
    """Return the height of words that wrap within a room [px]."""
    if not words:
        return 0
    return QFontMetrics(face).boundingRect(QRect(0, 0, room, 10_000), int(Qt.TextFlag.TextWordWrap), words).height()
