"""The window as a whole: opening, refusing, moving about by keys, and what screen readers find."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QAccessible, QAction, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QAbstractButton, QApplication, QFileDialog, QWidget
from pytestqt.qtbot import QtBot

from app.session.state import read_state
from app.surfaces.weighout import WeighoutSurface
from app.window.frame import MainWindow
from app.wording import surfaces as say
from core.recipe import dumps
from tests.app.conftest import until
from tests.app.sample import sample_recipe

Settle = Callable[[MainWindow], None]


@pytest.fixture
def file(tmp_path: Path) -> Path:
    from msgspec import structs

    file = tmp_path / "Second house.saltwright"
    file.write_bytes(dumps(structs.replace(sample_recipe(), title="Second house")))
    return file


@pytest.fixture
def bad_file(tmp_path: Path) -> Path:
    file = tmp_path / "bad.saltwright"
    file.write_text('{"format": "saltwright-recipe", "schema": 1}', encoding="utf-8")
    return file


def action(window: MainWindow, text: str) -> QAction:
    return next(action for action in window.findChildren(QAction) if action.text().replace("&", "").startswith(text))


def drop(window: MainWindow, url: QUrl) -> None:
    data = QMimeData()
    data.setUrls([url])
    move, left, none = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    enter = QDragEnterEvent(QPointF(9, 9).toPoint(), move, data, left, none)
    QApplication.sendEvent(window, enter)
    assert enter.isAccepted()
    QApplication.sendEvent(window, QDropEvent(QPointF(9, 9), move, data, left, none))


def test_open_by_dialog(window: MainWindow, file: Path, settled: Settle, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_args: (str(file), ""))
    action(window, "Open…").trigger()
    settled(window)
    assert "Second house" in window.room.headline.accessibleName()
    assert window.windowTitle().startswith("Second house.saltwright")
    assert read_state().recent == (str(file),)


def test_a_cancelled_dialog_changes_nothing(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    before = window.room.session.recipe
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_args: ("", ""))
    action(window, "Open…").trigger()
    assert window.room.session.recipe is before


def test_drop_a_file(window: MainWindow, file: Path, settled: Settle) -> None:
    drop(window, QUrl.fromLocalFile(str(file)))
    settled(window)
    assert "Second house" in window.room.headline.accessibleName()


def test_drop_an_address(window: MainWindow) -> None:
    drop(window, QUrl("https://example.org/a.saltwright"))
    assert "no file on this computer" in window.room.notice.text()


def test_a_bad_file_is_said_in_the_window_and_the_old_recipe_stays(
    qtbot: QtBot, window: MainWindow, bad_file: Path, settled: Settle
) -> None:
    before = window.room.session.recipe
    assert not window.room.opening.open(bad_file)
    assert "bad.saltwright" in window.room.notice.text()
    assert "shelf" in window.room.notice.text()
    assert window.room.session.recipe is before
    window.room.session.verify()
    settled(window)
    assert window.room.notice.text()
    close = next(button for button in window.room.notice.findChildren(QAbstractButton))
    qtbot.mouseClick(close, Qt.MouseButton.LeftButton)
    assert not window.room.notice.text()


def test_opening_a_good_file_takes_the_notice_away(window: MainWindow, bad_file: Path, file: Path) -> None:
    window.room.opening.open(bad_file)
    window.room.opening.open(file)
    assert not window.room.notice.text()


def test_a_recent_file_is_in_the_menu(window: MainWindow, file: Path, settled: Settle) -> None:
    window.room.opening.open(file)
    settled(window)
    menu = action(window, "Open recent").menu()
    menu.aboutToShow.emit()
    assert [entry.text().replace("&", "") for entry in menu.actions()] == [file.name, "", "Clear this list"]
    file.unlink()
    menu.aboutToShow.emit()
    assert [entry.isEnabled() for entry in menu.actions()] == [False]


def test_undo_by_its_keys_and_the_mark_of_change(qtbot: QtBot, window: MainWindow, settled: Settle) -> None:
    field = window.room.design.aim.rows["K"].field
    field.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClicks(field, "200")
    settled(window)
    assert window.isWindowModified()
    assert action(window, "Undo").text() == "Undo target for potassium"
    action(window, "Undo").trigger()
    settled(window)
    assert field.text() == "180"
    assert not window.isWindowModified()
    action(window, "Redo").trigger()
    settled(window)
    assert field.text() == "200"


@pytest.mark.parametrize(("number", "surface"), list(enumerate(say.SURFACES, start=1)))
def test_every_surface_by_its_keys(qtbot: QtBot, window: MainWindow, number: int, surface: str) -> None:
    keys = (Qt.Key.Key_1, Qt.Key.Key_2, Qt.Key.Key_3, Qt.Key.Key_4, Qt.Key.Key_5, Qt.Key.Key_6)
    qtbot.keyClick(window, keys[number - 1], Qt.KeyboardModifier.ControlModifier)
    assert window.room.surface() == surface
    assert window.rail.buttons[surface].isChecked()


def test_the_rail_by_mouse_and_keys(qtbot: QtBot, window: MainWindow) -> None:
    qtbot.mouseClick(window.rail.buttons["tanks"], Qt.MouseButton.LeftButton)
    assert window.room.surface() == "tanks"
    qtbot.keyClick(window.rail.buttons["weighout"], Qt.Key.Key_Return)
    assert window.room.surface() == "weighout"


def test_it_reopens_on_the_surface_used_last(window: MainWindow) -> None:
    window.go_to("tanks")
    window.close()
    assert read_state().surface == "tanks"


def test_tanks_and_weights_are_the_plan_s(window: MainWindow) -> None:
    window.go_to("tanks")
    window.go_to("weighout")
    tanks, weights = window.room.surfaces["tanks"], window.room.surfaces["weighout"]
    assert [card.accessibleName() for card in tanks.cards]  # type: ignore[union-attr]
    assert isinstance(weights, WeighoutSurface)
    until(lambda: bool(weights.rows()))
    said = [row.accessibleName() for row in weights.rows()]
    assert "Manganese sulfate 1-hydrate 12.30 g, to weigh" in [words.replace("\xa0", " ") for words in said]


@pytest.mark.parametrize("surface", say.SURFACES)
def test_everything_the_keyboard_reaches_has_a_name(window: MainWindow, surface: str) -> None:
    window.go_to(surface)
    reached = [widget for widget in window.findChildren(QWidget) if _takes_tab(widget)]
    assert reached
    nameless = [widget for widget in reached if not _name(widget)]
    assert nameless == []


def test_tab_reaches_every_field_from_the_top(qtbot: QtBot, window: MainWindow) -> None:
    design = window.room.design
    design.aim.rows["N"].field.setFocus(Qt.FocusReason.TabFocusReason)
    fields: list[QWidget] = [row.field for row in design.aim.rows.values() if row.isVisible()]
    fields += [design.salts.goal, *(design.salts.rows[entry].field for entry in design.salts.shown())]
    for field in fields:
        assert QApplication.focusWidget() is field
        qtbot.keyClick(field, Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is design.salts.unused_link


def test_every_command_says_what_it_does(window: MainWindow) -> None:
    commands = [found for found in window.findChildren(QAction) if found.text() and not found.isSeparator()]
    silent = [found.text() for found in commands if not found.statusTip() and found.menu() is None]
    assert silent == []
    keys = [found.shortcut().toString() for found in commands if not found.shortcut().isEmpty()]
    assert len(keys) == len(set(keys))


def _takes_tab(widget: QWidget) -> bool:
    reachable = bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)
    return reachable and widget.isVisible() and widget.isEnabled()


def _name(widget: QWidget) -> str:
    interface = QAccessible.queryAccessibleInterface(widget)
    return interface.text(QAccessible.Text.Name) if interface is not None else ""
