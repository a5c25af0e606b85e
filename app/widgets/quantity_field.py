"""A field for one quantity: says what was typed while it is typed, and never turns bad text into a number."""

from __future__ import annotations

import re
from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, QRect, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QKeyEvent, QKeySequence, QPainter, QPaintEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from app.widgets import icons, paint, theme
from app.widgets.face import Face
from app.widgets.field_note import FieldNote
from app.widgets.reading import Reader, looks_grouped, read_plain, shortest
from app.wording import format_short
from app.wording import surfaces as say
from app.wording.refusals import refusal

_PLAIN_NUMBER = re.compile(r"\d+(\.\d+)?")
LEAST_DIGITS = 4
"""Figures of a number shown at rest: more than any scale or report gives (own choice)."""

SHORTCUT_OVERRIDE = QEvent.Type.ShortcutOverride
TEXT_LEFT, TEXT_RIGHT, INSET, CURSOR = 4, 6, 2, 2
"""Where the text stands within the field, and what the line edit leaves free at either side and for the cursor [px]."""

HINT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)


def _is_undo(event: QKeyEvent) -> bool:
    return event.matches(QKeySequence.StandardKey.Undo) or event.matches(QKeySequence.StandardKey.Redo)


def _without_mark(text: str) -> str:
    return text.strip().replace(",", "").replace(".", "")


