"""The Tanks surface on the real engine: controls move live, salts move between tanks by keys, menu and mouse."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from msgspec import structs
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.surfaces.tanks import TanksSurface
from app.surfaces.tanks.content_row import ContentRow
from app.window.frame import MainWindow
from core.recipe.records import Recipe
from tests.app.conftest import settle

Settle = Callable[[MainWindow], None]
MOVE = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier


def recipe_of(window: MainWindow) -> Recipe:
    assert window.room.session.recipe is not None
    return window.room.session.recipe


def row_of(tanks: TanksSurface, entry_id: str) -> ContentRow:
    row = tanks.row_of(entry_id)
    assert row is not None
    return row


def home(tanks: TanksSurface, entry_id: str) -> str:
    return next(card.accessibleName() for card in tanks.cards if entry_id in card.rows)


def push_tanks(window: MainWindow, **changed: object) -> None:
    recipe = recipe_of(window)
    setup = structs.replace(recipe.tanks, **changed)
    window.room.session.push("x", ("x",), structs.replace(recipe, tanks=setup))
    settle(window)


def test_strength_moves_live_and_is_one_edit(qtbot: QtBot, real: MainWindow, tanks: TanksSurface) -> None:
    field = tanks.controls.fields["ratio"]
    field.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClicks(field, "200")
    settle(real)
    assert recipe_of(real).tanks.ratio == 200.0
    assert "5 mL per litre" in tanks.cards[0]._poured
    assert real.room.session.edits.count() == 1
    real.room.session.edits.undo()
    settle(real)
    assert field.text() == "100"


def test_up_and_down_walk_the_injector_steps(qtbot: QtBot, real: MainWindow, tanks: TanksSurface) -> None:
    field = tanks.controls.fields["ratio"]
    field.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClick(field, Qt.Key.Key_Up)
    settle(real)
    assert recipe_of(real).tanks.ratio == 125.0
    qtbot.keyClick(field, Qt.Key.Key_Down)
    qtbot.keyClick(field, Qt.Key.Key_Down)
    settle(real)
    assert recipe_of(real).tanks.ratio == 80.0


def test_the_step_offered_keeps_every_tank_clear(qtbot: QtBot, real: MainWindow, tanks: TanksSurface) -> None:
    push_tanks(real, ratio=450.0)
    assert tanks.controls.hint().startswith("Next injector step that stays clear: 1 in ")
    qtbot.mouseClick(tanks.controls.use, Qt.MouseButton.LeftButton)
    settle(real)
    assert real.room.session.plan is not None
    assert {tank.cold_verdict for tank in real.room.session.plan.tanks} == {"clear"}
    assert tanks.controls.hint().startswith(("Strongest", "This is the strongest"))


@pytest.mark.parametrize(("name", "keys", "value"), [("temperature_c", "18", 18.0), ("coldest_c", "7,5", 7.5)])
def test_temperatures_move_live(
    qtbot: QtBot, real: MainWindow, tanks: TanksSurface, name: str, keys: str, value: float
) -> None:
    field = tanks.controls.fields[name]
    field.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClicks(field, keys)
    settle(real)
    assert getattr(recipe_of(real).tanks, name) == value


def test_the_volume_changes_the_weights(qtbot: QtBot, real: MainWindow, tanks: TanksSurface) -> None:
    field = tanks.controls.fields["tank_volume_l"]
    before = row_of(tanks, "potassium-nitrate").accessibleName()
    field.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClicks(field, "30 gal")
    assert field.fault() != ""
    field.selectAll()
    qtbot.keyClicks(field, "120")
    settle(real)
    assert recipe_of(real).batch.tank_volume_l == 120.0
    assert row_of(tanks, "potassium-nitrate").accessibleName() != before


def test_an_emptied_field_changes_nothing_and_shows_what_holds(
    qtbot: QtBot, real: MainWindow, tanks: TanksSurface
) -> None:
    field = tanks.controls.fields["ratio"]
    field.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClick(field, Qt.Key.Key_Backspace)
    settle(real)
    assert recipe_of(real).tanks.ratio == 100.0
    tanks.controls.fields["coldest_c"].setFocus(Qt.FocusReason.TabFocusReason)
    settle(real)
    assert field.text() == "100"


def test_out_of_range_is_refused_beside_the_field(qtbot: QtBot, real: MainWindow, tanks: TanksSurface) -> None:
    field = tanks.controls.fields["ratio"]
    field.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClicks(field, "90000")
    settle(real)
    assert field.fault() != ""
    assert recipe_of(real).tanks.ratio == 900.0


def test_fill_water_by_keyboard(qtbot: QtBot, real: MainWindow, tanks: TanksSurface) -> None:
    tanks.controls.water.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClick(tanks.controls.water, Qt.Key.Key_Down)
    settle(real)
    assert recipe_of(real).tanks.fill_water == "recipe"


def test_a_salt_moves_by_shortcut_and_keeps_the_keyboard(qtbot: QtBot, real: MainWindow, tanks: TanksSurface) -> None:
    assert home(tanks, "potassium-nitrate") == "Calcium side"
    row = row_of(tanks, "potassium-nitrate")
    row.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClick(row, Qt.Key.Key_Right, MOVE)
    settle(real)
    assert recipe_of(real).tanks.pins == {"potassium-nitrate": "B"}
    assert home(tanks, "potassium-nitrate") == "Phosphate side"
    moved = row_of(tanks, "potassium-nitrate")
    assert moved.hasFocus()
    assert "pinned here" in moved.accessibleName()
    assert "Pinned here; everything else" in tanks.why()
    qtbot.keyClick(moved, Qt.Key.Key_Delete)
    settle(real)
    assert recipe_of(real).tanks.pins == {}
    assert home(tanks, "potassium-nitrate") == "Calcium side"
    assert row_of(tanks, "potassium-nitrate").hasFocus()


def test_moving_beyond_the_last_tank_does_nothing(qtbot: QtBot, real: MainWindow, tanks: TanksSurface) -> None:
    row = row_of(tanks, "potassium-nitrate")
    row.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClick(row, Qt.Key.Key_Left, MOVE)
    settle(real)
    assert recipe_of(real).tanks.pins == {}


def test_a_clash_is_shown_not_dodged(qtbot: QtBot, real: MainWindow, tanks: TanksSurface) -> None:
    """Phosphate moved to the calcium stands beside calcium, in one undoable edit, and the tank says what comes out."""
    row = row_of(tanks, "monopotassium-phosphate")
    row.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClick(row, Qt.Key.Key_Left, MOVE)
    settle(real)
    settle(real)
    card = next(card for card in tanks.cards if "monopotassium-phosphate" in card.rows)
    assert any(key.startswith("calcium-nitrate") for key in card.rows)
    assert "settles out" in card.accessibleDescription()
    assert "calcium meets phosphate" in card.accessibleDescription()
    real.room.session.edits.undo()
    settle(real)
    assert recipe_of(real).tanks.pins == {}


def test_releasing_a_pin_releases_its_companion(qtbot: QtBot, real: MainWindow, tanks: TanksSurface) -> None:
    """What was pinned only to keep a moved salt company goes free with it; a pin of her own stays."""
    for mine in ({}, {"potassium-nitrate": "A"}):
        push_tanks(real, pins=mine)
        row = row_of(tanks, "monopotassium-phosphate")
        row.setFocus(Qt.FocusReason.TabFocusReason)
        qtbot.keyClick(row, Qt.Key.Key_Left, MOVE)
        settle(real)
        settle(real)
        assert len(recipe_of(real).tanks.pins) == 2 + len(mine)
        qtbot.keyClick(row_of(tanks, "monopotassium-phosphate"), Qt.Key.Key_Delete)
        settle(real)
        assert recipe_of(real).tanks.pins == mine
        assert home(tanks, "monopotassium-phosphate") == "Phosphate side"


def test_what_an_edit_moved_says_so_until_the_next_edit(real: MainWindow, tanks: TanksSurface) -> None:
    row = row_of(tanks, "potassium-nitrate")
    assert "moved here" not in row.accessibleName()
    push_tanks(real, pins={"potassium-nitrate": "B"})
    assert "moved here" not in row_of(tanks, "potassium-nitrate").accessibleName()
    recipe = recipe_of(real)
    free = structs.replace(recipe, tanks=structs.replace(recipe.tanks, pins={}))
    real.room.session.push("y", ("y",), free)
    settle(real)
    back = row_of(tanks, "potassium-nitrate")
    assert home(tanks, "potassium-nitrate") == "Calcium side"
    assert back.accessibleName().endswith("moved here")
    assert back.accessibleDescription().startswith("Your last change moved it here from the phosphate side. ")
    assert "moved here" not in row_of(tanks, "boric-acid").accessibleName()
    real.room.session.push("z", ("z",), structs.replace(free, title="again"))
    settle(real)
    assert "moved here" not in row_of(tanks, "potassium-nitrate").accessibleName()


def test_a_salt_moves_by_mouse(qtbot: QtBot, real: MainWindow, tanks: TanksSurface) -> None:
    row, other = row_of(tanks, "potassium-nitrate"), tanks.cards[1]
    start = QPoint(row.width() // 2, row.height() // 2)
    end = row.mapFromGlobal(other.mapToGlobal(other.rect().center()))
    qtbot.mousePress(row, Qt.MouseButton.LeftButton, pos=start)
    qtbot.mouseMove(row, start + QPoint(40, 0))
    qtbot.mouseMove(row, end)
    assert tanks._ghost.isVisible()
    qtbot.mouseRelease(row, Qt.MouseButton.LeftButton, pos=end)
    settle(real)
    assert not tanks._ghost.isVisible()
    assert recipe_of(real).tanks.pins == {"potassium-nitrate": "B"}
    pinned = row_of(tanks, "potassium-nitrate")
    qtbot.mouseClick(pinned, Qt.MouseButton.LeftButton, pos=QPoint(20, pinned.height() // 2))
    settle(real)
    assert recipe_of(real).tanks.pins == {}


def test_escape_gives_a_drag_up(qtbot: QtBot, real: MainWindow, tanks: TanksSurface) -> None:
    row, other = row_of(tanks, "potassium-nitrate"), tanks.cards[1]
    end = row.mapFromGlobal(other.mapToGlobal(other.rect().center()))
    row.setFocus(Qt.FocusReason.MouseFocusReason)
    qtbot.mousePress(row, Qt.MouseButton.LeftButton, pos=QPoint(60, 10))
    qtbot.mouseMove(row, QPoint(100, 10))
    qtbot.mouseMove(row, end)
    qtbot.keyClick(row, Qt.Key.Key_Escape)
    qtbot.mouseRelease(row, Qt.MouseButton.LeftButton, pos=end)
    settle(real)
    assert recipe_of(real).tanks.pins == {}


@pytest.mark.qt_log_ignore("This plugin does not support (raise|grabbing)", extend=True)
def test_the_menu_offers_every_tank_and_one_of_its_own(qtbot: QtBot, real: MainWindow, tanks: TanksSurface) -> None:
    push_tanks(real, count=3)
    row = row_of(tanks, "boric-acid")
    row.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClick(row, Qt.Key.Key_Return)
    menu = QApplication.activePopupWidget()
    assert menu is not None
    actions = [action for action in menu.actions() if action.text()]
    assert [action.text() for action in actions] == [
        "Move to calcium side", "Keep it here", "Move to a tank of its own", "Let the program choose the tank",
    ]  # fmt: skip
    actions[2].trigger()
    menu.close()
    settle(real)
    assert recipe_of(real).tanks.pins == {"boric-acid": "C"}
    assert len([card for card in tanks.cards if card.isVisible()]) == 3


def test_arrows_walk_a_tank_and_tell_why(qtbot: QtBot, tanks: TanksSurface) -> None:
    first, second = tanks.cards[1].shown[:2]
    tanks.cards[1].rows[first].setFocus(Qt.FocusReason.TabFocusReason)
    assert "keep apart from calcium" in tanks.why()
    qtbot.keyClick(tanks.cards[1].rows[first], Qt.Key.Key_Down)
    assert tanks.cards[1].rows[second].hasFocus()
    qtbot.keyClick(tanks.cards[1].rows[second], Qt.Key.Key_End)
    assert tanks.cards[1].rows[tanks.cards[1].shown[-1]].hasFocus()


def test_tab_walks_controls_tanks_and_the_question(qtbot: QtBot, tanks: TanksSurface) -> None:
    tanks.controls.fields["ratio"].setFocus(Qt.FocusReason.TabFocusReason)
    walked: list[QWidget] = []
    for _ in range(40):
        focused = QApplication.focusWidget()
        if focused is None or focused is tanks.together.link:
            break
        walked.append(focused)
        qtbot.keyClick(focused, Qt.Key.Key_Tab)
    rows = [card.rows[key] for card in tanks.cards for key in card.shown]
    assert walked[: len(tanks.controls.fields)] == list(tanks.controls.fields.values())
    assert [part for part in walked if isinstance(part, ContentRow)] == rows
    assert QApplication.focusWidget() is tanks.together.link
    assert all(part.accessibleName() or part.property("text") for part in walked)


def test_one_tank_for_all_is_worked_out_when_asked(qtbot: QtBot, real: MainWindow, tanks: TanksSurface) -> None:
    assert tanks.together.words() == ""
    qtbot.keyClick(tanks.together.link, Qt.Key.Key_Space)
    assert "kg of calcium sulfate would lie on the floor" in tanks.together.words()
    seen = tanks._scroll.viewport().rect().translated(0, tanks._scroll.verticalScrollBar().value())
    assert seen.contains(tanks.together.geometry())  # the whole of the answer is in view
    before = tanks.together.words()
    push_tanks(real, ratio=50.0)
    assert tanks.together.words() != before


def test_the_bars_say_what_is_near(tanks: TanksSurface) -> None:
    bar = tanks.cards[0].near.bars[0]
    assert bar.accessibleName().startswith("Potassium nitrate: ")
    assert "comes out at 1 in " in bar.accessibleName()


@pytest.mark.parametrize("size", [(1024, 700), (1366, 700), (1920, 1000), (911, 480), (512, 340)])
def test_nothing_is_cut_at_any_size(real: MainWindow, tanks: TanksSurface, size: tuple[int, int]) -> None:
    real.resize(*size)
    QApplication.processEvents()
    parts = [tanks.controls, *(card for card in tanks.cards if card.isVisible()), tanks.together]
    for part in parts:
        assert tanks._page.rect().contains(part.geometry())
        assert not [other for other in parts if other is not part and part.geometry().intersects(other.geometry())]
    for card in tanks.cards:
        assert card.height() >= card.least_height(card.width())
    for field in tanks.controls.fields.values():
        assert tanks.controls.rect().contains(field.geometry())
