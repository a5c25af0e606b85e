"""The whole main job by keyboard alone: an empty recipe, water, shelf, aim, tanks, and there is the plan."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from app.window.frame import MainWindow
from core.recipe import check
from tests.app.surfaces.editors.conftest import CONTROL, Hands

REPORT = (
    ("pH", "7,4"), ("EC at 25 °C", "470 µS/cm"), ("Calcium", "8.1 °dH"), ("Magnesium", "1 meq/L"), ("Sodium", "21"),
    ("Bicarbonate", "158 CaCO3"), ("Sulfate", "30"), ("Chloride", "30"), ("Nitrate", "13,3"),
)  # fmt: skip
SHELF = ("calc gree", "kno3", "mgso4 7", "kh2po4", "iron dtpa")


@pytest.fixture
def hands(qtbot: QtBot, real_window: MainWindow) -> Hands:
    return Hands(qtbot, real_window)


def type_water(hands: Hands) -> None:
    hands.key(Qt.Key.Key_F6)
    hands.type("Borehole, 12 March")
    for line, figure in REPORT:
        hands.fill(line, figure)
    hands.key(Qt.Key.Key_Escape)  # takes back the last figure ...
    hands.type("13,3")
    hands.enter()
    hands.key(Qt.Key.Key_Escape)  # ... and closes once nothing is left to take back


def type_shelf(hands: Hands) -> None:
    hands.key(Qt.Key.Key_F7)
    for letters in SHELF:
        hands.type(letters)
        hands.enter()
    hands.type("Tunnel start")
    hands.key(Qt.Key.Key_End)
    hands.enter()  # the last of the list: an own product
    for name, percent in (("N", "12"), ("NO3-N", "7"), ("P2O5", "10"), ("K2O", "25"), ("MgO", "3")):
        hands.fill(f"Label: {name}, per cent", percent)
    hands.fill("Pack holds", "25")
    hands.fill("Price of the pack", "48.5")
    hands.fill("Priced on", "2026-06-01")
    hands.enter()
    hands.key(Qt.Key.Key_Escape)


def type_aim(hands: Hands) -> None:
    hands.key(Qt.Key.Key_F5)
    hands.type("tomato ikeda")
    hands.enter()
    assert hands.on.accessibleName() == "Nitrogen: target"
    hands.key(Qt.Key.Key_Escape)


def type_tanks(hands: Hands) -> None:
    hands.key(Qt.Key.Key_F8)
    hands.fill("They stand at", "54 F")
    hands.fill("On the coldest night", "5")
    hands.fill("Each holds", "13 US gal")
    hands.fill("Scale 1 carries, g", "5 kg")
    hands.fill("Scale 1 in steps of, g", "1")
    hands.enter()
    hands.key(Qt.Key.Key_Escape)


def test_the_main_job_by_keyboard_alone(hands: Hands) -> None:
    hands.key(Qt.Key.Key_N, CONTROL)
    room = hands.window.room
    assert not hands.recipe.shelf
    assert room._beginning.isVisible()

    type_water(hands)
    water = hands.recipe.water
    assert (water.name, water.ph, water.ec_ms_per_cm) == ("Borehole, 12 March", 7.4, 0.47)
    assert water.mg_per_l.ca == pytest.approx(57.9, abs=0.05)
    assert water.mg_per_l.hco3 == pytest.approx(192.6, abs=0.1)
    assert water.mg_per_l.s == pytest.approx(10.01, abs=0.01)
    assert water.mg_per_l.k is None

    type_shelf(hands)
    assert [entry.salt for entry in hands.recipe.shelf] == [
        "calcium-nitrate-greenhouse", "potassium-nitrate", "magnesium-sulfate-heptahydrate",
        "monopotassium-phosphate", "iron-dtpa-11", "blend:Tunnel start",
    ]  # fmt: skip
    bag = hands.recipe.shelf[-1]
    assert dict(bag.label_percent.items()) == {"N": 12, "NO3-N": 7, "P2O5": 10, "K2O": 25, "MgO": 3}
    assert (bag.pack_kg, bag.price_per_kg, bag.priced_on) == (25, 1.94, "2026-06-01")

    type_aim(hands)
    assert hands.recipe.aim.crop is not None
    assert hands.recipe.aim.crop.startswith("tomato-ikeda")
    assert len(hands.recipe.aim.targets) > 5

    type_tanks(hands)
    assert hands.recipe.tanks.temperature_c == pytest.approx(12.22, abs=0.01)
    assert hands.recipe.batch.tank_volume_l == pytest.approx(49.21, abs=0.01)
    assert hands.recipe.batch.scales[0].capacity_g == 5000

    hands.settle()
    check(hands.recipe)
    plan = room.session.plan
    assert plan is not None
    assert {amount.entry_id for amount in plan.amounts} >= {"calcium-nitrate-greenhouse", "potassium-nitrate"}
    assert room.design.isVisible()
    assert "EC" in room.headline.accessibleName()

    while room.session.edits.canUndo():
        hands.key(Qt.Key.Key_Z, CONTROL)
    assert not hands.recipe.shelf
    assert not hands.recipe.water.mg_per_l
