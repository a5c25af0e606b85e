"""The one thing to weigh now, readable from across the bench, with the button that ticks it off."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QLabel, QWidget

from app.surfaces.weighout.bench_sheet import Line
from app.widgets import theme
from app.widgets.form_field import FormField
from app.widgets.laid_card import LaidCard, Text
from app.widgets.main_button import MainButton
from app.widgets.measure import GRAMS, Measure
from app.wording import editors
from app.wording import weighout as say
from core.logbook.worklist import grams_of

BESIDE_FROM = 520
POURED = Measure("volume", "mL", others=("L", "US fl oz"))


class NowCard(LaidCard):
    """Product, weight, scale, step and care; the button notes the weight asked for, or the one typed beside it.

    A weight that its scale cannot have shown is asked back first.

    Signals
    -------
    weighed : grams that really went in, or None for as many as asked for.
    height_changed : it needs another height.
    """

    weighed = Signal(object)
    height_changed = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, "")
        self._line: Line | None = None
        self._asked: float | None = None
        self.name = Text(self, 17, strong=True)
        self.weight = Text(self, 44, strong=True)
        self.scale = Text(self, 14, role="muted")
        self.goes = Text(self, 14, strong=True)
        self.remark = Text(self, 12.5, role="muted")
        self.sentence = Text(self, 13.5)
        self.care = Text(self, 12.5, role="check")
        self.question = Text(self, 13.5, strong=True, role="stop")
        for part in (self.name, self.weight, self.scale, self.goes, self.remark):
            self.column.addWidget(part)
        self.buttons = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self.buttons.setSpacing(theme.px(10))
        self.button = MainButton(self)
        self.button.clicked.connect(self._note)
        self.other = _Other(self)
        self.other.field.textChanged.connect(self._retyped)
        self.other.field.returnPressed.connect(self._note)
        self.buttons.addWidget(self.button)
        self.buttons.addWidget(self.other)
        self.buttons.addStretch(1)
        self.column.addLayout(self.buttons)
        for part in (self.question, self.sentence, self.care):
            self.column.addWidget(part)

    def show_line(self, line: Line | None, progress: str, sentence: str, *, all_done: bool) -> None:
        """Show what to weigh now; None with `all_done` when nothing is left."""
        fresh = _key(line) != _key(self._line)
        self._line = line
        self.set_title(progress)
        shown = line is not None
        self.name.say("" if line is None else say.more_of(line.name) if line.more else line.name)
        weight = "" if line is None else say.add_more(line.weight) if line.more else line.weight
        self.weight.say(weight if shown else say.all_in() if all_done else "")
        self.scale.say("" if line is None else _scale_words(line))
        self.goes.say(say.in_goes(line.goes) if line is not None and line.goes else "")
        self.remark.say("" if line is None else "; ".join(part for part in (line.remark, line.was) if part))
        self.sentence.say(sentence if shown else say.now_mix() if all_done else "")
        care = () if line is None else (line.wear, line.hazards, *line.rules)
        self.care.say(" ".join(one for one in care if one))
        for part in (self.button, self.other):
            part.setVisible(shown)
        if line is not None:
            if fresh:
                self.other.clear(line)
            self._show_button()

    def line(self) -> Line | None:
        """Return what is shown."""
        return self._line

    def _retyped(self, _text: str) -> None:
        """Typed, or taken back by Escape: the button names another weight, and what was asked back is settled."""
        self._ask("")
        self._show_button()

    def _ask(self, question: str) -> None:
        self._asked = None
        if question != self.question.accessibleName() or self.question.isHidden() == bool(question):
            self.question.say(question)
            self.height_changed.emit()

    def _show_button(self) -> None:
        line, field = self._line, self.other.field
        if line is None:
            return
        button = say.weighed_button if line.item.millilitres is None else say.poured_button
        self.button.set_text(button(self._weight_typed() or line.weight))
        self.button.setEnabled(not field.fault())

    def _weight_typed(self) -> str:
        field = self.other.field
        typed = field.text().strip()
        return f"{typed} {field.unit}" if typed and typed.replace(".", "").replace(",", "").isdigit() else typed

    def _note(self) -> None:
        field = self.other.field
        if self._line is None or field.fault():
            return
        typed = field.quantity()
        poured = self._line.item.millilitres is not None and typed is not None
        if typed is not None and typed != self._asked and _is_over(self._line, typed):
            self._ask(_over_words(self._line, self._weight_typed()))
            self._asked = typed
            return
        self.weighed.emit(grams_of(self._line.item, typed) if poured and typed is not None else typed)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self._asked is not None:
            self.other.field.set_quantity(None)  # it was not that
            self.other.field.clear()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._turn(self.width())

    def least_height(self, width: int) -> int:
        self._turn(width)
        return super().least_height(width)

    def _turn(self, width: int) -> None:
        """Put the field beside the button, or below it where that is too narrow."""
        needed = self.button.sizeHint().width() + self.other.sizeHint().width() + theme.px(60)
        beside = width >= max(theme.px(BESIDE_FROM), needed)
        wanted = QBoxLayout.Direction.LeftToRight if beside else QBoxLayout.Direction.TopToBottom
        if wanted != self.buttons.direction():
            self.buttons.setDirection(wanted)


def _is_over(line: Line, grams: float) -> bool:
    """Return whether a weight is more than its scale can have shown, in as many goes as it was to be weighed in."""
    item = line.item
    if item.capacity_g is None or item.millilitres is not None:
        return False
    return grams > item.capacity_g * len(item.loads_g)


def _over_words(line: Line, weight: str) -> str:
    from app.paper.amounts import capacity  # paper is loaded by what is shown here already

    return say.over_the_scale(
        weight, capacity(line.item.capacity_g or 0.0, in_ounces=line.in_ounces), len(line.item.loads_g)
    )


def _key(line: Line | None) -> tuple[object, ...]:
    """What a typed weight belongs to: for anything else the field begins empty."""
    return () if line is None else (line.item.place, line.more, line.in_ounces)


class _Other(QWidget):
    """A field for what really went in, which counts once the button is pressed."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.px(6))
        label = QLabel(say.or_it_was(), self)
        label.setFont(theme.font())
        label.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        self.field = FormField(self, GRAMS, say.or_it_was())
        self.field.setFixedWidth(theme.px(92))
        self.field.setFixedHeight(theme.px(32))
        label.setBuddy(self.field)
        self._unit = QLabel(self)
        self._unit.setFont(theme.font())
        self.field.unit_changed.connect(lambda unit: self._unit.setText(editors.unit(unit)))
        for part in (label, self.field, self._unit):
            row.addWidget(part)
        row.addStretch(1)

    def clear(self, line: Line) -> None:
        """Be empty, for this product."""
        poured = line.item.millilitres is not None
        unit = "mL" if poured else "oz" if line.in_ounces else "g"
        self.field.measure = POURED if poured else GRAMS
        self.field.set_quantity(None)
        self.field.clear()
        self.field.set_unit(unit)
        self._unit.setText(editors.unit(unit))
        self.field.setAccessibleName(say.it_was_name(line.name))


def _scale_words(line: Line) -> str:
    scale = say.on_scale(line.scale) if line.item.step_g is not None and not line.item.from_bottle else line.scale
    return "  ".join(part for part in (scale, line.also) if part)


def focus_field(card: NowCard) -> None:
    """Put the keyboard where what really went in is typed."""
    card.other.field.setFocus(Qt.FocusReason.TabFocusReason)
