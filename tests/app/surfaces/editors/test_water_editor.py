"""The water report: typed as printed, balanced live, undone whole."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.surfaces.editors import Editors
from app.surfaces.editors.water_editor import WaterEditor
from app.window.frame import MainWindow
from tests.app.surfaces.editors.conftest import CONTROL, Hands


@pytest.fixture
def water(editors: Editors) -> WaterEditor:
    editors.open("water")
    sheet = editors.sheets["water"]
    assert isinstance(sheet, WaterEditor)
    return sheet


def test_a_line_in_any_unit(hands: Hands, water: WaterEditor) -> None:
    hands.fill("Calcium", "4 meq/L")
    assert hands.recipe.water.mg_per_l.ca == pytest.approx(80.16, abs=0.01)
    assert hands.window.room.session.edits.undoText() == "calcium in the water"
    hands.tab()
    assert (water.first.fields["Ca"].text(), water.first.fields["Ca"].unit) == ("4", "meq/L")


def test_absent_is_not_zero(hands: Hands, water: WaterEditor) -> None:
    hands.fill("Potassium", "0")
    assert hands.recipe.water.mg_per_l.k == 0
    hands.key(Qt.Key.Key_Backspace)
    assert hands.recipe.water.mg_per_l.k is None
    assert water.first.fields["K"].text() == ""


def test_hardness_fills_in_magnesium_and_may_be_typed_again(hands: Hands, water: WaterEditor) -> None:
    hands.fill("Magnesium", "1")
    hands.key(Qt.Key.Key_Backspace)
    hands.fill("Calcium", "80")
    hands.fill("Total hardness", "15 °dH")
    hands.tab()
    assert hands.recipe.water.mg_per_l.mg == pytest.approx(16.5, abs=0.1)
    hands.fill("Total hardness", "16")
    hands.tab()
    assert hands.recipe.water.mg_per_l.mg == pytest.approx(20.8, abs=0.1)
    assert water.first.fields["hardness"].text() == "16"
    hands.fill("Magnesium", "9")
    hands.fill("Total hardness", "20")
    hands.tab()
    assert hands.recipe.water.mg_per_l.mg == 9.0
    assert "both stated" in water.first.fields["hardness"].fault()


def test_the_balance_follows_every_key(hands: Hands, water: WaterEditor) -> None:
    before = water.first.balance.text()
    assert "do not" not in before
    hands.fill("Chloride", "400")
    assert "do not balance" in water.first.balance.text()
    assert "cations are missing" in water.first.balance.text()
    hands.key(Qt.Key.Key_Escape)
    assert water.first.balance.text() == before


def test_alkalinity_is_the_one_typed_last(hands: Hands, water: WaterEditor) -> None:
    hands.fill("Bicarbonate", "150 CaCO3")
    hands.tab()
    contents = hands.recipe.water.mg_per_l
    assert contents.caco3 is None
    assert contents.hco3 == pytest.approx(182.9, abs=0.1)
    assert water.first.fields["HCO3"].unit == "mg/L as CaCO3"
    assert water.first.fields["HCO3"].text() == "150"


def test_a_refused_figure_stays_and_the_last_good_one_holds(hands: Hands, water: WaterEditor) -> None:
    hands.fill("Sodium", "30000")
    assert hands.recipe.water.mg_per_l.na == 3000
    assert water.first.fields["Na"].text() == "30000"
    assert "outside 0 to 20000" in water.first.wrong.text()
    hands.key(Qt.Key.Key_Backspace)
    assert water.first.wrong.text() == ""


def test_a_typical_water_is_marked_so_and_is_one_edit(hands: Hands, water: WaterEditor, qtbot: QtBot) -> None:
    before = hands.recipe.water
    water.typical.field.setFocus()
    hands.type("rain")
    hands.enter()
    assert "typical" in hands.recipe.water.name
    assert hands.recipe.water.mg_per_l.ca == 1.2
    hands.window.room.session.edits.undo()
    assert hands.recipe.water == before
    assert water.first.name.text() == before.name


def test_two_waters_by_share(hands: Hands, water: WaterEditor, qtbot: QtBot) -> None:
    qtbot.mouseClick(water.blend, Qt.MouseButton.LeftButton)
    assert hands.on.accessibleName() == "Share of the whole"
    hands.type("30")
    hands.enter()
    assert hands.recipe.second_water_share_percent == 30
    hands.fill("Name", "Rain")
    hands.fill("Calcium", "2")
    assert hands.recipe.second_water is not None
    assert hands.recipe.second_water.mg_per_l.ca == 2
    assert hands.recipe.second_water.name == "Rain"
    qtbot.mouseClick(water.blend, Qt.MouseButton.LeftButton)
    assert hands.recipe.second_water is None
    assert water.second is None
    hands.window.room.session.edits.undo()
    assert water.second is not None
    assert hands.recipe.second_water_share_percent == 30


def test_undo_by_its_keys_from_within_a_field(hands: Hands, water: WaterEditor) -> None:
    before = hands.recipe.water
    hands.fill("Magnesium", "33")
    assert hands.recipe.water.mg_per_l.mg == 33
    hands.key(Qt.Key.Key_Z, CONTROL)
    assert hands.recipe.water == before
    assert water.first.fields["Mg"].text() == "10.6"


def test_escape_closes_and_the_keyboard_is_back(hands: Hands, window: MainWindow, editors: Editors) -> None:
    field = window.room.design.aim.rows["K"].field
    field.setFocus()
    hands.key(Qt.Key.Key_F6)
    assert editors.sheets["water"].isVisible()
    hands.key(Qt.Key.Key_Escape)
    assert not editors.sheets["water"].isVisible()
    assert QApplication.focusWidget() is field


def test_the_same_key_closes_it_and_what_was_typed_is_sent(hands: Hands, editors: Editors) -> None:
    hands.key(Qt.Key.Key_F6)
    hands.fill("EC at 25 °C", "0.6")
    hands.key(Qt.Key.Key_F6)
    assert editors.name == ""
    assert hands.recipe.water.ec_ms_per_cm == 0.6


def test_a_whole_column_is_pasted_and_copied(hands: Hands, water: WaterEditor) -> None:
    form = water.first
    form.take_column("Calcium\t61\nSO4\t48\nBicarbonate (mg/L)\t183\npH\t7,5\nEC (µS/cm)\t450\nXx\t3")
    hands.settle()
    report = hands.recipe.water
    stated = dict(report.mg_per_l.items())
    assert stated["Ca"] == 61
    assert stated["S"] == pytest.approx(16.02, abs=0.01)
    assert (stated["HCO3"], report.ph, report.ec_ms_per_cm) == (183, 7.5, 0.45)
    assert "5 figures pasted" in form.told.text()
    assert "Xx" in form.told.text()
    assert hands.window.room.session.edits.count() == 1
    form.copy.click()
    text = QApplication.clipboard().text()
    hands.window.room.session.edits.undo()
    form.take_column(text)
    assert dict(hands.recipe.water.mg_per_l.items()) == stated


def test_numbers_alone_are_in_the_units_the_lines_are_printed_in(hands: Hands, water: WaterEditor) -> None:
    form = water.first
    form.take_column("44\n1.3", "NO3-N")
    hands.settle()
    stated = dict(hands.recipe.water.mg_per_l.items())
    assert stated["NO3-N"] == pytest.approx(44 * 14.007 / 62.004, rel=1e-3), "the line is printed as nitrate"
    assert stated["NH4-N"] == pytest.approx(1.3 * 14.007 / 18.039, rel=1e-3)


def test_iron_counts_only_where_it_is_said_to_stay(hands: Hands, water: WaterEditor) -> None:
    form = water.first
    assert not hands.recipe.water.credits_iron_and_manganese
    form.credits.click()
    assert hands.recipe.water.credits_iron_and_manganese
    hands.window.room.session.edits.undo()
    assert not hands.recipe.water.credits_iron_and_manganese
    assert not form.credits.isChecked()