class QuantityField(QLineEdit):
    """A line edit for a quantity in the unit its column names.

    The placeholder shows what holds while the field is empty. Escape brings back what was there before typing,
    A quiet field has a fainter frame until it is pointed at, for columns that are mostly read.
    Enter and leaving show the shortest text of the number, up and down go to the next field of the column.

    Signals
    -------
    typed : the number after each valid change, None for an emptied field.
    left : typing has ended.
    stepped : -1 or +1, the neighbour in the column that is wanted.
    """

    typed = Signal(object)
    left = Signal()
    stepped = Signal(int)

    def __init__(self, parent: QWidget, reader: Reader = read_plain, *, quiet: bool = False) -> None:
        super().__init__(parent)
        self._quiet = quiet
        self._reader = reader
        self._quantity: float | None = None
        self._taken: float | None = None
        self._before: float | None = None
        self._fault = ""
        self._strong = False
        self._home = QRect()
        self._read_text = ""
        self._read_value: float | None = None
        self._ground: Callable[[], QColor] | None = None
        self.setFrame(False)
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.setFont(theme.font())
        self.setFixedHeight(theme.px(24))
        clear = QPalette(self.palette())
        clear.setColor(QPalette.ColorRole.Base, QColor(0, 0, 0, 0))
        self.setPalette(clear)
        self.textEdited.connect(self._read)
        self.textChanged.connect(self._fit)
        self.returnPressed.connect(self._finish)

    def quantity(self) -> float | None:
        """Return the last number that was valid."""
        return self._quantity

    def fault(self) -> str:
        """Return why the text is not taken, or nothing."""
        return self._fault

    def set_quantity(self, value: float | None) -> None:
        """Show a number; text under the hand that means the same number, or is being mended, stays as typed."""
        if value == self._quantity and (self._fault or not self.hasFocus()):
            return
        if value != self._quantity:
            self._before = value  # changed elsewhere, by undo for one: that is what Escape brings back now
        if self._fault:
            self._set_fault("")
        if self.hasFocus() and self._means(value):
            self._quantity = value
            return
        self._quantity = value
        self._show()

    def set_hint(self, text: str) -> None:
        """Show what holds while the field is empty."""
        if text != self.placeholderText():
            self.setPlaceholderText(text)

    def set_strong(self, strong: bool) -> None:
        """Mark the number as one a person insisted on."""
        if strong != self._strong:
            self._strong = strong
            self.setFont(self._face())
            self.update()

    def refuse(self, reason: str) -> None:
        """Say that the number typed last was not taken, and why; the text stays to be mended."""
        self._quantity = self._taken
        self._set_fault(reason)

    def lie_on(self, ground: Callable[[], QColor]) -> None:
        """Paint the ground behind the round corners too: what is below need not be painted with the field."""
        self._ground = ground
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def put(self, home: QRect) -> None:
        """Lie at this place; while somebody types more than fits there, the field reaches over what is beside it."""
        self._home = home
        self._fit()

    def _fit(self) -> None:
        wanted = self._face().width(self.text()) + theme.px(18) if self.hasFocus() else 0
        place = self._home.adjusted(0, 0, max(0, wanted - self._home.width()), 0)
        if place != self.geometry() and not self._home.isNull():
            self.setGeometry(place)
            self.raise_()

    def _face(self) -> Face:
        return theme.font(strong=self._strong)

    def _means(self, value: float | None) -> bool:
        if not self.text().strip():
            return value is None
        if self.text() == self._read_text:
            return self._read_value == value  # said a moment ago what the text means
        try:
            return self._reader(self.text()).value == value
        except ValueError:
            return False

    def _read(self, text: str) -> None:
        echo, value = "", None
        self._read_text = ""
        try:
            if text.strip():
                value, echo = self._reader(text)
                self._read_text, self._read_value = text, value
        except ValueError as error:
            self._set_fault(refusal(error))
            self._send(self._before)
            return
        self._set_fault("")
        if echo and value is not None:
            FieldNote.show_for(self, say.understood(echo, format_short(value, 4)), warns=False)
        self._tell_marks(text)
        self._send(value)

    def _tell_marks(self, text: str) -> None:
        """Say aloud how a number was read that may be meant to have a mark for thousands: a factor of a thousand."""
        if looks_grouped(text):
            FieldNote.show_for(self, say.mark_is_decimal(text.strip(), _without_mark(text)))

    def _send(self, value: float | None) -> None:
        """Pass a number on; text on the way to a number, or away from one, leaves what was there before typing."""
        if value != self._quantity:
            self._taken, self._quantity = self._quantity, value
            self.typed.emit(value)

    def _finish(self) -> None:
        if not self._fault:
            self._show()
            self._before = self._quantity
            self.selectAll()

    def _show(self) -> None:
        text = "" if self._quantity is None else shortest(self._quantity)
        if text != self.text():
            self.setText(text)

    def _restore(self) -> None:
        self._set_fault("")
        self.setText("" if self._before is None else shortest(self._before))
        self.selectAll()
        self._send(self._before)

    def _set_fault(self, fault: str) -> None:
        FieldNote.show_for(self, fault)
        if fault == self._fault:
            return
        self._fault = fault
        self.setToolTip(fault)
        self.update()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.installEventFilter(self)
        self._before = self._quantity
        if event.reason() in (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason):
            self.selectAll()
        FieldNote.show_for(self, self._fault)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.deselect()
        self.removeEventFilter(self)
        FieldNote.show_for(self, "")
        if not self._fault:
            self._show()
        self._fit()
        self.left.emit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Look through its own events while it has the keyboard, and only then: it is one of many fields."""
        if event.type() == SHORTCUT_OVERRIDE and isinstance(event, QKeyEvent) and _is_undo(event):
            # Undo and redo are the recipe's, one press one step; only text that was refused is taken back here.
            event.setAccepted(bool(self._fault))
            return True
        return super().eventFilter(watched, event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = event.key()
        if _is_undo(event):
            if self._fault:
                self._restore()
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.stepped.emit(-1 if key == Qt.Key.Key_Up else 1)
        elif key == Qt.Key.Key_Escape:
            self._restore()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.setTextMargins(theme.px(TEXT_LEFT), 0, theme.px(TEXT_RIGHT), 0)

    def paintEvent(self, event: QPaintEvent) -> None:
        colours, held = theme.colours(), self.hasFocus()
        painter = QPainter(self)
        place = QRectF(self.rect())
        radius = theme.px(5)
        if self._fault:
            line = colours.stop
        elif self._strong:
            line = colours.accent
        else:
            line = colours.line if self._quiet and not self.underMouse() else colours.field_line
        ground = None if self._ground is None else self._ground()
        paint.panel(painter, place, colours.field, line, radius, ground)
        if self._fault or held:
            paint.focus_ring(painter, place, colours.stop if self._fault else colours.focus, radius - 1)
        mark = "mark-stop" if self._fault else "mark-fixed" if self._strong else ""
        side = theme.px(10)
        if mark and self.width() - self._face().width(self.text()) > theme.px(14) + 2 * side:
            spot = QRectF(theme.px(5), (self.height() - side) / 2, side, side)
            icons.draw(painter, mark, spot, colours.stop if self._fault else colours.accent)
        plain = not held and not self.hasSelectedText() and self._paint_text(painter)
        painter.end()
        if not plain:
            super().paintEvent(event)

    def _room(self) -> int:
        return self.width() - theme.px(TEXT_LEFT) - theme.px(TEXT_RIGHT) - 2 * INSET

    def resting_text(self) -> str:
        """Return what is shown while nobody types: the text, and of a long number as many digits as there is room for.

        Never fewer than four, and never its tail alone: under the hand the whole number stands there again.
        """
        text, room = self.text(), self._room() - CURSOR
        if self._fault or self._face().width(text) <= room or not _PLAIN_NUMBER.fullmatch(text):
            return text
        shorter = (shortest(float(f"{float(text):.{digits}g}")) for digits in range(9, LEAST_DIGITS - 1, -1))
        return next((one for one in shorter if self._face().width(one) <= room), text)

    def _paint_text(self, painter: QPainter) -> bool:
        """Paint the text as the line edit does, at a quarter of the work; returns whether it fits, else that has to."""
        text, hint = self.resting_text(), self.placeholderText()
        face, tall = self._face(), self._face().height()
        left = theme.px(TEXT_LEFT) + INSET
        room = self._room()
        if face.width(text or hint) + CURSOR > room or not self.isEnabled():
            return False
        colours, top = theme.colours(), (self.height() - tall + 1) // 2
        painter.setPen(colours.text if text else colours.muted)
        if text:
            face.draw(painter, left + room - face.width(text) - CURSOR, top, text)
        elif hint:
            painter.drawText(QRectF(left, top, room, tall), HINT, hint)
        return True
