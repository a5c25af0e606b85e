"""A sheet over the right part of the window: what it edits is seen working at its left; Escape closes it."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QLinearGradient, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from app.widgets import paint, theme
from app.widgets.cross_button import CrossButton
from app.widgets.slim_bar import slim
from app.wording import editors as say

HEAD, SHADE = 46, 8


class SideSheet(QWidget):
    """Title, a part that stays, and a part that scrolls.

    Signals
    -------
    closed : it was closed by hand.
    """

    closed = Signal()

    def __init__(self, parent: QWidget, title: str) -> None:
        super().__init__(parent)
        self._title = title
        self.setAccessibleName(title)
        self.top = QWidget(self)
        self.top_layout = QVBoxLayout(self.top)
        self._scroll = QScrollArea(self)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setWidgetResizable(True)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        slim(self._scroll)
        self.body = QWidget()
        self.body_layout = QVBoxLayout(self.body)
        self._scroll.setWidget(self.body)
        self._scroll.viewport().setAutoFillBackground(False)
        self.body.setAutoFillBackground(False)
        for layout, below in ((self.top_layout, 6), (self.body_layout, 16)):
            layout.setContentsMargins(theme.px(18), theme.px(2), theme.px(14), theme.px(below))
            layout.setSpacing(theme.px(8))
        self.close_button = CrossButton(self, say.close_sheet(title))
        self.close_button.clicked.connect(self.closed)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)  # what changes below it costs no painting
        self.hide()

    def settle(self) -> None:
        """Lay the parts out anew after the part that stays has changed its height."""
        self.top_layout.invalidate()
        self._arrange()

    def show_part(self, part: QWidget) -> None:
        """Scroll so that a part of the body is in view."""
        self.body_layout.activate()
        height = max(self.body_layout.heightForWidth(self.body.width()), self._scroll.viewport().height())
        self.body.resize(self.body.width(), height)  # what is new counts at once, not only at the next layout
        self._scroll.ensureWidgetVisible(part, 0, theme.px(24))

    def _arrange(self) -> None:
        left, head = theme.px(SHADE), theme.px(HEAD)
        side = theme.px(28)
        self.close_button.setGeometry(self.width() - side - theme.px(12), (head - side) // 2, side, side)
        inner = self.width() - left
        top = self.top_layout.heightForWidth(inner) if self.top_layout.hasHeightForWidth() else -1
        top = max(top, self.top_layout.sizeHint().height()) if self.top_layout.count() else 0
        self.top.setGeometry(left, head, inner, top)
        self._scroll.setGeometry(left, head + top, inner, self.height() - head - top - 1)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Tab goes round within the sheet: behind it Escape would no longer close it."""
        here: QWidget | None = self.focusWidget()
        one = None if here is None else _beside(here, forward)
        while one is not None and one is not here:
            if self.isAncestorOf(one) and _takes_tab(one):
                one.setFocus(Qt.FocusReason.TabFocusReason if forward else Qt.FocusReason.BacktabFocusReason)
                return True
            one = _beside(one, forward)
        return False

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter, left = theme.colours(), QPainter(self), theme.px(SHADE)
        shade = QLinearGradient(0, 0, left, 0)
        edge = colours.line.darker(118) if not colours.dark else colours.window.darker(160)
        for place, opacity in ((0.0, 0.0), (1.0, 0.55)):
            edge.setAlphaF(opacity)
            shade.setColorAt(place, edge)
        painter.fillRect(QRectF(0, 0, left, self.height()), colours.window)
        painter.fillRect(QRectF(0, 0, left, self.height()), shade)
        painter.fillRect(QRectF(left, 0, self.width() - left, self.height()), colours.card)
        painter.fillRect(QRectF(left, 0, 1, self.height()), colours.field_line)
        line = QRectF(left + theme.px(18), 0, self.width() - left - theme.px(64), theme.px(HEAD))
        paint.text(painter, line, self._title, theme.title(), colours.text)


def _beside(widget: QWidget, forward: bool) -> QWidget | None:
    return widget.nextInFocusChain() if forward else widget.previousInFocusChain()


def _takes_tab(widget: QWidget) -> bool:
    takes = bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)
    return takes and widget.isVisible() and widget.isEnabled() and widget.focusProxy() is None
