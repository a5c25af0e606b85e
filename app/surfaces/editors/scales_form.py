"""The scales at hand: what each carries and the smallest step it shows."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from app.widgets import theme
from app.widgets.form import Words
from app.widgets.form_field import FormField
from app.widgets.measure import GRAMS
from app.wording import editors as say
from app.wording import editors_tanks as of_tanks
from core.recipe.records import Scale

ROWS = 2


class ScalesForm(QWidget):
    """Rows for a few scales; a row filled in is a scale, a row emptied is none."""

    def __init__(self, parent: QWidget, changed: Callable[[tuple[Scale, ...]], None]) -> None:
        super().__init__(parent)
        self.setAccessibleName(of_tanks.scales_title())
        self._changed = changed
        self._scales: tuple[Scale, ...] = ()
        self.rows: list[tuple[FormField, FormField]] = []
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(theme.px(3))
        layout.addWidget(Words(self, of_tanks.scales_title(), muted=False, strong=True))
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(theme.px(6))
        self._grid.setVerticalSpacing(theme.px(3))
        self._grid.setColumnStretch(5, 1)
        for number in range(ROWS):
            self._add_row(number)
        layout.addLayout(self._grid)
        self.note = Words(self)
        layout.addWidget(self.note)

    def _add_row(self, number: int) -> None:
        fields = []
        for column, words in enumerate(of_tanks.scale_parts()):
            label = QLabel(words, self)
            label.setFont(theme.font())
            field = FormField(self, GRAMS, of_tanks.scale_field(number + 1, words), live=False)
            field.setFixedWidth(theme.px(92))
            label.setBuddy(field)
            self._grid.addWidget(label, number, 2 * column)
            self._grid.addWidget(field, number, 2 * column + 1)
            field.typed.connect(lambda _grams: self._collect())
            fields.append(field)
        unit = QLabel(say.unit("g"), self)
        unit.setFont(theme.font(12.5))
        self._grid.addWidget(unit, number, 4)
        if self.rows:
            QWidget.setTabOrder(self.rows[-1][1], fields[0])
            QWidget.setTabOrder(fields[0], fields[1])
        self.rows.append((fields[0], fields[1]))

    def show_scales(self, scales: tuple[Scale, ...]) -> None:
        """Show these; half a scale that is being typed stays."""
        if scales == self._scales:
            return
        self._scales = scales
        self._keep_rows(len(scales) + 1)
        for number, (capacity, step) in enumerate(self.rows):
            scale = scales[number] if number < len(scales) else None
            capacity.set_quantity(None if scale is None else scale.capacity_g)
            step.set_quantity(None if scale is None else scale.readability_g)

    def _keep_rows(self, count: int) -> None:
        for number in range(len(self.rows), count):
            self._add_row(number)
            for part in self.rows[-1]:
                part.show()  # at once, for the keyboard may go on before the next turn of the event loop

    def _collect(self) -> None:
        pairs = [(capacity.quantity(), step.quantity()) for capacity, step in self.rows]
        half = any((capacity is None) != (step is None) for capacity, step in pairs)
        self.note.say(of_tanks.half_a_scale() if half else "")
        if half:
            return
        self._scales = tuple(Scale(c, s) for c, s in pairs if c is not None and s is not None)
        self._keep_rows(len(self._scales) + 1)
        self._changed(self._scales)
