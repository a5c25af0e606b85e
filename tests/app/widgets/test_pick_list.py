"""Finding by a few letters, with the keyboard alone."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

from app.widgets.pick_list import Pick, PickList, found

PICKS = (
    Pick("potassium-nitrate", "Potassium nitrate", "KNO₃"),
    Pick("potassium-sulfate", "Potassium sulfate", "K₂SO₄"),
    Pick("magnesium-sulfate", "Magnesium sulfate heptahydrate", "MgSO₄·7H₂O"),
    Pick("acid", "Nitric acid", "HNO₃"),
)


@pytest.fixture
def picker(dressed: None, qtbot: QtBot) -> PickList:
    picker = PickList(None, "Add", "letters")  # type: ignore[arg-type]  # a window of its own
    picker.set_picks(PICKS, lambda text: Pick("own", f"Own {text}"))
    picker.show()
    picker.activateWindow()
    picker.field.setFocus()
    return picker


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        ("kno3", ["potassium-nitrate"]),
        ("sulf", ["potassium-sulfate", "magnesium-sulfate"]),
        ("mag 7", ["magnesium-sulfate"]),
        ("nitr", ["potassium-nitrate", "acid"]),
        ("NITRIC", ["acid"]),
        ("sulfate potassium", ["potassium-sulfate"]),
        ("zinc", []),
    ],
)
def test_every_word_typed_is_looked_for(text: str, keys: list[str]) -> None:
    assert [pick.key for pick in found(PICKS, text)] == keys


def test_what_begins_with_the_letters_comes_first() -> None:
    assert [pick.key for pick in found(PICKS, "no3")] == ["potassium-nitrate", "acid"]
    assert [pick.key for pick in found(PICKS, "ni")][:2] == ["potassium-nitrate", "acid"]


def test_arrows_choose_and_enter_takes(qtbot: QtBot, picker: PickList) -> None:
    taken: list[tuple[str, str]] = []
    picker.picked.connect(lambda *answer: taken.append(answer))
    qtbot.keyClicks(picker.field, "sulf")
    assert picker.keys() == ("potassium-sulfate", "magnesium-sulfate", "own")
    assert "Potassium sulfate" in picker.field.accessibleDescription()
    qtbot.keyClick(picker.field, Qt.Key.Key_Down)
    assert "Magnesium" in picker.field.accessibleDescription()
    qtbot.keyClick(picker.field, Qt.Key.Key_Return)
    assert taken == [("magnesium-sulfate", "sulf")]
    assert picker.keys() == ()
    assert picker.field.text() == ""


def test_own_is_the_last_and_carries_what_was_typed(qtbot: QtBot, picker: PickList) -> None:
    taken: list[tuple[str, str]] = []
    picker.picked.connect(lambda *answer: taken.append(answer))
    qtbot.keyClicks(picker.field, "My Mix")
    qtbot.keyClick(picker.field, Qt.Key.Key_Return)
    assert taken == [("own", "My Mix")]


def test_escape_folds_the_list(qtbot: QtBot, picker: PickList) -> None:
    qtbot.keyClicks(picker.field, "sulf")
    qtbot.keyClick(picker.field, Qt.Key.Key_Escape)
    assert picker.keys() == ()
    assert picker.isVisible()


def test_a_click_takes(qtbot: QtBot, picker: PickList) -> None:
    taken: list[str] = []
    picker.picked.connect(lambda key, _typed: taken.append(key))
    qtbot.keyClicks(picker.field, "sulf")
    place = picker.list.visualItemRect(picker.list.item(1)).center()
    qtbot.mouseClick(picker.list.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert taken == ["magnesium-sulfate"]


def test_the_list_s_model_keeps_its_promises(qtbot: QtBot, picker: PickList) -> None:
    tester = QAbstractItemModelTester(picker.list.model(), QAbstractItemModelTester.FailureReportingMode.Fatal)
    qtbot.keyClicks(picker.field, "sulf")
    qtbot.keyClick(picker.field, Qt.Key.Key_Escape)
    assert tester.model() is picker.list.model()
