"""A line of text in a form: sent on leaving it or Enter, Escape brings back what was there."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QKeyEvent, QKeySequence, QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import QLineEdit, QWidget

from app.widgets import paint, theme

UNDO, REDO = QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo


class FormText(QLineEdit):
    """Text for names, dates and codes.

    Signals
    -------
    entered : the text, once it was changed and left.
    """

    entered = Signal(str)

    def __init__(self, parent: QWidget, name: str) -> None:
        super().__init__(parent)
        self._kept = ""
        self._fault = ""
        self.setFrame(False)
        self.setFont(theme.font())
        self.setFixedHeight(theme.px(26))
        self.setTextMargins(theme.px(5), 0, theme.px(5), 0)
        clear = QPalette(self.palette())
        clear.setColor(QPalette.ColorRole.Base, QColor(0, 0, 0, 0))
        self.setPalette(clear)
        self.setAccessibleName(name)
        self.returnPressed.connect(self._finish)

    def set_kept(self, text: str) -> None:
        """Show this text, unless one typed here waits to be sent or mended."""
        if text != self._kept or not (self.isModified() or self._fault):
            self._kept = text
            self.blame("")
            if text != self.text():
                self.setText(text)

    def blame(self, reason: str) -> None:
        """Mark the text as refused, or take that back for no reason."""
        if reason != self._fault:
            self._fault = reason
            self.setToolTip(reason)
            self.update()

    def fault(self) -> str:
        """Return why the text is not taken, or nothing."""
        return self._fault

    def _finish(self) -> None:
        self._deliver()
        self.selectAll()

    def _deliver(self) -> None:
        if self.text().strip() != self._kept or self._fault:
            self.setModified(False)
            self._kept = self.text().strip()
            self.entered.emit(self._kept)

    def event(self, event: QEvent) -> bool:
        if (
            isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.ShortcutOverride
            and not self.isModified()
            and (event.matches(UNDO) or event.matches(REDO))
        ):
            event.ignore()
            return False
        return super().event(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if event.reason() in (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason):
            self.selectAll()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if self.isModified():
            self._deliver()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() != Qt.Key.Key_Escape:
            super().keyPressEvent(event)
        elif self.text() == self._kept:
            event.ignore()
        else:
            self.setText(self._kept)
            self.selectAll()

    def paintEvent(self, event: QPaintEvent) -> None:
        colours, painter, place = theme.colours(), QPainter(self), QRectF(self.rect())
        line = colours.stop if self._fault else colours.field_line
        paint.panel(painter, place, colours.field, line, theme.px(5))
        if self._fault or self.hasFocus():
            paint.focus_ring(painter, place, colours.stop if self._fault else colours.focus, theme.px(4))
        painter.end()
        super().paintEvent(event)
