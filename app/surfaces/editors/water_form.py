"""One water report, line by line in the units it is printed in, with the balance of its ions."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import NamedTuple

from msgspec import structs
from PySide6.QtWidgets import QApplication, QHBoxLayout, QVBoxLayout, QWidget

from app.session.session import Session
from app.surfaces.editors import columns
from app.surfaces.editors.draft import Draft
from app.surfaces.editors.pasting import watch_paste
from app.widgets import theme
from app.widgets.form import Section, Words
from app.widgets.form_field import FormField
from app.widgets.link_button import LinkButton
from app.widgets.measure import EC, HARDNESS, NUMBER, TEMPERATURE, Measure
from app.wording import editors_water as of_water
from app.wording import figures
from app.wording.refusals import refusal
from core.recipe.records import Recipe, Water, WaterContents


class Line(NamedTuple):
    """A line of a report: the name it is kept under, the unit it is usually printed in, others offered."""

    name: str
    printed: str
    others: tuple[str, ...] = ("mmol/L", "meq/L")


USUAL = (
    Line("Ca", "mg/L", ("mmol/L", "meq/L", "°dH", "mg/L as CaCO3")),
    Line("Mg", "mg/L", ("mmol/L", "meq/L", "°dH", "mg/L as CaCO3")),
    Line("hardness", "mg/L as CaCO3"),
    Line("K", "mg/L"),
    Line("Na", "mg/L"),
    Line("HCO3", "mg/L", ("mg/L as CaCO3", "meq/L", "°dH")),
    Line("S", "mg/L as SO4", ("mg/L", "mmol/L", "meq/L")),
    Line("Cl", "mg/L"),
    Line("NO3-N", "mg/L as NO3", ("mg/L", "mmol/L")),
    Line("NH4-N", "mg/L as NH4", ("mg/L", "mmol/L")),
)
RARER = (
    Line("CO3", "mg/L", ("mg/L as CaCO3", "meq/L")),
    Line("P", "mg/L as PO4", ("mg/L", "mg/L as P2O5")),
    Line("Si", "mg/L as SiO2", ("mg/L",)),
    *(Line(name, "mg/L", ("µg/L",)) for name in ("B", "Fe", "Mn", "Zn", "Cu", "Mo")),
    Line("N", "mg/L", ("mmol/L",)),
    Line("urea-N", "mg/L", ()),
)
ROWS = tuple(line.name for line in (*USUAL, *RARER) if line.name != "hardness")
"""What a recipe keeps of a report; hardness is kept as the calcium and magnesium it is made of."""

BASES = {"HCO3": "HCO3", "CO3": "CO3", "S": "S", "NO3-N": "N", "NH4-N": "N", "urea-N": "N", "P": "P", "Si": "Si"}
STATED = {"ph": NUMBER, "ec_ms_per_cm": EC, "temperature_c": TEMPERATURE}


class WaterForm(QWidget):
    """A report; `which` is "water" or "second_water", the recipe's field it edits."""

    def __init__(self, parent: QWidget, session: Session, which: str) -> None:
        super().__init__(parent)
        self.which = which
        self.draft: Draft[Water] = Draft(session, self._part_of, self._put_into, self._show)
        self._without_hardness = self._with_hardness = WaterContents()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(theme.px(8))
        self.fields: dict[str, FormField] = {}
        self._build_general(layout)
        self.balance = Words(self, muted=False)
        self.wrong = Words(self)
        layout.addWidget(self._lines(USUAL, of_water.printed_title()))
        layout.addWidget(self.balance)
        layout.addWidget(self.wrong)
        self.more = LinkButton(self, unfolds=True)
        self.more.set_text(of_water.more_lines())
        layout.addWidget(self.more)
        self._rarer = self._lines(RARER, "")
        self.credits = self._rarer.add_check(of_water.credits_iron(), self._set_credits)
        self.credits.setToolTip(of_water.credits_iron_help())
        layout.addWidget(self._rarer)
        layout.addWidget(self._column_links())
        self.told = Words(self)
        layout.addWidget(self.told)
        self._rarer.setVisible(self._has_rarer())
        self.more.setChecked(self._has_rarer())
        self.more.toggled.connect(self._rarer.setVisible)
        self._show()

    def _build_general(self, layout: QVBoxLayout) -> None:
        section = Section(self)
        self.name = section.add_text(of_water.water_name(), self._rename, hint=of_water.water_name_hint())
        for field, measure in STATED.items():
            self.fields[field] = section.add_quantity(
                of_water.field_label(field), measure, self._setter(field), live=field == "ph"
            )
        layout.addWidget(section)

    def _lines(self, lines: tuple[Line, ...], title: str) -> Section:
        section = Section(self, title)
        for line in lines:
            units = (line.printed, *line.others)
            others = tuple(unit for unit in units if unit != "mg/L")
            measure = Measure("concentration", "mg/L", line.name, others, basis=BASES.get(line.name, ""))
            hard = line.name == "hardness"
            self.fields[line.name] = section.add_quantity(
                of_water.printed_line(line.name),
                HARDNESS if hard else measure,
                self._set_hardness if hard else self._setter(line.name),
                live=not hard,
                shown_unit=line.printed,
                hint=figures.DASH,
            )
        return section

    def _column_links(self) -> QWidget:
        links = QWidget(self)
        row = QHBoxLayout(links)
        row.setContentsMargins(0, 0, 0, 0)
        self.paste, self.copy = LinkButton(links), LinkButton(links)
        self.paste.clicked.connect(lambda: self.take_column(QApplication.clipboard().text()))
        self.copy.clicked.connect(self._copy)
        for link, words in zip((self.paste, self.copy), of_water.column_links(), strict=True):
            link.set_text(words)
            row.addWidget(link)
        row.addStretch()
        for name, field in self.fields.items():
            watch_paste(field, partial(self.take_column, from_row=name))
        return links

    def take_column(self, text: str, from_row: str = "Ca") -> None:
        """Put a column of a spreadsheet in place of the figures it names; numbers alone go down from a row."""
        units = {name: field.unit for name, field in self.fields.items() if name in ROWS}
        first = from_row if from_row in ROWS else ROWS[0]
        pasted = columns.read_column(text, first, (*ROWS, *_others()), units)
        water, stated = self.draft.value, dict(pasted.mg_per_l)
        for name, field in (("pH", "ph"), ("EC", "ec_ms_per_cm")):
            if name in stated:
                water = structs.replace(water, **{field: stated.pop(name)})
        for name, value in stated.items():
            water = structs.replace(water, mg_per_l=_stating(water, name, value))
        if pasted.mg_per_l:
            self.draft.change(of_water.water_edit("paste"), (self.which, "paste"), water)
            self.more.setChecked(self.more.isChecked() or self._has_rarer())
        self.told.say(of_water.pasted(len(pasted.mg_per_l), pasted.unread), warns=bool(pasted.unread))

    def _copy(self) -> None:
        water = self.draft.value
        stated = list(water.mg_per_l.items())
        rest = [(name, value) for name, value in (("pH", water.ph), ("EC", water.ec_ms_per_cm)) if value is not None]
        QApplication.clipboard().setText(columns.pairs_text([*stated, *rest]))
        self.told.say(of_water.copied(len(stated) + len(rest)))

    def _set_credits(self, credited: bool) -> None:
        water = structs.replace(self.draft.value, credits_iron_and_manganese=credited)
        self.draft.change(of_water.water_edit("credits"), (self.which, "credits"), water)

    def show_recipe(self, recipe: Recipe) -> None:
        """Show the recipe's water."""
        self.draft.follow(recipe)

    def set_water(self, label: str, water: Water) -> None:
        """Put another water in place."""
        self.draft.change(label, (self.which, "all"), water)

    def _part_of(self, recipe: Recipe) -> Water:
        return getattr(recipe, self.which) or Water()

    def _put_into(self, recipe: Recipe, water: Water) -> Recipe:
        if self.which == "water":
            return structs.replace(recipe, water=water)
        return structs.replace(recipe, second_water=water)

    def _rename(self, name: str) -> None:
        self.draft.change(
            of_water.water_edit("name"), (self.which, "name"), structs.replace(self.draft.value, name=name)
        )

    def _setter(self, name: str) -> Callable[[float | None], None]:
        def change(value: float | None) -> None:
            water = self.draft.value
            if name in STATED:
                water = structs.replace(water, **{name: value})
            else:
                water = structs.replace(water, mg_per_l=_stating(water, name, value))
            self.draft.change(of_water.water_edit(name), (self.which, name), water)

        return change

    def _set_hardness(self, total_meq_per_l: float | None) -> None:
        """Fill in calcium or magnesium, whichever the report leaves out."""
        if total_meq_per_l is None:
            return
        from core.blend.hardness import HardnessError, with_hardness

        water = self.draft.value
        stated = self._without_hardness if water.mg_per_l == self._with_hardness else water.mg_per_l
        try:
            contents = with_hardness(stated, total_meq_per_l)
        except HardnessError as error:
            self.fields["hardness"].refuse(refusal(error))
            return
        self._without_hardness, self._with_hardness = stated, contents
        water = structs.replace(water, mg_per_l=contents)
        self.draft.change(of_water.water_edit("hardness"), (self.which, "hardness"), water)

    def _has_rarer(self) -> bool:
        stated = {name for name, _mg_per_l in self.draft.value.mg_per_l.items()}
        return bool(stated & {line.name for line in RARER})

    def _show(self) -> None:
        water = self.draft.value
        self.name.set_kept(water.name)
        stated = dict(water.mg_per_l.items())
        self._show_alkalinity(stated)
        for name, field in self.fields.items():
            value = _hardness(water, field.unit) if name == "hardness" else stated.get(name)
            value = getattr(water, name) if name in STATED else value
            if name != "hardness" and value is not None and field.quantity() is None and not field.hasFocus():
                _show_shortest(field, value)
            field.set_quantity(value)
        self.credits.setChecked(water.credits_iron_and_manganese)
        self._blame()
        self.balance.say(_balance(water))

    def _show_alkalinity(self, stated: dict[str, float]) -> None:
        """Show alkalinity kept as CaCO3 on the line of bicarbonate, in its own unit."""
        if "CaCO3" not in stated or "HCO3" in stated:
            return
        from core.units import read_quantity

        field, unit = self.fields["HCO3"], "mg/L as CaCO3"
        stated["HCO3"] = read_quantity(repr(stated["CaCO3"]), "concentration", unit, of="HCO3").value
        if field.unit != unit and not field.hasFocus():
            field.set_unit(unit)
            field.unit_changed.emit(unit)

    def _blame(self) -> None:
        fault = self.draft.fault
        place = str(fault.path[-1]) if fault is not None and fault.path else ""
        for name, field in self.fields.items():
            field.blame(self.draft.reason() if name == place else "")
        self.wrong.say(self.draft.reason(), warns=True)


