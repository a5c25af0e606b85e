"""Topping up: what is left, four ways to fill it up, and what each does to every nutrient."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from app.surfaces.feed.columns import lay_columns
from app.surfaces.feed.form_card import FormCard
from app.surfaces.feed.option_row import OptionRow
from app.widgets import theme
from app.widgets.ec_reading import EC_READING
from app.widgets.form_field import FormField
from app.widgets.laid_card import LaidCard, Text
from app.widgets.link_button import LinkButton
from app.widgets.main_button import MainButton
from app.widgets.measure import NUMBER, Measure
from app.wording import feed_topup as say
from core.bench.topup import LETTUCE_DRY_G_PER_L, LETTUCE_TISSUE_PERCENT

if TYPE_CHECKING:
    from app.surfaces.feed.dosing import Dosing
    from core.plan.topping import Option, TopUpAsked, TopUpTold

VOLUME = Measure("volume", "L", others=("US gal", "imp gal", "m³"))
LARGE = {"metric": "L", "us": "US gal", "imperial": "imp gal"}


class TopUpPage(QWidget):
    """Answers while the fields are typed into.

    Signals
    -------
    dose_wanted : the reservoir was filled up [L] and is to be dosed.
    layout_wanted : it needs another height.
    """

    dose_wanted = Signal(float)
    layout_wanted = Signal()

    def __init__(self, parent: QWidget, dosing: Dosing) -> None:
        super().__init__(parent)
        self._dosing = dosing
        self.told: TopUpTold | None = None
        self.left = FormCard(self, say.left_title())
        add = self.left.add_quantity

        def ask(_value: float | None) -> None:
            self.show_tanks()

        self.left_l = add(say.label("left_l"), VOLUME, ask)
        self.left_ec = add(say.label("left_ec"), EC_READING, ask)
        self.fill_to_l = add(say.label("fill_to_l"), VOLUME, ask)
        self.wanted = add(say.label("wanted"), EC_READING, ask)
        self.water_ec = add(say.label("water_ec"), EC_READING, ask, hint=say.as_reported())
        self.used_l = add(say.label("used_l"), VOLUME, ask, hint=say.not_known())
        self.wrong = Text(self.left, 12.5, role="check")
        self.left.column.addWidget(self.wrong)
        self.unfold = LinkButton(self.left, unfolds=True)
        self.unfold.set_text(say.taken_title())
        self.unfold.toggled.connect(self._unfold)
        self.left.column.addWidget(self.unfold)
        self.options = LaidCard(self, say.options_title())
        self.blank = Text(self.options, 13.5, role="muted")
        self.rows = {name: OptionRow(self.options) for name in ("water", "half", "full", "balance")}
        self.acid, self.care = Text(self.options, 15, strong=True), Text(self.options, 12.5, role="check")
        self.button = MainButton(self.options, quiet=True)
        self._lay_options()
        self.table = _Table(self)
        self.taken = FormCard(self, say.taken_title())
        self.dry = self.taken.add_quantity(say.label("dry"), NUMBER, ask, unit_words=say.per_litre())
        self.dry.set_quantity(round(LETTUCE_DRY_G_PER_L, 2))
        self.tissue: dict[str, FormField] = {}
        for name, percent in LETTUCE_TISSUE_PERCENT.items():
            field = self.taken.add_quantity(say.nutrient(name), NUMBER, ask, unit_words="%", name=say.tissue_name(name))
            field.set_quantity(percent)
            self.tissue[name] = field
        self._two_columns()
        source = Text(self.taken, 12, role="muted")
        source.say(say.taken_source())
        self.taken.column.addWidget(source)
        self.taken.hide()
        self._units = ""
        self.rows["half"].setChecked(True)

    def _lay_options(self) -> None:
        for text in (self.blank, self.acid, self.care):  # what is done first stands first
            self.options.column.addWidget(text)
        for row in self.rows.values():
            self.options.column.addWidget(row)
            row.toggled.connect(lambda on: self._show_chosen() if on else None)
        self.button.set_text(say.go_on())
        self.button.clicked.connect(self._go_on)
        line = QHBoxLayout()
        line.addWidget(self.button)
        line.addStretch(1)
        self.options.column.addLayout(line)

    def _two_columns(self) -> None:
        """Put the second half of the leaf's contents beside the first."""
        grid, names = self.taken.grid, list(self.tissue.values())
        for first, second in zip(names[:3], names[3:], strict=True):
            row, beside = self.taken.row_of(second), self.taken.row_of(first)
            for column in range(3):
                item = grid.itemAtPosition(row, column)
                widget = None if item is None else item.widget()
                if widget is not None:
                    grid.removeWidget(widget)
                    grid.addWidget(widget, beside, 3 + column)
        grid.setColumnStretch(5, 1)

    def show_tanks(self) -> None:
        """Answer with the dosing's tanks and what stands in the fields."""
        dosing = self._dosing
        self._show_units()
        if self.wanted.quantity() is None and dosing.asked.wanted_ms_per_cm > 0.0 and not self.wanted.hasFocus():
            self.wanted.set_quantity(dosing.asked.wanted_ms_per_cm)
        asked = self._asked()
        self.told = None
        if asked is not None and dosing.tanks is not None:
            from core.plan.topping import top_up

            self.told = top_up(dosing.tanks, asked)
        self._show_told()

    def _show_units(self) -> None:
        """Follow the units of the dosing when they change there."""
        dosing = self._dosing
        units = f"{dosing.system} {dosing.meter.unit}"
        if units == self._units:
            return
        self._units = units
        for field in (self.left_l, self.fill_to_l, self.used_l):
            self.left.show_unit(field, LARGE[dosing.system])
        for field in (self.left_ec, self.wanted, self.water_ec):
            self.left.show_unit(field, dosing.meter.unit)

    def _asked(self) -> TopUpAsked | None:
        from core.plan.topping import TopUpAsked

        left, ec, fill = self.left_l.quantity(), self.left_ec.quantity(), self.fill_to_l.quantity()
        wanted = self.wanted.quantity()
        whole = bool(left and ec is not None and fill and wanted)
        above = bool(left and fill and fill <= left)
        self.blank.say("" if whole and not above else say.fill_first())
        self.wrong.say(say.fill_above() if above else "")
        if not left or ec is None or not fill or not wanted or above:
            return None
        water, meter = self.water_ec.quantity(), self._dosing.meter
        tissue = {name: field.quantity() for name, field in self.tissue.items()}
        return TopUpAsked(
            left, meter.to_25_c(ec), fill, wanted, None if water is None else meter.to_25_c(water),
            self.used_l.quantity() or None, {name: value for name, value in tissue.items() if value is not None},
            self.dry.quantity() or LETTUCE_DRY_G_PER_L,
        )  # fmt: skip

    def _show_told(self) -> None:
        told, dosing = self.told, self._dosing
        self.table.setVisible(told is not None)
        for part in (*self.rows.values(), self.button):
            part.setVisible(told is not None)
        if told is None:
            self.acid.say("")
            self.care.say("")
        else:
            for option in told.options:
                self.rows[option.refill].show_words(
                    say.option_title(option),
                    say.option_amount(option, dosing.system),
                    say.option_water(option, dosing.system),
                    say.option_after(option, dosing.meter),
                )
        self._show_chosen()
        self._arrange()

    def chosen(self) -> Option | None:
        """Return the way to fill up that is chosen."""
        if self.told is None:
            return None
        name = next(name for name, row in self.rows.items() if row.isChecked())
        return next(one for one in self.told.options if one.refill == name)

    def _show_chosen(self) -> None:
        option = self.chosen()
        if self.told is not None and option is not None:
            self.acid.say(say.option_acid(option, self._dosing.system))
            self.care.say(say.option_acid_care(option))
            self.table.show_rows(self.told, option)
            self._arrange()

    def _unfold(self, shown: bool) -> None:
        self.taken.setVisible(shown)
        self.layout_wanted.emit()

    def _go_on(self) -> None:
        fill = self.fill_to_l.quantity()
        if fill:
            self.dose_wanted.emit(fill)

    def height_for(self, width: int) -> int:
        """Return the height needed at a width [px]."""
        return self._lay(width, place=False)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        self._lay(self.width(), place=True)

    def _lay(self, width: int, *, place: bool) -> int:
        beside = ([self.left, self.taken, self.table], [self.options])
        return lay_columns(beside, [self.left, self.taken, self.options, self.table], width, place=place)


