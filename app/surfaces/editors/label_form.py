"""A label as it is printed: nitrogen and the oxides down the first column, elements down the second."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from app.surfaces.editors.shelf_changes import printed_sum
from app.widgets import theme
from app.widgets.form import Words
from app.widgets.form_field import FormField
from app.widgets.measure import PERCENT
from app.wording import editors_shelf as of_shelf
from app.wording import figures
from core.recipe.records import LabelPercent

COLUMNS = (
    ("N", "NO3-N", "NH4-N", "urea-N", "P2O5", "K2O", "CaO", "MgO", "SO3"),
    ("P", "K", "Ca", "Mg", "S", "Cl", "Na", "Na2O", "SiO2"),
    ("Fe", "Mn", "Zn", "B", "Cu", "Mo", "Si"),
)


class LabelForm(QWidget):
    """One small field per name a label may print; arrows walk a column, Tab goes from one column to the next."""

    def __init__(self, parent: QWidget, typed: Callable[[str, float | None], None], *, own: bool) -> None:
        super().__init__(parent)
        self._own = own
        self.setAccessibleName(of_shelf.label_title())
        self.fields: dict[str, FormField] = {}
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(theme.px(4))
        grid = QGridLayout()
        grid.setHorizontalSpacing(theme.px(6))
        grid.setVerticalSpacing(theme.px(3))
        for column, names in enumerate(COLUMNS):
            for row, name in enumerate(names):
                self._add(grid, row, 3 * column, name, typed)
            grid.setColumnMinimumWidth(3 * column + 2, theme.px(14))
        grid.setColumnStretch(3 * len(COLUMNS), 1)
        layout.addLayout(grid)
        self.total = Words(self)
        layout.addWidget(self.total)
        self._step_columns()

    def _add(
        self, grid: QGridLayout, row: int, column: int, name: str, typed: Callable[[str, float | None], None]
    ) -> None:
        field = FormField(self, PERCENT, of_shelf.label_field(name))
        field.setFixedWidth(theme.px(66))
        field.typed.connect(lambda percent: typed(name, percent))
        label = QLabel(figures.symbol(name), self)
        label.setFont(theme.font(12.5))
        label.setBuddy(field)
        grid.addWidget(label, row, column)
        grid.addWidget(field, row, column + 1)
        self.fields[name] = field

    def _step_columns(self) -> None:
        for names in COLUMNS:
            for number, name in enumerate(names):
                self.fields[name].stepped.connect(lambda by, names=names, number=number: self._step(names, number + by))

    def _step(self, names: tuple[str, ...], wanted: int) -> None:
        if 0 <= wanted < len(names):
            self.fields[names[wanted]].setFocus(Qt.FocusReason.TabFocusReason)

    def show_label(self, label: LabelPercent, usual: dict[str, float], reason: str) -> None:
        """Show what is printed; `usual` stands faintly where the catalog's grade is used, `reason` is what is wrong."""
        stated = dict(label.items())
        named = {word.strip(",") for word in reason.split()} & stated.keys() or stated.keys()
        for name, field in self.fields.items():
            field.set_quantity(stated.get(name))
            field.set_hint(f"{usual[name]:g}" if name in usual and not stated else "")
            field.blame(reason if reason and name in named else "")
        printed = printed_sum(label) if stated else None
        self.total.say(reason or of_shelf.label_total(printed, own=self._own), warns=bool(reason))