def _hardness(water: Water, unit: str) -> float | None:
    """The hardness a report's calcium and magnesium make [meq/L], to the digits read in the unit shown."""
    from core.blend.hardness import hardness_meq_per_l
    from core.units import read_quantity, value_in

    made = hardness_meq_per_l(water.mg_per_l)
    if made is None:
        return None
    return read_quantity(f"{value_in(made, 'hardness', unit):.4g}", "hardness", unit).value


def _show_shortest(field: FormField, value: float) -> None:
    """Show a figure typed elsewhere in the unit in which it is shorter: 10 mg/L of S rather than 29.96132252 of SO4."""
    texts = {unit: field.measure.text(value, unit) for unit in (field.unit, field.measure.unit)}
    shortest = min(texts, key=lambda unit: len(texts[unit]))
    if shortest != field.unit:
        field.set_unit(shortest)
        field.unit_changed.emit(shortest)


def _stating(water: Water, name: str, value: float | None) -> WaterContents:
    """Return the contents with one of them changed; alkalinity stands there once, as it was typed last."""
    changed: dict[str, float | None] = {_attribute(name): value}
    if name == "HCO3":
        changed["caco3"] = None
    return structs.replace(water.mg_per_l, **changed)


def _others() -> tuple[str, ...]:
    """Return what a report may name that has no line of its own."""
    return tuple(name for name in columns.WATER_NAMES if name not in ROWS)


def _attribute(printed: str) -> str:
    return printed.lower().replace("-", "_")


def _balance(water: Water) -> str:
    if not water.mg_per_l:
        return of_water.balance_empty()
    from core.blend.waters import water_totals

    totals = water_totals(structs.replace(water, ph=None, temperature_c=None))  # neither changes what the ions carry
    return of_water.balance(totals.charge, totals.charge - totals.gap, totals.gap_percent)