class _Table(LaidCard):
    """A line per nutrient; what the meter does not show is said below."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, say.nutrients_title())
        self.grid = QGridLayout()
        self.grid.setHorizontalSpacing(theme.px(6))
        self.grid.setVerticalSpacing(theme.px(2))
        for column, share in enumerate((2, 3, 4, 3, 3)):
            self.grid.setColumnStretch(column, share)
        self.column.addLayout(self.grid)
        self.unseen = Text(self, 13.5, strong=True, role="check")
        self.blind = Text(self, 12, role="muted")
        self.blind.say(say.blind())
        below = QVBoxLayout()
        below.addWidget(self.unseen)
        below.addWidget(self.blind)
        self.column.addLayout(below)
        self._cells: dict[tuple[int, int], Text] = {}
        for column, words in enumerate(say.columns()):
            self._cell(0, column, words, role="muted")

    def _cell(self, row: int, column: int, words: str, *, role: str = "text", strong: bool = False) -> None:
        cell = self._cells.get((row, column))
        if cell is None:
            from PySide6.QtCore import Qt

            cell = self._cells[row, column] = Text(self, 12.5, strong=strong, role=role)
            cell.setWordWrap(False)
            side = Qt.AlignmentFlag.AlignLeft if column == 0 else Qt.AlignmentFlag.AlignRight
            cell.setAlignment(side | Qt.AlignmentFlag.AlignVCenter)
            self.grid.addWidget(cell, row, column)
        cell.set_role(role)
        cell.say(words)

    def show_rows(self, told: TopUpTold, option: Option | None) -> None:
        """Show what is left and what it will be."""
        odd = {*told.short, *told.piled}
        for place, row in enumerate(told.left, start=1):
            after = None if option is None else option.after_mg_per_l.get(row.nutrient)
            self._cell(place, 0, say.nutrient(row.nutrient), strong=True)
            self._cell(place, 1, say.mg_per_l(row.by_ec_mg_per_l), role="muted")
            role = "check" if row.nutrient in odd else "text"
            self._cell(place, 2, say.mg_per_l(row.by_uptake_mg_per_l), role=role)
            self._cell(place, 3, say.mg_per_l(after), strong=True)
            self._cell(place, 4, say.mg_per_l(row.wanted_mg_per_l), role="muted")
        self.unseen.say(say.unseen(told))
