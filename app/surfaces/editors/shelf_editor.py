"""The shelf: products added by a few letters, the one added last on top, each unfolding into its form."""

from __future__ import annotations

from itertools import pairwise

from msgspec import structs
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from app.session.session import Session
from app.surfaces.editors import shelf_changes
from app.surfaces.editors.entry_row import EntryRow
from app.surfaces.recipe_sheet import EditorSheet
from app.widgets.form import Section, Words
from app.widgets.pick_list import Pick, PickList
from app.wording import editors as say
from app.wording import editors_shelf as of_shelf
from app.wording import salt_name
from core.recipe import RecipeError
from core.recipe.records import ShelfEntry

OWN = "own:"
TAB = Qt.FocusPolicy.TabFocus


class ShelfEditor(EditorSheet):
    """Keeps a row per entry; one of them at most is unfolded."""

    def __init__(self, over: QWidget, session: Session) -> None:
        super().__init__(over, session, say.title("shelf"))
        self.rows: dict[str, EntryRow] = {}
        self._pending: ShelfEntry | None = None
        self._ordered: tuple[str, ...] = ()
        self.add = PickList(self.top, of_shelf.add_product(), of_shelf.add_hint())
        self.add.picked.connect(self._add)
        self.top_layout.addWidget(Words(self.top, of_shelf.shelf_intro()))
        self.top_layout.addWidget(self.add)
        self.add.height_changed.connect(self.settle)
        self.empty = Words(self.body, of_shelf.shelf_empty())
        self.body_layout.addWidget(self.empty)
        self.body_layout.setSpacing(2)
        money = Section(self.body)
        self.currency = money.add_text(
            of_shelf.currency(), self._set_currency, hint=of_shelf.currency_hint(), short=True
        )
        self.body_layout.addWidget(money)
        self.body_layout.addStretch(1)
        self._fill_catalog()

    def begin(self) -> None:
        self.add.setFocus()

    def show_recipe(self) -> None:
        recipe = self.recipe
        entries = {entry.key: entry for entry in reversed(recipe.shelf)}
        if self._pending is not None:
            if self._pending.key in entries:
                self._pending = None
            else:
                entries = {self._pending.key: self._pending} | entries
        for key in [key for key in self.rows if key not in entries]:
            self._drop(key)
        for place, (key, entry) in enumerate(entries.items()):
            if key not in self.rows:
                self.rows[key] = self._new_row(entry, place)
            self.rows[key].show_entry(recipe, entry)
        self._order_by_tab(tuple(entries))
        self.empty.setVisible(not entries)
        self.currency.set_kept(recipe.currency)

    def open_entry(self, key: str) -> None:
        """Unfold the row of this entry and fold the others."""
        for other, row in self.rows.items():
            if other != key:
                row.set_open(False)
        self.rows[key].set_open(True)
        self._order_by_tab(tuple(self._ordered), anew=True)
        self.show_part(self.rows[key])

    def _order_by_tab(self, keys: tuple[str, ...], *, anew: bool = False) -> None:
        """Let the keyboard walk the rows from the top, each with its form."""
        if keys == self._ordered and not anew:
            return
        self._ordered = keys
        stops: list[QWidget] = [self.add.field]
        for key in keys:
            parts = self.rows[key].findChildren(QWidget)
            stops += [part for part in parts if part.focusPolicy() & TAB and part.window() is self.window()]
        for before, after in pairwise([*stops, self.currency]):
            QWidget.setTabOrder(before, after)

    def _new_row(self, entry: ShelfEntry, place: int) -> EntryRow:
        row = EntryRow(self.body, self.session, entry)
        row.unfolded.connect(lambda: self.open_entry(self._key_of(row)))
        row.renamed.connect(self._rename)
        row.removed.connect(lambda: self._remove(self._key_of(row)))
        self.body_layout.insertWidget(place + 1, row)
        row.show()  # at once, as the keyboard may go on into it before the next turn of the event loop
        return row

    def _key_of(self, row: EntryRow) -> str:
        return next(key for key, known in self.rows.items() if known is row)

    def _rename(self, old: str, new: str) -> None:
        if new not in self.rows:
            self._ordered = tuple(new if key == old else key for key in self._ordered)
            self.rows = {new if key == old else key: row for key, row in self.rows.items()}
        if self._pending is not None and self._pending.key == old:
            assert self.rows[new].form is not None
            self._pending = structs.replace(self._pending, salt=new)

    def _drop(self, key: str) -> None:
        row = self.rows.pop(key)
        row.hide()
        row.deleteLater()

    def _fill_catalog(self) -> None:
        from core.catalog import salts

        picks = [
            Pick(one.id, one.name, one.formula, f"{one.id} {' '.join(one.elements)} {of_shelf.trade_words(one.id)}")
            for one in salts().values()
        ]
        self.add.set_picks(
            tuple(picks), lambda text: Pick(OWN, of_shelf.own_product(text), of_shelf.own_product_aside())
        )

    def _add(self, key: str, typed: str) -> None:
        recipe = self.recipe
        if key == OWN:
            self._add_blend(typed)
            return
        entry = ShelfEntry(key)
        twice = any(other.key == key for other in recipe.shelf)
        if twice:
            entry = structs.replace(entry, entry_id=shelf_changes.free_name(recipe))
        self.session.push(
            of_shelf.entry_edit("add", salt_name(key)),
            ("shelf", entry.key, "add"),
            structs.replace(recipe, shelf=(*recipe.shelf, entry)),
        )
        self.open_entry(entry.key)
        self._go_on(entry.key, into_form=twice)

    def _add_blend(self, typed: str) -> None:
        entry = ShelfEntry(f"blend:{typed}")
        if entry.key not in self.rows:
            self._pending = entry
            self.show_recipe()
        self.open_entry(entry.key)
        self._go_on(entry.key, into_form=True)

    def _go_on(self, key: str, *, into_form: bool) -> None:
        form = self.rows[key].form
        if into_form and form is not None:
            form.begin()
            self.show_part(self.rows[key])
        else:
            self.add.setFocus()

    def _remove(self, key: str) -> None:
        if self._pending is not None and self._pending.key == key:
            self._pending = None
            self.show_recipe()
        else:
            product = salt_name(next(entry.salt for entry in self.recipe.shelf if entry.key == key))
            removed = shelf_changes.without_entry(self.recipe, key)
            self.session.push(of_shelf.entry_edit("remove", product), ("shelf", key, "remove"), removed)
        self.add.setFocus()

    def _set_currency(self, text: str) -> None:
        try:
            self.session.push(
                of_shelf.currency_edit(), ("currency",), structs.replace(self.recipe, currency=text.upper())
            )
            self.currency.blame("")
        except RecipeError as error:
            self.currency.blame(say.not_taken(error.path, error.what, error.mend))
