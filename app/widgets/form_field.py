"""The field of a form: a quantity typed in any unit, shown in the unit beside it, and what was understood of it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QMetaMethod, Qt, Signal, SignalInstance
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence, QWheelEvent
from PySide6.QtWidgets import QWidget

from app.widgets import theme
from app.widgets.field_note import FieldNote
from app.widgets.measure import Heard, Measure
from app.widgets.quantity_field import QuantityField
from app.widgets.reading import Reading
from app.wording import editors as say
from app.wording import format_short
from app.wording.refusals import refusal

FIGURES = 6
"""Figures a converted quantity keeps: nearer than any scale, pump or jug, and short enough to be read whole."""

UNDO, REDO = QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo


class FormField(QuantityField):
    """A quantity field that is part of a draft.

    It sends while typing where it is `live`, else on leaving it or Enter. Undo and redo are the window's, except that
    undo first takes back text not sent yet. The unit a quantity is typed in becomes the unit shown only where somebody
    hears of it and can say so beside the field; everywhere else the field's unit is fixed, and what was typed in
    another one is converted: a number alone always means the unit that is read beside it.

    Signals
    -------
    remarked : what was understood of text that is not a plain number in the kept unit, or nothing; a note below the
        field where nobody hears it.
    unit_changed : a quantity was typed in another unit, which is now the unit shown.
    """

    remarked = Signal(str)
    unit_changed = Signal(str)

    def __init__(self, parent: QWidget, measure: Measure, name: str, *, live: bool = True) -> None:
        super().__init__(parent, self._reading)
        self.measure = measure
        self.unit = measure.unit
        self._live = live
        self._heard: Heard | None = None
        self._unsent = False
        self._waiting: float | None = None
        self._blamed = False
        self._noted = False
        self.setAccessibleName(name)
        self.setFixedHeight(theme.px(26))

    def set_unit(self, unit: str) -> None:
        """Show the quantity in this unit from now on; the quantity stays."""
        if unit != self.unit:
            self.unit = unit
            if not self._fault:
                self._show()
                self._remark()

    def blame(self, reason: str) -> None:
        """Mark the field as the cause of a refused draft, or take that back for no reason; its text stays."""
        if reason or self._blamed:
            self._blamed = bool(reason)
            self._set_fault(reason)
            FieldNote.show_for(self, "")  # the form says it, below the fields it is about

    def set_quantity(self, value: float | None) -> None:
        """Show a number, unless text typed here waits to be sent or mended."""
        if self._unsent and value == self._quantity:
            return
        same = value == self._quantity
        super().set_quantity(value)
        if not self._fault:
            self._unsent = False
            if not same:
                self._remark()

    def _reading(self, text: str) -> Reading:
        return Reading(self._hear(text).value)

    def _hear(self, text: str) -> Heard:
        """Understand text; what will be shown in another unit is rounded as it is shown, to six figures."""
        heard = self.measure.hear(text, self.unit)
        stays = heard.unit == self.unit or self._hears(self.unit_changed)
        if stays and not heard.compound:
            return heard
        return heard._replace(value=float(f"{heard.value:.{FIGURES}g}"))

    def _read(self, text: str) -> None:
        self._heard, self._blamed, value = None, False, None
        try:
            if text.strip():
                self._heard = self._hear(text)
                value = self._heard.value
        except ValueError as error:
            self._unsent = False
            self._set_fault(refusal(error))
            self.remarked.emit("")
            if self._live:
                self._send(self._before)
            return
        self._set_fault("")
        self._say_heard()
        self._tell_marks(text)
        self._unsent, self._waiting = not self._live, value
        if self._live:
            self._send(value)

    def _say_heard(self) -> None:
        heard = self._heard
        if heard is None or heard.plain:
            self._tell("")
            return
        same = heard.unit == self.measure.unit and not heard.compound
        words = say.equals(self._kept_text(heard.value), "" if same else heard.words)
        self._tell(words)
        as_beside = heard.unit == self.unit != self.measure.unit and not heard.compound
        if not as_beside and not self._hears(self.remarked):
            self._noted = True
            FieldNote.show_for(self, words, warns=False)

    def _remark(self) -> None:
        """Say the kept quantity where another unit is shown."""
        shown_elsewise = self.unit != self.measure.unit and self._quantity is not None
        self._tell(say.equals(self._kept_text(self._quantity or 0.0), "") if shown_elsewise else "")

    def _tell(self, words: str) -> None:
        """Say what was understood; a note of what was understood before is out of date."""
        self.remarked.emit(words)
        if self._noted:
            self._noted = False
            FieldNote.show_for(self, "")

    def _hears(self, signal: SignalInstance) -> bool:
        return self.isSignalConnected(QMetaMethod.fromSignal(signal))

    def _kept_text(self, value: float) -> str:
        return say.kept(format_short(value, 4), self.measure.unit + self.measure.per, self.measure.of)

    def _deliver(self) -> None:
        if self._fault:
            return
        heard, self._heard = self._heard, None
        self.setModified(False)
        if self._unsent:
            self._unsent = False
            self._send(self._waiting)
        elsewise = heard is not None and (heard.compound or heard.unit != self.unit)
        if elsewise and heard is not None and not heard.compound and self._hears(self.unit_changed):
            elsewise = False
            self.unit = heard.unit
            self.unit_changed.emit(heard.unit)
        if not self._fault:
            self._show()
            if heard is not None and not elsewise:
                self._remark()  # else what was typed is no longer to be seen, so it stays told what was understood

    def _finish(self) -> None:
        self._deliver()
        super()._finish()
        self.selectAll()  # refused or not, what is typed next takes its place

    def _show(self) -> None:
        text = "" if self._quantity is None else self.measure.text(self._quantity, self.unit)
        if text != self.text():
            self.setText(text)

    def _restore(self) -> None:
        self._heard, self._unsent, self._blamed = None, False, False
        self._set_fault("")
        self.setText("" if self._before is None else self.measure.text(self._before, self.unit))
        self.selectAll()
        self._send(self._before)
        self._remark()

    def _untouched(self) -> bool:
        return not self.isModified() and not self._fault

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            if event.matches(UNDO) and (self._fault or self._unsent):
                event.accept()
                return True
            if event.matches(UNDO) or event.matches(REDO):
                event.ignore()
                return False
        return super().event(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self._deliver()
        super().focusOutEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.setModified(False)
        if self._blamed:
            FieldNote.show_for(self, "")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self._untouched():
            event.ignore()
        elif event.matches(UNDO):
            self._restore()
        else:
            super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()  # turning the wheel scrolls the form, whatever it is over

    def hideEvent(self, event: QEvent) -> None:
        FieldNote.show_for(self, "")
