"""The aim's numbers: a row per nutrient, target and wanted range, limits; weights behind a detail."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from app.surfaces.editors import aim_changes
from app.surfaces.editors.pasting import watch_paste
from app.widgets import theme
from app.widgets.form_field import FormField
from app.widgets.measure import NUMBER, PERCENT, Measure
from app.wording import editors_aim as of_aim
from app.wording import figures
from app.wording.surfaces import row_word
from core.recipe.records import NUTRIENTS, Aim, Limit, Target

COLUMNS = ("mg_per_l", "low_mg_per_l", "high_mg_per_l", "at_most_mg_per_l")
DETAILS = ("at_least_mg_per_l", "tolerance_percent", "weight")


class AimTable(QWidget):
    """Fields for every nutrient; pasting a column into any of them fills from there.

    Signals
    -------
    typed : nutrient, column and number.
    pasted : a column's text and the nutrient of the row it was pasted into.
    """

    typed = Signal(str, str, object)
    pasted = Signal(str, str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.fields: dict[tuple[str, str], FormField] = {}
        self._details: list[QWidget] = []
        self._words: list[QWidget] = []
        self._shown: dict[str, tuple[Target | None, Limit | None]] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(theme.px(5))
        grid.setVerticalSpacing(theme.px(2))
        self._add_heads(grid)
        for row, nutrient in enumerate(NUTRIENTS, start=1):
            self._add_row(grid, row, nutrient)
        grid.setColumnStretch(len(COLUMNS) + len(DETAILS) + 2, 1)
        self.show_details(False)

    def show_details(self, shown: bool) -> None:
        """Show the columns few need, in the place of the nutrients' words, or hide them."""
        for word in self._words:
            word.setVisible(not shown)
        for widget in self._details:
            widget.setVisible(shown)

    def show_aim(self, aim: Aim, shown: Callable[[str, str], str]) -> None:
        """Show the aim; `shown` gives what stands faintly in an empty field."""
        for nutrient in NUTRIENTS:
            row = aim_changes.target_in(aim, nutrient), aim_changes.limit_in(aim, nutrient)
            if row != self._shown.get(nutrient):
                self._shown[nutrient] = row
                self._show_row(nutrient, row, shown)

    def _show_row(
        self, nutrient: str, row: tuple[Target | None, Limit | None], shown: Callable[[str, str], str]
    ) -> None:
        target, limit = row
        for column in (*COLUMNS, *DETAILS):
            record = limit if column in aim_changes.LIMIT_FIELDS else target
            field = self.fields[nutrient, column]
            field.set_quantity(None if record is None else getattr(record, column))
            field.set_hint(shown(nutrient, column))

    def blame(self, nutrient: str, columns: tuple[str, ...], reason: str) -> None:
        """Mark the fields a refused draft is about, and only those."""
        for (name, column), field in self.fields.items():
            field.blame(reason if name == nutrient and column in columns else "")

    def _add_heads(self, grid: QGridLayout) -> None:
        for column, name in enumerate((*COLUMNS, *DETAILS)):
            head = QLabel(of_aim.aim_column(name), self)
            head.setFont(theme.font(11.5))
            head.setForegroundRole(QPalette.ColorRole.PlaceholderText)
            head.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            head.setToolTip(of_aim.aim_column_help(name))
            grid.addWidget(head, 0, column + 2)
            if name in DETAILS:
                self._details.append(head)

    def _add_row(self, grid: QGridLayout, row: int, nutrient: str) -> None:
        symbol = QLabel(figures.symbol(nutrient), self)
        symbol.setFont(theme.font(strong=True))
        word = QLabel(row_word(nutrient), self)
        word.setFont(theme.small())
        word.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        word.setFixedWidth(max(theme.px(82), word.sizeHint().width()))
        grid.addWidget(symbol, row, 0)
        grid.addWidget(word, row, 1)
        self._words.append(word)
        for number, column in enumerate((*COLUMNS, *DETAILS)):
            field = self._field(nutrient, column)
            grid.addWidget(field, row, number + 2)
            if column in DETAILS:
                self._details.append(field)

    def _field(self, nutrient: str, column: str) -> FormField:
        measure = Measure("concentration", "mg/L", nutrient)
        if column in ("tolerance_percent", "weight"):
            measure = PERCENT if column == "tolerance_percent" else NUMBER
        field = FormField(self, measure, of_aim.aim_field(nutrient, column), live=column == "mg_per_l")
        field.setFixedHeight(theme.px(24))
        field.setFixedWidth(theme.px(66 if column in COLUMNS else 50))
        field.typed.connect(lambda value: self.typed.emit(nutrient, column, value))
        field.stepped.connect(lambda by: self._step(nutrient, column, by))
        watch_paste(field, lambda text: self.pasted.emit(text, nutrient))
        self.fields[nutrient, column] = field
        return field

    def _step(self, nutrient: str, column: str, by: int) -> None:
        wanted = NUTRIENTS.index(nutrient) + by
        if 0 <= wanted < len(NUTRIENTS):
            self.fields[NUTRIENTS[wanted], column].setFocus(Qt.FocusReason.TabFocusReason)
