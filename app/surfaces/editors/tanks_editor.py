"""The tanks and the bench: how many, how strong, how cold, what is pinned where, and the scales."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from msgspec import structs
from PySide6.QtWidgets import QWidget

from app.session.session import Session
from app.surfaces.editors.draft import Draft
from app.surfaces.editors.scales_form import ScalesForm
from app.surfaces.recipe_sheet import EditorSheet
from app.widgets.choice import Choice
from app.widgets.form import Section, Words
from app.widgets.form_field import FormField
from app.widgets.link_button import LinkButton
from app.widgets.measure import DILUTION, TEMPERATURE, VOLUME
from app.wording import editors as say
from app.wording import editors_tanks as of_tanks
from app.wording import figures, salt_name
from core.recipe.records import Recipe, TankSetup

LETTERS = "ABCD"
SETUP = {"ratio": DILUTION, "temperature_c": TEMPERATURE, "coldest_c": TEMPERATURE}


class TanksEditor(EditorSheet):
    """Set-up, volume, where acid goes, scales, pins."""

    def __init__(self, over: QWidget, session: Session) -> None:
        super().__init__(over, session, say.title("tanks"))
        self.draft: Draft[Recipe] = Draft(session, lambda recipe: recipe, lambda _old, new: new, self._show)
        self.fields: dict[str, FormField] = {}
        self._build_setup()
        self.wrong = Words(self.body)
        self.body_layout.addWidget(self.wrong)
        self.scales = ScalesForm(self.body, self._set_scales)
        self.body_layout.addWidget(self.scales)
        self.pin_link = LinkButton(self.body, unfolds=True)
        self.pin_link.set_text(of_tanks.pins_title())
        self._pins = Section(self.body)
        self._pins.add_words(Words(self._pins, of_tanks.pins_intro()))
        self.pins: dict[str, Choice] = {}
        self.body_layout.addWidget(self.pin_link)
        self.body_layout.addWidget(self._pins)
        self.pin_link.setChecked(bool(self.recipe.tanks.pins))
        self._pins.setVisible(self.pin_link.isChecked())
        self.pin_link.toggled.connect(self._pins.setVisible)
        self.body_layout.addStretch(1)
        self._ready = True
        self._show()

    def begin(self) -> None:
        self.count.setFocus()

    def show_recipe(self) -> None:
        self.draft.follow(self.recipe)
        self._show_pins(self.draft.value)  # named by what the plan puts into each tank

    def _build_setup(self) -> None:
        section = Section(self.body)
        counts = [(str(number), of_tanks.tank_count(number)) for number in range(1, len(LETTERS) + 1)]
        self.count = section.add_choice(of_tanks.tank_label("count"), counts, self._set_count)
        for name, measure in SETUP.items():
            self.fields[name] = section.add_quantity(
                of_tanks.tank_label(name), measure, self._setter(name), live=False, shown_unit=_shown(name)
            )
        self.fields["tank_volume_l"] = section.add_quantity(
            of_tanks.tank_label("tank_volume_l"), VOLUME, self._set_volume, live=False
        )
        self.poured = section.add_words(Words(section))
        self.acid = section.add_choice(of_tanks.acid_label(), of_tanks.acid_places(), self._set_acid)
        self.body_layout.addWidget(section)

    def _setter(self, name: str) -> Callable[[float | None], None]:
        def change(value: float | None) -> None:
            default = {info.name: info.default for info in structs.fields(TankSetup)}[name]
            self._change(name, tanks=structs.replace(self._tanks(), **{name: default if value is None else value}))

        return change

    def _tanks(self) -> TankSetup:
        return self.draft.value.tanks

    def _set_count(self, key: str) -> None:
        pins = {entry: letter for entry, letter in self._tanks().pins.items() if letter in LETTERS[: int(key)]}
        self._change("count", tanks=structs.replace(self._tanks(), count=int(key), pins=pins))

    def _set_volume(self, volume_l: float | None) -> None:
        volume = 10.0 if volume_l is None else volume_l
        self._change("tank_volume_l", batch=structs.replace(self.draft.value.batch, tank_volume_l=volume))

    def _set_acid(self, key: str) -> None:
        self._change("acid_into", acid_into=key or None)

    def _set_scales(self, scales: object) -> None:
        self._change("scales", batch=structs.replace(self.draft.value.batch, scales=scales))

    def _set_pin(self, entry_id: str, letter: str) -> None:
        pins = {entry: kept for entry, kept in self._tanks().pins.items() if entry != entry_id}
        if letter:
            pins[entry_id] = letter
        self._change("pins", tanks=structs.replace(self._tanks(), pins=pins))

    def _change(self, name: str, **changed: object) -> None:
        self.draft.change(of_tanks.tanks_edit(name), ("tanks", name), structs.replace(self.draft.value, **changed))

    def _show(self) -> None:
        if not hasattr(self, "_ready"):
            return
        recipe, fault = self.draft.value, self.draft.fault
        place = str(fault.path[-1]) if fault is not None and fault.path else ""
        self.count.set_key(str(recipe.tanks.count))
        for name, field in self.fields.items():
            field.set_quantity(recipe.batch.tank_volume_l if name == "tank_volume_l" else getattr(recipe.tanks, name))
            field.blame(self.draft.reason() if name == place else "")
        self.fields["coldest_c"].set_hint(of_tanks.same())
        self.poured.say(of_tanks.poured(recipe.tanks.ratio))
        self.acid.set_key(recipe.acid_into or "")
        self.scales.show_scales(recipe.batch.scales)
        self._show_pins(recipe)
        self.wrong.say(self.draft.reason(), warns=True)

    def _show_pins(self, recipe: Recipe) -> None:
        plan = self.session.plan
        titles = {} if plan is None else {tank.name: tank.content for tank in plan.tanks}
        letters = LETTERS[: recipe.tanks.count]
        pairs = [
            ("", of_tanks.tank_any()),
            *((letter, of_tanks.tank_named(letter, titles.get(letter))) for letter in letters),
        ]
        entries = {entry.key: entry.salt for entry in recipe.shelf}
        if list(entries) != list(self.pins):
            self._rebuild_pins(entries)
        for key, choice in self.pins.items():
            choice.set_pairs(pairs)
            choice.set_key(recipe.tanks.pins.get(key, ""))

    def _rebuild_pins(self, entries: dict[str, str]) -> None:
        for choice in self.pins.values():
            for part in (choice, self._pins.label_of(choice)):
                part.hide()
                part.deleteLater()
        self.pins = {}
        for key, salt in entries.items():
            label = " ".join(figures.name_parts(salt_name(salt))).strip() if key == salt else key
            self.pins[key] = self._pins.add_choice(label, [], partial(self._set_pin, key))


def _shown(name: str) -> str:
    return "mL/L" if name == "ratio" else ""
