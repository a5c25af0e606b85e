"""The aim: crops and their sources, ranges and limits, columns in and out."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.surfaces.editors import Editors
from app.surfaces.editors.aim_changes import limit_in, target_in
from app.surfaces.editors.aim_editor import AimEditor
from app.surfaces.editors.crop_table import CropModel
from core.catalog import crops, crops_of
from core.recipe.records import Limit, Target
from tests.app.surfaces.editors.conftest import CONTROL, Hands


@pytest.fixture
def aim(editors: Editors) -> AimEditor:
    editors.open("aim")
    sheet = editors.sheets["aim"]
    assert isinstance(sheet, AimEditor)
    return sheet


def type_into(hands: Hands, aim: AimEditor, nutrient: str, column: str, text: str) -> None:
    aim.table.fields[nutrient, column].setFocus(Qt.FocusReason.TabFocusReason)
    hands.type(text)
    hands.enter()


def target(hands: Hands, nutrient: str) -> Target:
    found = target_in(hands.recipe.aim, nutrient)
    assert found is not None
    return found


def test_a_crop_s_sources_stand_side_by_side_while_one_looks(hands: Hands, aim: AimEditor) -> None:
    before = hands.recipe
    hands.type("tomato")
    assert aim.sources.isVisible()
    assert len(aim.sources.crops.profiles) == len(crops_of("tomato"))
    first = aim.profile_words.text()
    hands.key(Qt.Key.Key_Down)
    assert aim.profile_words.text() != first
    assert hands.recipe == before
    hands.key(Qt.Key.Key_Escape)
    assert aim.isVisible()


def test_taking_a_crop_is_one_edit_and_keeps_limits(hands: Hands, aim: AimEditor) -> None:
    before = hands.recipe.aim
    hands.type("lettuce ikeda")
    hands.enter()
    after = hands.recipe.aim
    assert after.crop == "lettuce-ikeda-1996"
    assert target_in(after, "K") == Target("K", 156.2)
    assert target_in(after, "Fe") == target_in(before, "Fe")
    assert limit_in(after, "Na") == limit_in(before, "Na")
    assert "yours are kept" in aim.told.text()
    hands.key(Qt.Key.Key_Z, CONTROL)
    assert hands.recipe.aim == before


def test_what_is_from_memory_is_marked() -> None:
    from app.wording import editors_aim as of_aim

    recalled = [profile for profile in crops() if profile.known.how_known == "MEMORY"]
    assert recalled
    assert all("▲ from memory" in of_aim.profile_head(profile) for profile in recalled)
    assert all("from memory" in of_aim.profile_aside(profile) for profile in recalled)


def test_disagreement_is_marked() -> None:
    model = CropModel()
    model.show(crops_of("tomato"), "")
    apart = [name for name in model.rows if model.apart(name)]
    assert apart
    heads = [model.headerData(row, Qt.Orientation.Vertical) for row in range(model.rowCount())]
    assert sum("≠" in head for head in heads) == len(apart)


def test_the_table_s_model_keeps_its_promises(dressed: None) -> None:
    model = CropModel()
    tester = QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    for name in ("tomato", "strawberry", "no such crop", "lettuce"):
        profiles = crops_of(name)
        model.show(profiles, profiles[0].id if profiles else "")
        model.show(profiles, profiles[-1].id if profiles else "")
    assert tester.model() is model


def test_ranges_limits_and_weights(hands: Hands, aim: AimEditor, qtbot: QtBot) -> None:
    type_into(hands, aim, "K", "low_mg_per_l", "170")
    type_into(hands, aim, "K", "high_mg_per_l", "5 meq/L")
    type_into(hands, aim, "Cl", "at_most_mg_per_l", "40")
    qtbot.mouseClick(aim.weights, Qt.MouseButton.LeftButton)
    type_into(hands, aim, "K", "weight", "2")
    held = target(hands, "K")
    assert (held.low_mg_per_l, held.weight) == (170, 2)
    assert held.high_mg_per_l == pytest.approx(195.49, abs=0.01)
    assert limit_in(hands.recipe.aim, "Cl") == Limit("Cl", 40)
    type_into(hands, aim, "K", "tolerance_percent", "8")
    assert target(hands, "K") == Target("K", 180, tolerance_percent=8, weight=2)


def test_a_range_that_misses_its_target_waits(hands: Hands, aim: AimEditor) -> None:
    type_into(hands, aim, "K", "low_mg_per_l", "200")
    assert target(hands, "K").low_mg_per_l is None
    assert "Potassium has its low (200 mg/L) above its target (180 mg/L)" in aim.wrong.text()
    assert aim.table.fields["K", "low_mg_per_l"].text() == "200"
    type_into(hands, aim, "K", "mg_per_l", "220")
    assert target(hands, "K") == Target("K", 220, low_mg_per_l=200)
    assert aim.wrong.text() == ""


def test_a_limit_alone_and_its_end(hands: Hands, aim: AimEditor) -> None:
    type_into(hands, aim, "Na", "at_most_mg_per_l", "")
    aim.table.fields["Na", "at_most_mg_per_l"].selectAll()
    hands.key(Qt.Key.Key_Delete)
    hands.enter()
    assert limit_in(hands.recipe.aim, "Na") is None


def test_the_feed_as_a_whole(hands: Hands, aim: AimEditor, qtbot: QtBot) -> None:
    hands.fill("EC at 25 °C", "1.8")
    hands.tab_to("This EC is")
    hands.key(Qt.Key.Key_Down)
    hands.fill("pH", "5,8")
    hands.fill("Alkalinity to leave", "30 CaCO3")
    hands.fill("Ammonium at most", "8")
    hands.tab_to("Urea may be used")
    hands.key(Qt.Key.Key_Space)
    hands.fill("Name of the recipe", "Summer")
    hands.enter()
    held = hands.recipe.aim
    assert (held.ec_ms_per_cm, held.ec_is_rise_over_water, held.ph, held.urea) == (1.8, True, 5.8, True)
    assert held.ammonium_share_at_most_percent == 8
    assert held.residual_alkalinity_meq_per_l == pytest.approx(0.5995, abs=1e-4)
    assert hands.recipe.title == "Summer"


def test_a_column_is_pasted_from_the_row_down(hands: Hands, aim: AimEditor) -> None:
    QApplication.clipboard().setText("50\n200\n150")
    aim.table.fields["P", "mg_per_l"].setFocus()
    hands.key(Qt.Key.Key_V, CONTROL)
    assert [target(hands, name).mg_per_l for name in ("P", "K", "Ca")] == [50, 200, 150]
    assert hands.window.room.session.edits.undoText() == "pasted column"
    assert "3 targets pasted" in aim.told.text()


def test_a_named_column_and_what_is_not_understood(hands: Hands, aim: AimEditor, qtbot: QtBot) -> None:
    QApplication.clipboard().setText("K2O\t240\nXy\t3")
    qtbot.mouseClick(aim.paste, Qt.MouseButton.LeftButton)
    assert target(hands, "K").mg_per_l == pytest.approx(199.2, abs=0.1)
    assert "Not taken: “Xy" in aim.told.text()


def test_the_column_copied_out_comes_back_in(hands: Hands, aim: AimEditor, qtbot: QtBot) -> None:
    before = hands.recipe.aim
    qtbot.mouseClick(aim.copy, Qt.MouseButton.LeftButton)
    assert QApplication.clipboard().text().startswith("N\t128\nP\t46\n")
    qtbot.mouseClick(aim.paste, Qt.MouseButton.LeftButton)
    assert hands.recipe.aim == before
