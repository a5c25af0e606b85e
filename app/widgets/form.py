"""Rows of a form: label, field, unit, and what was understood, each reachable by its name and its keys."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QCheckBox, QGridLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from app.paper.text import unbroken
from app.widgets import theme
from app.widgets.choice import Choice
from app.widgets.form_field import FormField
from app.widgets.form_text import FormText
from app.widgets.measure import Measure
from app.wording import editors as say

FIELD, UNIT, LABEL = 92, 116, 132


class Words(QLabel):
    """A line or a few of plain text; takes no room while it says nothing."""

    def __init__(self, parent: QWidget, text: str = "", *, muted: bool = True, strong: bool = False) -> None:
        super().__init__(parent)
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setFont(theme.font(12, strong=strong))
        self._muted = muted
        self._said = ""
        if muted:
            self.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        self.say(text)

    def text(self) -> str:
        """Return the text as it was given, without what holds its numbers to their units."""
        return self._said

    def say(self, text: str, *, warns: bool = False) -> None:
        """Show this text with numbers held to their units, in the colour of what is wrong where it warns."""
        if text != self._said or self.isHidden() == bool(text):
            self._said = text
            self.setText(_held(text))
            self.setAccessibleName(text)
            self.setVisible(bool(text))
        if warns or not self._muted:
            palette = QPalette(self.palette())
            palette.setColor(QPalette.ColorRole.WindowText, theme.colours().stop if warns else theme.colours().text)
            self.setPalette(palette)
            self.setForegroundRole(QPalette.ColorRole.WindowText)


def _held(text: str) -> str:
    """The text with numbers held to their units and units in one piece: a line may end at a stroke otherwise."""
    return unbroken(text).replace("/L", "/\N{WORD JOINER}L").replace("/cm", "/\N{WORD JOINER}cm")


class Section(QWidget):
    """A titled grid of rows."""

    def __init__(self, parent: QWidget, title: str = "") -> None:
        super().__init__(parent)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(theme.px(4))
        if title:
            outer.addWidget(Words(self, title, muted=False, strong=True))
            self.setAccessibleName(title)
        self.grid = QGridLayout()
        self.grid.setHorizontalSpacing(theme.px(6))
        self.grid.setVerticalSpacing(theme.px(3))
        self.grid.setColumnMinimumWidth(0, theme.px(LABEL))
        self.grid.setColumnStretch(3, 1)
        outer.addLayout(self.grid)
        self.outer = outer
        self.fields: list[FormField] = []
        self._labels: dict[QWidget, QLabel] = {}
        self._units: dict[QWidget, QWidget] = {}

    def label_of(self, part: QWidget) -> QLabel:
        """Return the label of a row by its field or choice."""
        return self._labels[part]

    def set_unit_words(self, field: FormField, words: str) -> None:
        """Show these words behind a field that has one unit only."""
        unit = self._units[field]
        if isinstance(unit, QLabel):
            unit.setText(words)

    def add_quantity(
        self,
        label: str,
        measure: Measure,
        typed: Callable[[float | None], object],
        *,
        live: bool = True,
        shown_unit: str = "",
        name: str = "",
        hint: str = "",
    ) -> FormField:
        """Add a row for a quantity with a choice of units, and return its field."""
        row = self.grid.rowCount()
        field = FormField(self, measure, name or label, live=live)
        field.setFixedWidth(theme.px(FIELD))
        field.set_unit(shown_unit or measure.unit)
        field.set_hint(hint)
        remark = Words(self)
        self.grid.addWidget(self._label(label, field), row, 0)
        self.grid.addWidget(field, row, 1)
        self._units[field] = _units(self, field, label)
        self.grid.addWidget(self._units[field], row, 2)
        self.grid.addWidget(remark, row, 3)
        field.remarked.connect(remark.say)
        field.typed.connect(typed)
        number = len(self.fields)
        self.fields.append(field)
        field.stepped.connect(lambda by: self._step(number + by))
        return field

    def add_text(
        self, label: str, entered: Callable[[str], object], *, hint: str = "", short: bool = False
    ) -> FormText:
        """Add a row for a line of text, which may be short, and return it."""
        row = self.grid.rowCount()
        text = FormText(self, label)
        text.setPlaceholderText(hint)
        text.entered.connect(entered)
        self.grid.addWidget(self._label(label, text), row, 0)
        self.grid.addWidget(text, row, 1, 1, 2 if short else 3)
        return text

    def add_choice(self, label: str, pairs: list[tuple[str, str]], chosen: Callable[[str], object]) -> Choice:
        """Add a row for a choice among a few and return it."""
        row = self.grid.rowCount()
        choice = Choice(self, label, pairs)
        choice.chosen.connect(chosen)
        self.grid.addWidget(self._label(label, choice), row, 0)
        self.grid.addWidget(choice, row, 1, 1, 2)
        return choice

    def add_check(self, label: str, changed: Callable[[bool], object]) -> QCheckBox:
        """Add a row with a box to tick and return it."""
        row = self.grid.rowCount()
        box = QCheckBox(label, self)
        box.setFont(theme.font())
        box.clicked.connect(changed)
        self.grid.addWidget(box, row, 1, 1, 3)
        return box

    def add_words(self, words: Words) -> Words:
        """Add a line across the whole section and return it."""
        self.grid.addWidget(words, self.grid.rowCount(), 0, 1, 4)
        return words

    def _label(self, text: str, buddy: QWidget) -> QLabel:
        label = QLabel(text, self)
        label.setFont(theme.font())
        label.setBuddy(buddy)
        self._labels[buddy] = label
        return label

    def _step(self, wanted: int) -> None:
        if 0 <= wanted < len(self.fields):
            self.fields[wanted].setFocus(Qt.FocusReason.TabFocusReason)


def _units(parent: QWidget, field: FormField, label: str) -> QWidget:
    """Return the choice of units of a field; the mouse's way only, as the keyboard types the unit behind the number."""
    measure = field.measure
    units = (measure.unit, *measure.others)
    if len(units) < 2:
        plain = QLabel(say.unit(measure.label(measure.unit)), parent)
        plain.setFont(theme.font(12.5))
        plain.setFixedWidth(theme.px(UNIT))
        plain.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        return plain
    choice = Choice(parent, say.unit_of(label), [(unit, say.unit(measure.label(unit))) for unit in units])
    choice.set_key(field.unit, say.unit(measure.label(field.unit)))
    choice.setFixedWidth(theme.px(UNIT))
    choice.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
    choice.chosen.connect(field.set_unit)
    field.unit_changed.connect(lambda unit: choice.set_key(unit, say.unit(measure.label(unit))))
    return choice
