"""Tanks, scales and pins."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from app.surfaces.editors import Editors
from app.surfaces.editors.tanks_editor import TanksEditor
from core.recipe.records import Scale
from tests.app.surfaces.editors.conftest import Hands


@pytest.fixture
def tanks(editors: Editors) -> TanksEditor:
    editors.open("tanks")
    sheet = editors.sheets["tanks"]
    assert isinstance(sheet, TanksEditor)
    return sheet


@pytest.mark.parametrize(
    ("typed", "ratio"), [("5", 200), ("1:128", 128), ("1 in 64", 64), ("2 %", 50), ("1 tsp/US gal", 768)]
)
def test_the_dilution_in_any_words(hands: Hands, tanks: TanksEditor, typed: str, ratio: float) -> None:
    hands.fill("Of each, per litre of feed", typed)
    hands.enter()
    assert hands.recipe.tanks.ratio == pytest.approx(ratio)
    assert f"1:{ratio}" in tanks.poured.text()
    assert "mL per litre of finished feed" in tanks.poured.text()


def test_a_dilution_upside_down_is_asked_back(hands: Hands, tanks: TanksEditor) -> None:
    hands.fill("Of each, per litre of feed", "100:1")
    hands.enter()
    assert hands.recipe.tanks.ratio == 100
    assert "did you mean 1:100" in tanks.fields["ratio"].fault()


def test_gallons_of_no_country_are_asked_back(hands: Hands, tanks: TanksEditor) -> None:
    hands.fill("Each holds", "13 gal")
    hands.enter()
    assert hands.recipe.batch.tank_volume_l == 50
    assert "US gal or imp gal" in tanks.fields["tank_volume_l"].fault()


def test_fewer_tanks_let_go_of_their_pins(hands: Hands, tanks: TanksEditor, qtbot: QtBot) -> None:
    hands.key(Qt.Key.Key_Down)
    assert hands.recipe.tanks.count == 3
    qtbot.mouseClick(tanks.pin_link, Qt.MouseButton.LeftButton)
    tanks.pins["boric-acid"].setFocus()
    for _time in range(3):
        hands.key(Qt.Key.Key_Down)
    assert hands.recipe.tanks.pins == {"boric-acid": "C"}
    tanks.count.setFocus()
    hands.key(Qt.Key.Key_Up)
    assert (hands.recipe.tanks.count, hands.recipe.tanks.pins) == (2, {})
    hands.window.room.session.edits.undo()
    assert hands.recipe.tanks.pins == {"boric-acid": "C"}
    assert tanks.pins["boric-acid"].key() == "C"


def test_pins_name_tanks_by_what_they_hold(tanks: TanksEditor) -> None:
    texts = [tanks.pins["boric-acid"].itemText(index) for index in range(3)]
    assert texts == ["as planned", "calcium side (A)", "phosphate side (B)"]


def test_scales(hands: Hands, tanks: TanksEditor) -> None:
    hands.fill("Scale 3 carries, g", "2 kg")
    hands.tab()
    assert "needs both" in tanks.scales.note.text()
    hands.type("0.1")
    hands.enter()
    assert hands.recipe.batch.scales == (Scale(5000, 1), Scale(200, 0.01), Scale(2000, 0.1))
    assert tanks.scales.note.text() == ""
    hands.tab()
    assert hands.on.accessibleName() == "Scale 4 carries, g"
    hands.window.room.session.edits.undo()
    assert tanks.scales.rows[2][0].text() == ""


def test_a_scale_that_cannot_be(hands: Hands, tanks: TanksEditor) -> None:
    hands.fill("Scale 3 carries, g", "1")
    hands.tab()
    hands.type("5")
    hands.enter()
    assert len(hands.recipe.batch.scales) == 2
    assert "carries 1 g in steps of 5 g" in tanks.wrong.text()


def test_temperatures_and_acid(hands: Hands, tanks: TanksEditor) -> None:
    hands.fill("On the coldest night", "-40")
    hands.enter()
    assert "outside -5 to 60" in tanks.wrong.text()
    hands.type("37.4 °F")
    hands.enter()
    assert hands.recipe.tanks.coldest_c == 3
    hands.tab_to("Acid goes into")
    hands.key(Qt.Key.Key_Down)
    assert hands.recipe.acid_into == "water"
