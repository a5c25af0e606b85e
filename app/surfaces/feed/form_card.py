"""A card of labelled fields in her units, for what is stated beside the steps."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from app.widgets import theme
from app.widgets.choice import Choice
from app.widgets.form_field import FormField
from app.widgets.laid_card import LaidCard
from app.widgets.measure import Measure
from app.wording import editors

FIELD = 84


class FormCard(LaidCard):
    """Rows of a label, a field and its unit, in one or two columns."""

    def __init__(self, parent: QWidget, title: str) -> None:
        super().__init__(parent, title)
        self.grid = QGridLayout()
        self.grid.setHorizontalSpacing(theme.px(8))
        self.grid.setVerticalSpacing(theme.px(5))
        self.grid.setColumnStretch(2, 1)
        self.column.addLayout(self.grid)
        self.units: dict[FormField, Choice | QLabel] = {}

    def add_quantity(
        self,
        label: str,
        measure: Measure,
        typed: Callable[[float | None], object],
        *,
        hint: str = "",
        unit_words: str = "",
        name: str = "",
    ) -> FormField:
        """Add a row for a quantity; its unit is chosen behind it, or typed, or stands there where there is only one."""
        row = self.grid.rowCount()
        field = FormField(self, measure, name or label)
        field.setFixedWidth(theme.px(FIELD))
        field.set_hint(hint)
        field.typed.connect(typed)
        said = QLabel(label, self)
        said.setFont(theme.font())
        said.setBuddy(field)
        self.grid.addWidget(said, row, 0)
        self.grid.addWidget(field, row, 1)
        unit = self._unit(field, label, unit_words)
        self.units[field] = unit
        self.grid.addWidget(unit, row, 2, Qt.AlignmentFlag.AlignLeft)
        return field

    def add_choice(self, label: str, pairs: list[tuple[str, str]], chosen: Callable[[str], object]) -> Choice:
        """Add a row for a choice."""
        row = self.grid.rowCount()
        choice = Choice(self, label, pairs)
        choice.chosen.connect(chosen)
        said = QLabel(label, self)
        said.setFont(theme.font())
        said.setBuddy(choice)
        self.grid.addWidget(said, row, 0)
        self.grid.addWidget(choice, row, 1, 1, 2, Qt.AlignmentFlag.AlignLeft)
        return choice

    def row_of(self, field: FormField) -> int:
        """Return the row a field stands in."""
        return next(row for row in range(self.grid.rowCount()) if self._stands_in(row, field))

    def _stands_in(self, row: int, field: FormField) -> bool:
        item = self.grid.itemAtPosition(row, 1)
        return item is not None and item.widget() is field

    def show_unit(self, field: FormField, unit: str) -> None:
        """Show a field's quantity in this unit."""
        field.set_unit(unit)
        shown = self.units[field]
        if isinstance(shown, Choice):
            shown.set_key(unit, editors.unit(unit))

    def _unit(self, field: FormField, label: str, words: str) -> Choice | QLabel:
        measure = field.measure
        if not measure.others:
            plain = QLabel(words, self)
            plain.setFont(theme.font(12.5))
            plain.setForegroundRole(QPalette.ColorRole.PlaceholderText)
            return plain
        pairs = [(unit, editors.unit(unit)) for unit in (measure.unit, *measure.others)]
        choice = Choice(self, editors.unit_of(label), pairs)
        choice.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        choice.chosen.connect(field.set_unit)
        field.unit_changed.connect(lambda unit: choice.set_key(unit, editors.unit(unit)))
        return choice
