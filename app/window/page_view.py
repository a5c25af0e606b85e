"""Printed pages on the screen, one at a time, as they will come out of the printer."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QWheelEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.paper.pdf_pages import Page
from app.widgets import paint, theme
from app.wording import printing as say

MARGIN = 14


class PageView(QWidget):
    """Shows one page as large as it fits.

    Signals
    -------
    turned : another page is shown.
    """

    turned = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.pages: tuple[Page, ...] = ()
        self.number = 0
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(theme.px(200), theme.px(160))
        self._name()

    def show_pages(self, pages: tuple[Page, ...]) -> None:
        """Show these, from the page that was in view on where there is one."""
        self.pages = pages
        self.number = max(0, min(self.number, len(pages) - 1))
        self._name()

    def turn(self, by: int) -> None:
        """Turn over so many pages, back for fewer than none."""
        number = max(0, min(self.number + by, len(self.pages) - 1))
        if number != self.number:
            self.number = number
            self._name()

    def told(self) -> str:
        """Return which page this is."""
        return say.pages(self.number + 1, len(self.pages)) if self.pages else say.no_pages()

    def _name(self) -> None:
        self.setAccessibleName(f"{say.preview_name()}: {self.told()}")
        self.update()
        self.turned.emit()

    def sizeHint(self) -> QSize:
        return QSize(theme.px(460), theme.px(560))

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        painter.fillRect(self.rect(), colours.track)
        if not self.pages:
            paint.text(painter, QRectF(self.rect()), say.no_pages(), theme.font(), colours.muted, paint.CENTRE)
            return
        page, margin = self.pages[self.number], theme.px(MARGIN)
        scale = min((self.width() - 2 * margin) / page.width, (self.height() - 2 * margin) / page.height)
        left, top = (self.width() - scale * page.width) / 2, (self.height() - scale * page.height) / 2
        sheet = QRectF(left, top, scale * page.width, scale * page.height)
        painter.fillRect(sheet.adjusted(-1, -1, 1, 1), colours.field_line)
        painter.fillRect(sheet, Qt.GlobalColor.white)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.save()
        painter.setClipRect(sheet)
        painter.translate(left, top)
        painter.scale(scale, scale)
        page.draw(painter)
        painter.restore()
        if self.hasFocus():
            paint.focus_ring(painter, QRectF(self.rect()), colours.focus, theme.px(4))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_PageDown: 1, Qt.Key.Key_Right: 1, Qt.Key.Key_PageUp: -1, Qt.Key.Key_Left: -1,
                 Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}  # fmt: skip
        by = steps.get(Qt.Key(event.key()))
        if by is None:
            super().keyPressEvent(event)
        else:
            self.turn(by)

    def wheelEvent(self, event: QWheelEvent) -> None:
        self.turn(-1 if event.angleDelta().y() > 0 else 1)
