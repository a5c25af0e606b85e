"""The one thing to do now at the reservoir: large enough for wet hands at arm's length, done by one key."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from app.surfaces.feed.step_line import BULLET, paint_bullet
from app.surfaces.feed.writing import Writing
from app.widgets import paint, theme
from app.widgets.ec_reading import EC_READING
from app.widgets.face import Face
from app.widgets.form_field import FormField
from app.widgets.laid_card import Text
from app.widgets.main_button import MainButton
from app.widgets.measure import NUMBER, Measure
from app.wording import editors
from app.wording import feed as words
from app.wording import feed_surface as say
from core.plan.feeding_records import Done

if TYPE_CHECKING:
    from app.surfaces.feed.dosing import Dosing
    from core.plan.feeding_records import Feeding, Step

POUR = Measure("volume", "mL", others=("L", "US fl oz", "imp fl oz", "US tsp", "US tbsp"))
WATER = Measure("volume", "L", others=("mL", "US gal", "imp gal", "US fl oz", "imp fl oz"))
FLUID = {"metric": "mL", "us": "US fl oz", "imperial": "imp fl oz"}
LARGE = {"metric": "L", "us": "US gal", "imperial": "imp gal"}
PAD, INDENT = 14, 40
BIG, FIELD = 34, 128


class BigField(FormField):
    """A field whose figures are read from across the bench."""

    def __init__(self, parent: QWidget, measure: Measure, name: str) -> None:
        super().__init__(parent, measure, name)
        self.setFont(self._face())
        self.setFixedSize(theme.px(FIELD), theme.px(40))

    def _face(self) -> Face:
        return theme.font(20, strong=True)


class NowPanel(QWidget):
    """Shows a step; the main button, or Enter in a field, does it.

    Signals
    -------
    done : a `Done` to do the step with.
    written : the name of the reservoir to write into, "" to leave it.
    """

    done = Signal(object)
    written = Signal(str)

    def __init__(self, parent: QWidget, dosing: Dosing) -> None:
        super().__init__(parent)
        self._dosing = dosing
        self._number = 1
        self._step: Step | None = None
        self.title = Text(self, 15, strong=True)
        self.alarm = Text(self, 13.5, strong=True, role="stop")
        self.lines = QGridLayout()
        self._lines: list[tuple[Text, Text]] = []
        self.says = Text(self, 13.5)
        self.remark = Text(self, 12.5, role="muted")
        self.care = Text(self, 12.5, role="check")
        self._others = QVBoxLayout()
        self.fields: dict[str, FormField] = {}
        self.reading = BigField(self, EC_READING, say.take_reading())
        self.ph = BigField(self, NUMBER, say.reading_name("read-ph", ""))
        self.unit = Text(self, 15, role="muted")
        self.writing = Writing(self, dosing)
        self.button, self.other = MainButton(self), MainButton(self, quiet=True)
        self.button.clicked.connect(self._take)
        self.other.clicked.connect(self._turn)
        for field in (self.reading, self.ph):
            field.returnPressed.connect(self._take)
            field.typed.connect(lambda _value: self._show_button())
        self.reading.unit_changed.connect(self._take_unit)
        self.reading.remarked.connect(self.remark.say)
        self._lay()

    def _lay(self) -> None:
        """Put everything below each other."""
        column, pad = QVBoxLayout(self), theme.px(PAD)
        column.setContentsMargins(theme.px(INDENT), theme.px(11), pad, pad)
        column.setSpacing(theme.px(6))
        self.lines.setHorizontalSpacing(theme.px(12))
        self.lines.setVerticalSpacing(0)
        self.lines.setColumnStretch(1, 1)
        self.unit.setWordWrap(False)
        column.addWidget(self.title)
        column.addWidget(self.alarm)
        column.addLayout(self.lines)
        column.addWidget(self.says)
        column.addLayout(_row(self.reading, self.ph, self.unit))
        column.addLayout(self._others)
        column.addWidget(self.writing)
        column.addWidget(self.remark)
        column.addWidget(self.care)  # gloves come before the button
        column.addSpacing(theme.px(2))
        column.addLayout(_row(self.button, self.other))

    def show_step(self, told: Feeding) -> None:
        """Show the present step of a dosing."""
        step, dosing = told.step, self._dosing
        fresh = (told.now + 1, step) != (self._number, self._step)
        self._step, self._number = step, told.now + 1
        self.title.say(words.title(step, dosing.asked.holds))
        stops = [words.remark(one) for one in told.remarks if one.level == "stop"]
        self.alarm.say(" ".join(stops))
        self._show_lines(step)
        self._show_reading(step)
        if fresh:
            self._drop_fields()
            for field in (self.reading, self.ph):
                field.set_quantity(None)
                field.clear()
        self.says.say(say.unbroken(self._sentence(step)))
        if step.kind in ("read", "read-start", "read-ph"):
            self.remark.say(words.over_text(step, dosing.system, dosing.meter))
        else:
            self.remark.say(self._remark(told, step))
        self.care.say(words.acid_care(step.drop.salt) if step.drop is not None else "")
        self.writing.setVisible(step.kind == "finish")
        self.writing.show_reservoirs()
        self._show_button()
        text = " ".join(part for part in (self.spoken(), self.says.text()) if part)
        self.setAccessibleName(say.step_name(self._number, self.title.text(), text))
        self.update()

    def refuse(self, reason: str) -> None:
        """Say why what was typed cannot be."""
        self.alarm.say(reason)

    def spoken(self) -> str:
        """Return the large lines as one text."""
        return ", ".join(
            f"{big.accessibleName()} {rest.accessibleName()}".strip() for big, rest in self._lines if not big.isHidden()
        )

    def first(self) -> QWidget:
        """Return where the keyboard belongs now."""
        if self._step is None or self._step.kind in ("read", "read-start"):
            return self.reading
        if self._step.kind == "read-ph":
            return self.ph
        if self._step.kind == "finish":
            return self.writing.first() or self.button
        return next(iter(self.fields.values()), self.button)

    def take_keyboard(self) -> None:
        """Put the keyboard where the step is done."""
        self.first().setFocus(Qt.FocusReason.TabFocusReason)

    def _show_lines(self, step: Step) -> None:
        system = self._dosing.system
        lines = [(words.millilitres(pour.ml, system), say.of_part(pour.content)) for pour in step.pours]
        if step.drop is not None:
            lines = [(words.amount(step.drop, system), words.product_within(step.drop))]
        if step.water_l is not None:
            lines = [(words.volume(step.water_l, system), say.of_water())]
        if step.kind == "finish" and self._dosing.told is not None:
            lines = say.finish_lines(self._dosing.told, self._dosing.meter)
        while len(self._lines) < len(lines):
            big, rest = Text(self, BIG, strong=True), Text(self, 15)
            big.setWordWrap(False)
            row = len(self._lines)
            self.lines.addWidget(big, row, 0, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBaseline)
            self.lines.addWidget(rest, row, 1, Qt.AlignmentFlag.AlignBaseline)
            self._lines.append((big, rest))
        for place, pair in enumerate(self._lines):
            shown = lines[place] if place < len(lines) else ("", "")
            for text, part in zip(shown, pair, strict=True):
                part.say(text)

    def _show_reading(self, step: Step) -> None:
        ec = step.kind in ("read", "read-start")
        meter = self._dosing.meter
        self.reading.setVisible(ec)
        self.ph.setVisible(step.kind == "read-ph")
        if ec:
            self.reading.set_unit(meter.unit)
            self.reading.setAccessibleName(say.reading_name(step.kind, words.scale(meter.unit)))
        self.unit.say(words.scale(meter.unit) if ec else "pH" if step.kind == "read-ph" else "")

    def _sentence(self, step: Step) -> str:
        if step.kind in ("read", "read-start", "read-ph"):
            return words.read_text(step, self._dosing.meter)
        expected = words.expect_text(step, self._dosing.meter)
        return say.stir_each(expected) if step.pours else expected

    def _remark(self, told: Feeding, step: Step) -> str:
        parts = []
        if step.pours:
            parts = [words.factor_text(told)]
            if step.kind == "pour-first":
                parts.append(words.in_all_text(told, self._dosing.system))
            also = words.other_units(step.pours, self._dosing.system)
            parts.insert(0, also)
        return " ".join(part for part in parts if part)

    def _show_button(self) -> None:
        step = self._step
        if step is None:
            return
        field = self._field()
        reads = field is not None
        self.button.set_text(say.take_reading() if reads else say.poured_button(step.kind))
        self.button.setEnabled(field is None or (field.quantity() is not None and not field.fault()))
        others = {"read-ph": say.leave_out_ph(), "finish": say.no_writing(), "add-water": say.another_water()}
        text = others.get(step.kind, "" if reads else say.another_amount())
        self.other.set_text(say.as_told() if self.fields else text)
        self.other.setVisible(bool(text))

    def _field(self) -> FormField | None:
        """The field of a reading that is due."""
        if self._step is not None and self._step.kind in ("read", "read-start"):
            return self.reading
        return self.ph if self._step is not None and self._step.kind == "read-ph" else None

    def _take_unit(self, unit: str) -> None:
        from dataclasses import replace

        if unit != self._dosing.meter.unit:
            self._dosing.choose_meter(replace(self._dosing.meter, unit=unit))

    def _take(self) -> None:
        """Do the step with what stands in the fields."""
        step, field = self._step, self._field()
        if step is None:
            return
        if field is not None:
            self._take_reading(field)
        elif step.kind == "finish":
            self.writing.write()
        elif not self.fields:
            self.done.emit(Done())
        elif all(one.quantity() is not None and not one.fault() for one in self.fields.values()):
            self.done.emit(self._other_amounts(step))

    def _take_reading(self, field: FormField) -> None:
        value = field.quantity()
        if value is None or field.fault():
            return
        if field is self.ph:
            self.done.emit(Done(ph=value))
        else:
            self.done.emit(Done(ec_ms_per_cm=self._dosing.meter.to_25_c(value)))

    def _other_amounts(self, step: Step) -> Done:
        values = {name: field.quantity() or 0.0 for name, field in self.fields.items()}
        if step.pours:
            return Done(parts_ml=values)
        return Done(water_l=values[""]) if step.water_l is not None else Done(amount=values[""])

    def _turn(self) -> None:
        """The quiet button: type another amount, or do without a pH or the diary."""
        step = self._step
        if step is None:
            return
        if step.kind == "read-ph":
            self.done.emit(Done())
        elif step.kind == "finish":
            self.written.emit("")
        elif self.fields:
            self._drop_fields()
            self._show_button()
            self.button.setFocus(Qt.FocusReason.TabFocusReason)
        else:
            self._offer_fields(step)

    def _offer_fields(self, step: Step) -> None:
        system = self._dosing.system
        wanted = [(pour.name, POUR, FLUID[system], pour.ml, say.poured_name(pour.content)) for pour in step.pours]
        if step.water_l is not None:
            wanted = [("", WATER, LARGE[system], step.water_l, say.of_water())]
        if step.drop is not None:
            wanted = [("", NUMBER, step.drop.unit, step.drop.amount, words.product(step.drop))]
        for name, measure, unit, amount, label in wanted:
            self._add_field(name, measure, unit, amount, label)
        self._show_button()
        first = self.first()
        first.setFocus(Qt.FocusReason.TabFocusReason)

    def _add_field(self, name: str, measure: Measure, unit: str, amount: float, label: str) -> None:
        row = QWidget(self)
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        field = BigField(row, measure, label)
        if measure.kind is None:
            field.set_quantity(words.rounded(amount))
        else:  # as it was told, to be typed over
            field.set_unit(unit)
            told = words.millilitres if measure is POUR else words.volume
            field.set_quantity(measure.hear(told(amount, self._dosing.system), unit).value)
        said = Text(row, 14)
        said.setWordWrap(False)
        said.say(f"{editors.unit(unit)}  {label}")
        field.unit_changed.connect(lambda other: said.say(f"{editors.unit(other)}  {label}"))
        field.returnPressed.connect(self._take)
        field.typed.connect(lambda _value: self._show_button())
        line.addWidget(field)
        line.addWidget(said)
        line.addStretch(1)
        self.fields[name] = field
        self._others.addWidget(row)
        row.show()

    def _drop_fields(self) -> None:
        self.fields = {}
        while (item := self._others.takeAt(0)) is not None:
            if (row := item.widget()) is not None:
                row.hide()
                row.deleteLater()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        paint.panel(painter, QRectF(self.rect()), colours.rail_chosen, colours.wanted_line, theme.px(8))
        side = theme.px(BULLET)
        paint_bullet(painter, QRectF(theme.px(9), theme.px(10), side, side), self._number, "now")


def _row(*parts: QWidget) -> QHBoxLayout:
    """Parts side by side, from the left."""
    row = QHBoxLayout()
    row.setSpacing(theme.px(10))
    for part in parts:
        row.addWidget(part)
    row.addStretch(1)
    return row
