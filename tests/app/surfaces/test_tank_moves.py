"""Salts moved between tanks and back: the plan before comes back, and pins of the program are told as its own."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from app.surfaces.tanks import TanksSurface
from app.window.frame import MainWindow
from tests.app.conftest import settle
from tests.app.surfaces.test_tanks import MOVE, home, push_tanks, recipe_of, row_of


def standing(window: MainWindow) -> list[object]:
    """What stands in which tank, how much and why, and how the tanks stand; the last digit of a pH may differ."""
    plan = window.room.session.plan
    assert plan is not None
    return [(one.name, one.content, one.contents, one.reasons, one.verdict, one.cold_verdict) for one in plan.tanks]


@pytest.mark.parametrize("quickly", [False, True], ids=["one by one", "before the plan is there"])
@pytest.mark.parametrize("mine", [{}, {"potassium-nitrate": "A"}], ids=["no pins", "a pin of hers"])
@pytest.mark.parametrize(
    ("salt", "there", "back"),
    [
        ("calcium-nitrate-greenhouse", Qt.Key.Key_Right, Qt.Key.Key_Left),
        ("monopotassium-phosphate", Qt.Key.Key_Left, Qt.Key.Key_Right),
        ("boric-acid", Qt.Key.Key_Left, Qt.Key.Key_Right),
    ],
)
def test_there_and_back_gives_the_plan_before(
    qtbot: QtBot, real: MainWindow, tanks: TanksSurface, salt: str, there: Qt.Key, back: Qt.Key,
    mine: dict[str, str], quickly: bool,
) -> None:  # fmt: skip
    push_tanks(real, pins=mine)
    recipe, stood = recipe_of(real), standing(real)
    row_of(tanks, salt).setFocus(Qt.FocusReason.TabFocusReason)
    for key in (there, back):
        qtbot.keyClick(row_of(tanks, salt), key, MOVE)
        if not quickly:
            settle(real)
            settle(real)
        if key is there and not quickly:
            assert recipe_of(real).tanks.pins != mine
    settle(real)
    settle(real)
    assert recipe_of(real).tanks.pins == mine
    assert recipe_of(real) == recipe
    assert standing(real) == stood


def test_undo_and_redo_know_whose_pins_they_are(qtbot: QtBot, real: MainWindow, tanks: TanksSurface) -> None:
    salt, edits = "calcium-nitrate-greenhouse", real.room.session.edits
    row_of(tanks, salt).setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClick(row_of(tanks, salt), Qt.Key.Key_Right, MOVE)
    settle(real)
    settle(real)
    moved = recipe_of(real).tanks.pins
    assert moved.keys() == {salt, "magnesium-sulfate-heptahydrate"}
    edits.undo()
    settle(real)
    assert recipe_of(real).tanks.pins == {}
    edits.redo()
    settle(real)
    assert recipe_of(real).tanks.pins == moved
    qtbot.keyClick(row_of(tanks, salt), Qt.Key.Key_Left, MOVE)
    settle(real)
    settle(real)
    assert recipe_of(real).tanks.pins == {}


def test_pins_of_the_program_are_not_called_hers(qtbot: QtBot, real: MainWindow, tanks: TanksSurface) -> None:
    """Calcium brought to the sulfate: the sulfate is held too, which is told as the program's doing; so is the tank."""
    row = row_of(tanks, "calcium-nitrate-greenhouse")
    row.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClick(row, Qt.Key.Key_Right, MOVE)
    settle(real)
    settle(real)
    assert home(tanks, "calcium-nitrate-greenhouse") == "Calcium and sulfate side"
    led = row_of(tanks, "magnesium-sulfate-heptahydrate")
    assert led.pinned
    assert led.accessibleDescription().startswith("Pinned by the program, so that calcium nitrate")
    own = row_of(tanks, "calcium-nitrate-greenhouse")
    assert own.accessibleDescription() == "Pinned here; everything else is placed around it."
