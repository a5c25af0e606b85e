"""The shelf: added by letters, labelled as the bag is printed, priced by the pack, bounded, removed, undone."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from app.surfaces.editors import Editors
from app.surfaces.editors.entry_form import EntryForm
from app.surfaces.editors.shelf_editor import ShelfEditor
from core.recipe.records import ShelfEntry
from tests.app.surfaces.editors.conftest import Hands


@pytest.fixture
def shelf(editors: Editors) -> ShelfEditor:
    editors.open("shelf")
    sheet = editors.sheets["shelf"]
    assert isinstance(sheet, ShelfEditor)
    return sheet


def entry(hands: Hands, key: str) -> ShelfEntry:
    return next(one for one in hands.recipe.shelf if one.key == key)


def opened(shelf: ShelfEditor, key: str) -> EntryForm:
    shelf.open_entry(key)
    form = shelf.rows[key].form
    assert form is not None
    form.name.setFocus(Qt.FocusReason.TabFocusReason)
    return form


def test_a_few_letters_and_enter(hands: Hands, shelf: ShelfEditor) -> None:
    hands.type("k2so4")
    hands.key(Qt.Key.Key_Escape)
    hands.type("borax")
    hands.enter()
    assert hands.recipe.shelf[-1].key == "borax-decahydrate"
    assert hands.window.room.session.edits.undoText() == "adding borax decahydrate"
    assert hands.on is shelf.add.field
    assert list(shelf.rows)[-1] == "borax-decahydrate"
    assert shelf.rows["borax-decahydrate"].form is not None
    hands.window.room.session.edits.undo()
    assert "borax-decahydrate" not in shelf.rows


def test_tab_goes_on_into_the_product_added_last(hands: Hands, shelf: ShelfEditor) -> None:
    hands.type("borax")
    hands.enter()
    hands.tab()
    assert hands.on.accessibleName().startswith("Borax")
    hands.tab()
    assert hands.on.accessibleName() == "Own name"


def test_a_bag_label_by_keys_alone(hands: Hands, shelf: ShelfEditor) -> None:
    form = opened(shelf, "calcium-nitrate-greenhouse")
    hands.tab_to("Label as printed, % by mass")
    hands.key(Qt.Key.Key_Space)
    for name, percent in (("NO3-N", "14,4"), ("NH4-N", "1.1"), ("CaO", "26.5")):
        hands.fill(f"Label: {name}, per cent", percent)
    printed = dict(entry(hands, "calcium-nitrate-greenhouse").label_percent.items())
    assert printed == {"NO3-N": 14.4, "NH4-N": 1.1, "CaO": 26.5}
    assert form.label.total.text() == "42 % stated in all."
    assert "Ca 18.9 %" in form._made_of.text()


def test_element_beside_its_oxide_is_refused_and_mended_either_way(hands: Hands, shelf: ShelfEditor) -> None:
    opened(shelf, "monopotassium-phosphate").label_link.click()
    hands.fill("Label: P2O5, per cent", "52")
    hands.fill("Label: P, per cent", "22.7")
    label = shelf.rows["monopotassium-phosphate"].form.label  # type: ignore[union-attr]
    assert "states both P and P2O5" in label.total.text()
    assert label.fields["P"].fault()
    assert label.fields["P2O5"].fault()
    assert dict(entry(hands, "monopotassium-phosphate").label_percent.items()) == {"P2O5": 52}
    label.fields["P2O5"].setFocus()
    label.fields["P2O5"].selectAll()
    hands.key(Qt.Key.Key_Delete)
    assert dict(entry(hands, "monopotassium-phosphate").label_percent.items()) == {"P": 22.7}
    assert not label.fields["P"].fault()


def test_a_label_over_a_hundred_per_cent(hands: Hands, shelf: ShelfEditor) -> None:
    form = opened(shelf, "potassium-nitrate")
    form.label_link.click()
    hands.fill("Label: N, per cent", "60")
    hands.fill("Label: K2O, per cent", "46")
    assert "over 100 %" in form.label.total.text()
    assert dict(entry(hands, "potassium-nitrate").label_percent.items()) == {"N": 60, "K2O": 4}


def test_the_strength_of_an_acid_and_what_follows_from_it(hands: Hands, shelf: ShelfEditor) -> None:
    form = opened(shelf, "nitric-acid")
    hands.fill("Strength by mass", "38")
    hands.enter()
    assert entry(hands, "nitric-acid").strength_percent == 38
    assert "1.2" in form._density.text()
    assert "Danger" in form._hazards.text()
    assert "safety data sheet rules" in form._hazards.text()
    hands.fill("Strength by mass", "103")
    hands.enter()
    assert entry(hands, "nitric-acid").strength_percent == 38
    assert "outside 0.01 to 100 %" in form.wrong.text()


def test_the_price_of_a_pack(hands: Hands, shelf: ShelfEditor) -> None:
    opened(shelf, "boric-acid")
    hands.fill("Price of the pack", "30")
    hands.enter()
    assert "Type first what the pack holds" in hands.on.fault()  # type: ignore[attr-defined]
    hands.key(Qt.Key.Key_Escape)
    opened(shelf, "boric-acid")
    hands.fill("Pack holds", "55 lb")
    hands.fill("Price of the pack", "30")
    hands.enter()
    assert entry(hands, "boric-acid").pack_kg == pytest.approx(24.9476, abs=1e-4)
    assert entry(hands, "boric-acid").price_per_kg == pytest.approx(1.20252, abs=1e-5)
    form = shelf.rows["boric-acid"].form
    assert form is not None
    assert form._fields["pack_price"].text() == "30"


def test_another_pack_keeps_what_was_paid(hands: Hands, shelf: ShelfEditor) -> None:
    opened(shelf, "nitric-acid")
    hands.fill("Pack holds", "25")
    hands.enter()
    assert entry(hands, "nitric-acid").price_per_kg == 1.2
    hands.type("20")
    hands.enter()
    assert entry(hands, "nitric-acid").price_per_kg == 1.5


@pytest.mark.parametrize(
    ("typed", "kept"),
    [("2026-06-01", "2026-06-01"), ("3.5.2026", "2026-05-03"), ("3/5/2026", None), ("2026-02-31", None)],
)
def test_the_day_of_a_price(hands: Hands, shelf: ShelfEditor, typed: str, kept: str | None) -> None:
    form = opened(shelf, "nitric-acid")
    hands.fill("Priced on", typed)
    hands.enter()
    assert entry(hands, "nitric-acid").priced_on == kept
    assert bool(form.wrong.text()) == (kept is None)


def test_bounds_and_a_locked_amount(hands: Hands, shelf: ShelfEditor) -> None:
    form = opened(shelf, "potassium-nitrate")
    hands.fill("At least", "100")
    hands.fill("At most", "0.4 g/L")
    hands.fill("Exactly (locks it)", "500")
    hands.enter()
    assert "exactly 500" in form.wrong.text()
    hands.type("300")
    hands.enter()
    held = entry(hands, "potassium-nitrate")
    assert (held.at_least_mg_per_l, held.at_most_mg_per_l, held.exactly_mg_per_l) == (100, 400, 300)
    assert "fixed at 300 mg/L" in shelf.rows["potassium-nitrate"].head.accessibleDescription()


def test_a_second_bag_asks_for_its_name(hands: Hands, shelf: ShelfEditor) -> None:
    hands.type("kno3")
    hands.enter()
    assert hands.on.accessibleName() == "Own name"
    assert hands.recipe.shelf[-1].entry_id == "bag 2"
    hands.type("old bag")
    hands.enter()
    assert hands.recipe.shelf[-1] == ShelfEntry("potassium-nitrate", "old bag")
    assert "old bag" in shelf.rows
    hands.type("potassium-nitrate")
    hands.enter()
    assert hands.recipe.shelf[-1].key == "old bag"
    form = shelf.rows["old bag"].form
    assert form is not None
    assert "same name as another entry" in form.wrong.text()


def test_an_own_blend_waits_for_its_label(hands: Hands, shelf: ShelfEditor) -> None:
    before = hands.recipe
    hands.type("Orchard mix")
    hands.enter()
    assert hands.recipe == before
    form = shelf.rows["blend:Orchard mix"].form
    assert form is not None
    assert "Not on the shelf yet" in form._made_of.text()
    assert hands.on is form.label.fields["N"]
    hands.type("20")
    assert hands.recipe.shelf[-1].salt == "blend:Orchard mix"
    hands.window.room.session.edits.undo()
    assert hands.recipe == before
    assert "blend:Orchard mix" not in shelf.rows


def test_removing_and_taking_it_back(hands: Hands, shelf: ShelfEditor, qtbot: QtBot) -> None:
    before = hands.recipe
    form = opened(shelf, "urea")
    qtbot.mouseClick(form.remove, Qt.MouseButton.LeftButton)
    assert "urea" not in shelf.rows
    assert hands.on is shelf.add.field
    hands.window.room.session.edits.undo()
    assert hands.recipe == before
    assert "urea" in shelf.rows


def test_the_whole_shelf_may_be_taken_away(hands: Hands, shelf: ShelfEditor) -> None:
    while hands.recipe.shelf:
        shelf._remove(hands.recipe.shelf[0].key)
    hands.settle()
    assert not shelf.empty.isHidden()
    assert hands.window.room._beginning.isVisible()
    hands.window.room.session.edits.undo()
    hands.settle()
    assert hands.window.room.design.isVisible()


def test_the_currency(hands: Hands, shelf: ShelfEditor) -> None:
    shelf.currency.setFocus(Qt.FocusReason.TabFocusReason)
    hands.type("gbp")
    hands.enter()
    assert hands.recipe.currency == "GBP"
    hands.type("pounds")
    hands.enter()
    assert hands.recipe.currency == "GBP"
    assert "three letters" in shelf.currency.fault()
