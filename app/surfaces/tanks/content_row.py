"""One salt in one tank: moved by keys, mouse and menu, and pointed at to tell why it stands there."""

from __future__ import annotations

from typing import NamedTuple

from PySide6.QtCore import QEvent, QPoint, QRectF, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QEnterEvent, QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QApplication, QWidget

from app.surfaces.contents import ContentLine, paint_line
from app.widgets import icons, paint, theme
from app.widgets.card import PAD
from app.wording import tanks as say

MARK, SHARE = 20, 76
MOVES = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
STEPS = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1, Qt.Key.Key_Home: -99, Qt.Key.Key_End: 99}


class RowContent(NamedTuple):
    """What a row shows, in words; `share` is 1 where all of it stands here, `came` says that an edit moved it here."""

    entry_id: str
    line: ContentLine
    share: float
    pinned: bool
    reason: str
    came: bool = False


class ContentRow(QWidget):
    """Shows one `RowContent`.

    Signals
    -------
    stepped : by how many rows the keyboard wants to go.
    moved : -1 or +1, to the tank before or after.
    released : the pin is to be taken off.
    menu_wanted : where on the screen.
    pointed : why it stands here, or nothing when the mouse has left.
    dragged, dropped : where on the screen; dropped far outside every tank is a drag given up.
    """

    stepped = Signal(int)
    moved = Signal(int)
    released = Signal()
    menu_wanted = Signal(QPoint)
    pointed = Signal(str)
    dragged = Signal(QPoint)
    dropped = Signal(QPoint)

    def __init__(self, parent: QWidget, entry_id: str) -> None:
        super().__init__(parent)
        self.entry_id = entry_id
        self._content: RowContent | None = None
        self._pressed: QPoint | None = None
        self._dragging = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.OpenHandCursor)

    @property
    def product(self) -> str:
        """What the product is called."""
        return "" if self._content is None else f"{self._content.line.name} {self._content.line.grade}".strip()

    @property
    def pinned(self) -> bool:
        """Whether its pin can be taken off."""
        return self._content is not None and self._content.pinned

    def show_content(self, content: RowContent) -> None:
        """Show this product."""
        if content == self._content:
            return
        self._content = content
        self.setAccessibleName(
            say.row_name(self.product, content.line.weight, content.share, content.pinned, content.came)
        )
        self.setAccessibleDescription(content.reason)
        self.setToolTip(content.reason)
        if self.hasFocus() or self.underMouse():
            self.pointed.emit(self.told())
        self.update()

    def told(self) -> str:
        """Return what is said of the row where reasons are told."""
        return "" if self._content is None else f"{self.product}: {self._content.reason}"

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        both = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
        if key in MOVES and event.modifiers() & both == both:
            self.moved.emit(MOVES[key])
        elif key == Qt.Key.Key_Escape and self._dragging:
            self._end_drag(QPoint(-1, -1))
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace) and self.pinned:
            self.released.emit()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space, Qt.Key.Key_Menu):
            self.menu_wanted.emit(self.mapToGlobal(QPoint(theme.px(PAD + MARK), self.height())))
        elif key in STEPS and not event.modifiers() & both:
            self.stepped.emit(STEPS[key])
        else:
            super().keyPressEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        self.menu_wanted.emit(event.globalPos())

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self._pressed = event.position().toPoint()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._pressed is None:
            return
        far = (event.position().toPoint() - self._pressed).manhattanLength() >= QApplication.startDragDistance()
        if far and not self._dragging:
            self._dragging = True
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
        if self._dragging:
            self.dragged.emit(event.globalPosition().toPoint())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        pressed, self._pressed = self._pressed, None
        if self._dragging:
            self._end_drag(event.globalPosition().toPoint())
        elif pressed is not None and self.pinned and pressed.x() < theme.px(PAD + MARK):
            self.released.emit()

    def _end_drag(self, where: QPoint) -> None:
        self._dragging, self._pressed = False, None
        self.setCursor(Qt.CursorShape.OpenHandCursor)
        self.dropped.emit(where)

    def enterEvent(self, event: QEnterEvent) -> None:
        super().enterEvent(event)
        self.pointed.emit(self.told())
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.pointed.emit("")
        self.update()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.pointed.emit(self.told())
        self.update()

    def _paint_grip(self, painter: QPainter, left: int) -> None:
        """Paint the dots that say: this can be dragged."""
        colours, dot, step = theme.colours(), theme.px(2), theme.px(5)
        ink = colours.muted if self.underMouse() or self.hasFocus() else colours.field_line
        top = self.height() / 2 - step - dot / 2
        for column in range(2):
            for line in range(3):
                painter.fillRect(QRectF(left + theme.px(2) + column * step, top + line * step, dot, dot), ink)

    def paintEvent(self, _event: QPaintEvent) -> None:
        content, colours, painter = self._content, theme.colours(), QPainter(self)
        place = QRectF(self.rect())
        if self.underMouse():
            painter.fillRect(place, colours.hover)
        if content is None:
            return
        pad, side = theme.px(PAD), theme.px(12)
        if content.pinned:
            spot = QRectF(pad, (self.height() - side) / 2, side, side)
            icons.draw(painter, "mark-fixed", spot, colours.accent)
        else:
            self._paint_grip(painter, pad)
        line = place.adjusted(pad + theme.px(MARK), 0, -pad, 0)
        wide = theme.font(13, strong=True).width(content.line.weight) + theme.px(10)
        beside_words = say.share(content.share) or (say.came() if content.came else "")
        names = line.adjusted(0, 0, -wide - (theme.px(SHARE) if beside_words else 0), 0)
        paint_line(painter, names, line, content.line, 13)
        beside = QRectF(names.right(), 0, theme.px(SHARE), self.height())
        ink = colours.accent if content.came and content.share >= 1.0 else colours.muted
        paint.text(painter, beside, beside_words, theme.small(), ink)
        if self.hasFocus():
            paint.focus_ring(painter, place.adjusted(2, 0, -2, 0), colours.focus, theme.px(5))
