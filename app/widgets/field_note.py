"""A short message right below the field it speaks of."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from app.widgets import icons, paint, theme


class FieldNote(QWidget):
    """One note a window, laid over whatever is below the field; it takes neither clicks nor focus."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._text = ""
        self._field: QWidget | None = None
        self._warns = True
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.hide()

    @staticmethod
    def show_for(field: QWidget, text: str, *, warns: bool = True) -> None:
        """Show the text below the field, or take the field's text away for an empty one."""
        window = field.window()
        note = window.findChild(FieldNote, options=Qt.FindChildOption.FindDirectChildrenOnly)
        if note is None:
            if not text:
                return
            note = FieldNote(window)
        if text and field.hasFocus():
            note._warns = warns
            note._place(field, text)
        elif note._field is field:
            note.hide()

    def text(self) -> str:
        """Return what the note says."""
        return self._text if self.isVisible() else ""

    def _place(self, field: QWidget, text: str) -> None:
        self._text, self._field = text, field
        self.setAccessibleName(text)
        window = field.window()
        width = theme.small().width(text) + theme.px(36)
        width = min(width, window.width() - theme.px(16))
        below = field.mapTo(window, QPoint(0, field.height() + theme.px(3)))
        left = max(theme.px(8), min(below.x(), window.width() - width - theme.px(8)))
        height = theme.px(26)
        top = below.y() if below.y() + height <= window.height() else field.mapTo(window, QPoint()).y() - height
        self.setGeometry(left, top, width, height)
        self.raise_()
        self.show()
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours = theme.colours()
        painter = QPainter(self)
        place = QRectF(self.rect())
        mark, colour = ("mark-stop", colours.stop) if self._warns else ("mark-note", colours.muted)
        paint.panel(painter, place, colours.card, colour, theme.px(5))
        side = theme.px(12)
        icons.draw(painter, mark, QRectF(theme.px(8), (self.height() - side) / 2, side, side), colour)
        words = place.adjusted(theme.px(26), 0, -theme.px(6), 0)
        paint.text(painter, words, self._text, theme.small(), colours.text)
