"""All that can be said of one product on the shelf: name, strength, label, price, bounds."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from datetime import date

from msgspec import structs
from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.session.session import Session
from app.surfaces.editors import product_facts, shelf_changes
from app.surfaces.editors.draft import Draft
from app.surfaces.editors.label_form import LabelForm
from app.widgets import theme
from app.widgets.form import Section, Words
from app.widgets.form_field import FormField
from app.widgets.link_button import LinkButton
from app.widgets.measure import NUMBER, PACK, PERCENT, PRODUCT
from app.wording import editors_shelf as of_shelf
from app.wording import safety, salt_name
from core.recipe.records import Recipe, ShelfEntry

BOUNDS = ("at_least_mg_per_l", "at_most_mg_per_l", "exactly_mg_per_l")


class EntryForm(QWidget):
    """Edits the entry of one key, or holds a bought blend until its label makes it one.

    Signals
    -------
    renamed : the entry's key changes, from the one to the other.
    removed : the entry is to leave the shelf.
    """

    renamed = Signal(str, str)
    removed = Signal()

    def __init__(self, parent: QWidget, session: Session, entry: ShelfEntry) -> None:
        super().__init__(parent)
        self._key = self._old_key = entry.key
        self._new = entry
        self._fields: dict[str, FormField] = {}
        self.draft: Draft[ShelfEntry] = Draft(session, self._part_of, self._put_into, self._show)
        self._product = salt_name(entry.salt)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(theme.px(12), theme.px(4), theme.px(4), theme.px(10))
        layout.setSpacing(theme.px(8))
        self._made_of, self._hazards, self.wrong = Words(self), Words(self), Words(self)
        for words in (self._made_of, self._hazards, self.wrong):
            layout.addWidget(words)
        layout.addWidget(self._build_identity())
        self._build_label(layout)
        layout.addWidget(self._build_price())
        layout.addWidget(self._build_bounds())
        self._build_care(layout)
        self.remove = LinkButton(self)
        self.remove.set_text(of_shelf.remove_product())
        self.remove.clicked.connect(self.removed)
        layout.addWidget(self.remove)
        self._show()

    def show_recipe(self, recipe: Recipe) -> None:
        """Show the entry as the recipe holds it."""
        self._old_key = self._key
        self.draft.follow(recipe)

    def begin(self) -> None:
        """Put the keyboard where this entry is usually gone on with."""
        first = self._fields.get("strength_percent")
        if self.draft.value.entry_id is not None and not self.is_blend():
            self.name.setFocus()
            self.name.selectAll()
        elif self.is_blend():
            self.label.fields["N"].setFocus()
        elif first is not None:
            first.setFocus()
        else:
            self.label_link.setFocus()

    def is_blend(self) -> bool:
        """Tell whether the product is known by its label alone."""
        return product_facts.salt_of(self.draft.value) is None

    def _part_of(self, recipe: Recipe) -> ShelfEntry:
        return next((entry for entry in recipe.shelf if entry.key == self._key), self._new)

    def _put_into(self, recipe: Recipe, entry: ShelfEntry) -> Recipe:
        return shelf_changes.with_entry(recipe, self._old_key, entry)

    def _build_identity(self) -> Section:
        section = Section(self)
        self.name = section.add_text(of_shelf.own_name(), self._rename, hint=self._product)
        if product_facts.sold_by_strength(self.draft.value):
            self._fields["strength_percent"] = section.add_quantity(
                of_shelf.strength(), PERCENT, self._setter("strength_percent"), live=False
            )
        self._density = section.add_words(Words(section))
        return section

    def _build_care(self, layout: QVBoxLayout) -> None:
        """What there is to know of handling the product, folded away: it does not change with what is typed."""
        lines = product_facts.care(self.draft.value)
        self.care_link, self.care = LinkButton(self, unfolds=True), Words(self, "\n\n".join(lines))
        self.care_link.set_text(safety.care_title())
        self.care_link.setVisible(bool(lines))
        self.care.hide()
        self.care_link.toggled.connect(self.care.setVisible)
        layout.addWidget(self.care_link)
        layout.addWidget(self.care)

    def _build_label(self, layout: QVBoxLayout) -> None:
        self.label_link = LinkButton(self, unfolds=True)
        self.label_link.set_text(of_shelf.label_title())
        self.label = LabelForm(self, self._set_printed, own=self.is_blend())
        layout.addWidget(self.label_link)
        layout.addWidget(self.label)
        shown = self.is_blend() or bool(self.draft.value.label_percent)
        self.label_link.setChecked(shown)
        self.label.setVisible(shown)
        self.label_link.toggled.connect(self.label.setVisible)

    def _build_price(self) -> Section:
        section = self._price = Section(self, of_shelf.price_title())
        self._fields["pack_kg"] = section.add_quantity(of_shelf.pack(), PACK, self._set_pack, live=False)
        self._fields["pack_price"] = section.add_quantity(
            of_shelf.pack_price(), NUMBER, self._set_pack_price, live=False
        )
        self._fields["price_per_kg"] = section.add_quantity(
            of_shelf.price_per_kg(), NUMBER, self._setter("price_per_kg"), live=False
        )
        self.priced_on = section.add_text(of_shelf.priced_on(), self._set_date, hint=of_shelf.date_hint(), short=True)
        return section

    def _build_bounds(self) -> Section:
        section = Section(self, of_shelf.bounds_title())
        for name in BOUNDS:
            self._fields[name] = section.add_quantity(of_shelf.bound(name), PRODUCT, self._setter(name), live=False)
        return section

    def _show(self) -> None:
        if not hasattr(self, "remove"):
            return
        entry, fault = self.draft.value, self.draft.fault
        place = str(fault.path[-1]) if fault is not None and fault.path else ""
        reason = self.draft.reason()
        self.name.set_kept("" if self.is_blend() else entry.entry_id or "")
        if self.is_blend():
            self.name.set_kept(entry.salt.removeprefix("blend:"))
        for name, field in self._fields.items():
            field.set_quantity(shelf_changes.pack_price(entry) if name == "pack_price" else getattr(entry, name))
            field.blame(reason if name == place else "")
        recipe = self.draft.session.recipe
        code = "" if recipe is None else recipe.currency
        self._price.set_unit_words(self._fields["pack_price"], of_shelf.money(code, per_kg=False))
        self._price.set_unit_words(self._fields["price_per_kg"], of_shelf.money(code, per_kg=True))
        self.priced_on.set_kept(entry.priced_on or "")
        self.priced_on.blame(reason if place == "priced_on" else "")
        self._show_facts(entry, place)
        self.wrong.say("" if place == "label_percent" else reason, warns=True)

    def _show_facts(self, entry: ShelfEntry, place: str) -> None:
        sound = entry if not place else self._part_of_recipe()
        self._made_of.say(product_facts.made_of(sound))
        self._hazards.say(product_facts.handling(sound))
        self._density.say(product_facts.density_text(sound))
        salt = product_facts.salt_of(entry)
        usual = {} if salt is None else salt.label_percent
        if salt is not None and "strength_percent" in self._fields:
            default = salt.default_strength_percent
            self._fields["strength_percent"].set_hint("" if default is None else of_shelf.usually(default))
        self.label.show_label(entry.label_percent, usual, self.draft.reason() if place == "label_percent" else "")

    def _part_of_recipe(self) -> ShelfEntry:
        recipe = self.draft.session.recipe
        return self._new if recipe is None else self._part_of(recipe)

    def _setter(self, name: str) -> Callable[[float | None], None]:
        return lambda value: self._change(name, structs.replace(self.draft.value, **{name: value}))

    def _set_printed(self, printed: str, percent: float | None) -> None:
        label = shelf_changes.with_printed(self.draft.value.label_percent, printed, percent)
        self._change("label", structs.replace(self.draft.value, label_percent=label))

    def _set_pack(self, pack_kg: float | None) -> None:
        self._change("pack", shelf_changes.with_pack(self.draft.value, pack_kg))

    def _set_pack_price(self, paid: float | None) -> None:
        if paid is not None and self.draft.value.pack_kg is None:
            self._fields["pack_price"].refuse(of_shelf.pack_first())
            return
        self._change("price", shelf_changes.with_pack_price(self.draft.value, paid))

    def _set_date(self, text: str) -> None:
        from core.units import UnitError, read_date

        when = date.today().isoformat() if text.casefold() == of_shelf.today() else text
        with suppress(UnitError):  # the draft refuses what is no date, and says so below the fields
            when = read_date(when) if when else ""
        self._change("date", structs.replace(self.draft.value, priced_on=when or None))

    def _rename(self, name: str) -> None:
        entry = self.draft.value
        if self.is_blend():
            entry = structs.replace(entry, salt=f"blend:{name}")
        else:
            entry = structs.replace(entry, entry_id=name or None)
        self._old_key, self._key = self._key, entry.key
        self.renamed.emit(self._old_key, self._key)
        self._change("name", entry)
        if self.draft.fault is not None:
            self.renamed.emit(self._key, self._old_key)
            self._key = self._old_key
        self._old_key = self._key

    def _change(self, what: str, entry: ShelfEntry) -> None:
        self._new = entry
        self.draft.change(of_shelf.entry_edit(what, self._product), ("shelf", self._key, what), entry)
