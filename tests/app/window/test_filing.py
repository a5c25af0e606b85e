"""Saving from the window: asking, refusing, what changed elsewhere, and work left by a window that ended early."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from msgspec import structs
from PySide6.QtCore import QEvent, Qt, QTimer, QUrl
from PySide6.QtGui import QFileOpenEvent
from PySide6.QtWidgets import QApplication, QDialog, QLineEdit, QMessageBox
from pytestqt.qtbot import QtBot

from app.session import changes, state
from app.session.files import Claim
from app.session.slot import Slot, recovery_folder
from app.session.state import State, read_state, write_state
from app.window import file_dialogs
from app.window.file_dialogs import Answer
from app.window.frame import MainWindow
from app.window.start import FilesFromOutside, move_in
from core.recipe import dumps, load
from tests.app.sample import sample_recipe

Started = Callable[..., MainWindow]


@pytest.fixture
def started(dressed: None, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Started]:
    """Starts shown windows whose engine waits for ever; everything else is as a person has it."""
    monkeypatch.setattr(state, "state_file", lambda: tmp_path / "state" / "window.json")
    monkeypatch.setattr("app.session.planning.Planner.release", lambda _planner: None)
    windows: list[MainWindow] = []

    def start(path: Path | None = None) -> MainWindow:
        windows.append(MainWindow())
        move_in(windows[-1], path)
        windows[-1].show()
        windows[-1].activateWindow()
        qtbot.waitUntil(windows[-1].isActiveWindow)
        return windows[-1]

    yield start
    for window in windows:
        window.room.session.edits.setClean()
        window.close()
        window.deleteLater()


@pytest.fixture
def file(tmp_path: Path) -> Path:
    file = tmp_path / "mine.saltwright"
    file.write_bytes(dumps(sample_recipe()))
    return file


@pytest.fixture
def window(started: Started, file: Path) -> MainWindow:
    return started(file)


def target(window: MainWindow, value: float) -> None:
    session = window.room.session
    assert session.recipe is not None
    session.push("target", ("aim", "K"), changes.with_target(session.recipe, "K", value))


def keys(qtbot: QtBot, window: MainWindow, key: Qt.Key, *more: Qt.KeyboardModifier) -> None:
    held = Qt.KeyboardModifier.ControlModifier
    for modifier in more:
        held |= modifier
    qtbot.keyClick(window, key, held)


def answer(monkeypatch: pytest.MonkeyPatch, given: Answer) -> list[str]:
    asked: list[str] = []

    def say(_window: object, name: str) -> Answer:
        asked.append(name)
        return given

    monkeypatch.setattr(file_dialogs, "ask_unsaved", say)
    return asked


def save_to(monkeypatch: pytest.MonkeyPatch, path: Path | None) -> None:
    monkeypatch.setattr(file_dialogs, "ask_where_to_save", lambda _window, _proposed: path)


def at_dialog(act: Callable[[QDialog], None]) -> QTimer:
    """Do this to the next dialog that waits for an answer; one that got none is closed after a while."""
    timer, looks = QTimer(), iter(range(200))
    acted: list[QDialog] = []

    def look() -> None:
        dialog = QApplication.activeModalWidget()
        if not isinstance(dialog, QDialog) or not dialog.isActiveWindow():
            return
        if not acted:
            acted.append(dialog)
            act(dialog)
        elif next(looks, None) is None:
            dialog.close()

    timer.timeout.connect(look)
    timer.start(10)
    return timer


def press(qtbot: QtBot, window: MainWindow, text: str) -> None:
    button = next(button for button in window.room.notice.buttons if button.text() == text)
    qtbot.keyClick(button, Qt.Key.Key_Space)


def came_back(window: MainWindow) -> None:
    QApplication.sendEvent(window, QEvent(QEvent.Type.ActivationChange))


def other_program(file: Path) -> None:
    file.write_bytes(dumps(structs.replace(sample_recipe(), title="by another program")))


def left_behind(recipe: object, origin: Path | None, name: str = "left") -> Path:
    slot = Slot(recovery_folder(), name)
    assert slot.take()
    slot.put(slot.prepare(recipe if isinstance(recipe, bytes) else dumps(recipe), origin))  # type: ignore[arg-type]
    slot.release()
    return slot.copy


def test_save_by_keys_takes_the_mark_of_change_away(qtbot: QtBot, window: MainWindow, file: Path) -> None:
    target(window, 200.0)
    assert window.isWindowModified()
    keys(qtbot, window, Qt.Key.Key_S)
    assert not window.isWindowModified()
    assert load(file) == window.room.session.recipe


@pytest.mark.qt_log_ignore("This plugin does not support", extend=True)
def test_save_as_by_keys_in_the_real_dialog(qtbot: QtBot, started: Started, tmp_path: Path) -> None:
    write_state(State((str(tmp_path / "gone.saltwright"),)))
    window, proposed = started(), []

    def type_a_name(dialog: QDialog) -> None:
        name = dialog.findChild(QLineEdit)
        proposed.append(name.text())
        name.selectAll()
        qtbot.keyClicks(name, "second house")
        qtbot.keyClick(name, Qt.Key.Key_Return)

    _timer = at_dialog(type_a_name)
    keys(qtbot, window, Qt.Key.Key_S, Qt.KeyboardModifier.ShiftModifier)
    assert proposed[0].endswith(".saltwright")
    assert load(tmp_path / "second house.saltwright") == window.room.session.recipe
    assert window.windowTitle().startswith("second house.saltwright")
    assert read_state().recent[0] == str(tmp_path / "second house.saltwright")


def test_a_recipe_without_a_file_is_asked_for_one(
    qtbot: QtBot, started: Started, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = started()
    proposed: list[Path] = []
    monkeypatch.setattr(file_dialogs, "ask_where_to_save", lambda _window, name: proposed.append(name))
    keys(qtbot, window, Qt.Key.Key_S)
    assert window.room.session.path is None
    assert proposed[0].suffix == ".saltwright"
    assert proposed[0].parent.is_absolute()
    save_to(monkeypatch, tmp_path / "demo.saltwright")
    keys(qtbot, window, Qt.Key.Key_S)
    assert window.room.session.path == tmp_path / "demo.saltwright"


def test_a_save_that_fails_is_said_with_a_way_out(
    qtbot: QtBot, window: MainWindow, file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = file.read_bytes()
    target(window, 200.0)
    save_to(monkeypatch, file / "below a file.saltwright")
    keys(qtbot, window, Qt.Key.Key_S, Qt.KeyboardModifier.ShiftModifier)
    assert "below a file.saltwright is not saved: its folder is not there." in window.room.notice.text()
    assert window.isWindowModified()
    assert file.read_bytes() == before
    save_to(monkeypatch, tmp_path / "elsewhere.saltwright")
    press(qtbot, window, "Save as…")
    assert not window.isWindowModified()
    assert not window.room.notice.text()


def test_an_empty_shelf_is_said_and_not_saved(qtbot: QtBot, window: MainWindow, file: Path) -> None:
    before, session = file.read_bytes(), window.room.session
    assert session.recipe is not None
    session.push("no salts", ("shelf",), structs.replace(session.recipe, shelf=()))
    keys(qtbot, window, Qt.Key.Key_S)
    assert "put at least one salt on it" in window.room.notice.text()
    assert file.read_bytes() == before


@pytest.mark.parametrize(("given", "closed"), [(Answer.SAVE, True), (Answer.DISCARD, True), (Answer.CANCEL, False)])
def test_closing_with_unsaved_changes_asks(
    window: MainWindow, file: Path, monkeypatch: pytest.MonkeyPatch, given: Answer, closed: bool
) -> None:
    target(window, 200.0)
    edited, asked = window.room.session.recipe, answer(monkeypatch, given)
    assert window.close() is closed
    assert asked == ["mine.saltwright"]
    assert (load(file) == edited) is (given is Answer.SAVE)
    assert window.isVisible() is not closed


def test_closing_stays_open_where_saving_fails(window: MainWindow, file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target(window, 200.0)
    other_program(file)
    answer(monkeypatch, Answer.SAVE)
    assert not window.close()
    assert "another program changed it" in window.room.notice.text()


@pytest.mark.parametrize(
    ("key", "expected"),
    [(Qt.Key.Key_Return, Answer.SAVE), (Qt.Key.Key_D, Answer.DISCARD), (Qt.Key.Key_Escape, Answer.CANCEL)],
)
def test_the_question_by_keys(qtbot: QtBot, window: MainWindow, key: Qt.Key, expected: Answer) -> None:
    said: list[str] = []

    def type_an_answer(box: QDialog) -> None:
        assert isinstance(box, QMessageBox)
        said.append(box.text())
        held = Qt.KeyboardModifier.AltModifier if key == Qt.Key.Key_D else Qt.KeyboardModifier.NoModifier
        qtbot.keyClick(box.focusWidget() or box, key, held)

    _timer = at_dialog(type_an_answer)
    assert file_dialogs.ask_unsaved(window, "mine.saltwright") is expected
    assert said == ["Save the changes to mine.saltwright?"]


def test_opening_something_else_asks_too(window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    other = tmp_path / "other.saltwright"
    other.write_bytes(dumps(sample_recipe()))
    target(window, 200.0)
    asked = answer(monkeypatch, Answer.CANCEL)
    assert not window.room.opening.open(other)
    window.room.opening.demo()
    assert len(asked) == 2
    assert window.isWindowModified()
    answer(monkeypatch, Answer.DISCARD)
    assert window.room.opening.open(other)
    assert not window.isWindowModified()


def test_a_change_elsewhere_can_be_reloaded(qtbot: QtBot, window: MainWindow, file: Path) -> None:
    other_program(file)
    came_back(window)
    assert "mine.saltwright was changed by another program" in window.room.notice.text()
    press(qtbot, window, "Reload")
    assert window.room.session.recipe is not None
    assert window.room.session.recipe.title == "by another program"
    assert not window.room.notice.text()


def test_a_change_elsewhere_can_be_kept_out(qtbot: QtBot, window: MainWindow, file: Path) -> None:
    other_program(file)
    came_back(window)
    press(qtbot, window, "Keep mine")
    assert window.isWindowModified()
    came_back(window)
    assert not window.room.notice.text()
    keys(qtbot, window, Qt.Key.Key_S)
    assert load(file) == sample_recipe()


def test_saving_over_a_change_elsewhere_is_asked_about(qtbot: QtBot, window: MainWindow, file: Path) -> None:
    target(window, 200.0)
    other_program(file)
    keys(qtbot, window, Qt.Key.Key_S)
    assert load(file).title == "by another program"
    press(qtbot, window, "Write over it")
    assert load(file) == window.room.session.recipe
    assert not window.room.notice.text()


def test_a_file_damaged_elsewhere_is_not_loaded(qtbot: QtBot, window: MainWindow, file: Path) -> None:
    file.write_text("{", encoding="utf-8")
    came_back(window)
    press(qtbot, window, "Reload")
    assert "mine.saltwright" in window.room.notice.text()
    assert window.room.session.recipe == sample_recipe()
    press(qtbot, window, "Keep mine")
    keys(qtbot, window, Qt.Key.Key_S)
    assert load(file) == sample_recipe()


def test_a_file_that_is_gone_is_said(qtbot: QtBot, window: MainWindow, file: Path) -> None:
    file.unlink()
    came_back(window)
    assert "no longer where it was" in window.room.notice.text()
    assert window.isWindowModified()
    press(qtbot, window, "Save")
    assert load(file) == sample_recipe()
    assert not window.room.notice.text()


def test_the_same_file_in_two_windows(started: Started, file: Path, window: MainWindow) -> None:
    second = started(file)
    assert "also open in another window" in second.room.notice.text()
    window.close()
    came_back(second)
    assert not second.room.notice.text()


def test_a_later_start_leaves_a_file_alone_that_is_open_elsewhere(started: Started, file: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.saltwright"
    other.write_bytes(dumps(sample_recipe()))
    claim = Claim(file)
    assert not claim.taken_elsewhere()
    write_state(State((str(file), str(other))))
    assert started().room.session.path == other
    claim.release()


def test_work_left_is_offered_and_opened(qtbot: QtBot, started: Started, file: Path) -> None:
    edited = structs.replace(sample_recipe(), title="not saved yet")
    copy = left_behind(edited, file)
    os.utime(copy, (1_790_000_000, 1_790_000_000))
    window = started(file)
    assert "Unsaved changes to mine.saltwright were kept from 2026-09-2" in window.room.notice.text()
    assert "The file itself was saved after that." in window.room.notice.text()
    press(qtbot, window, "Open")
    assert window.room.session.recipe == edited
    assert window.isWindowModified()
    assert not window.room.notice.text()
    keys(qtbot, window, Qt.Key.Key_S)
    assert load(file) == edited
    assert not copy.exists()


def test_work_left_can_be_discarded_one_by_one(qtbot: QtBot, started: Started, file: Path) -> None:
    left_behind(structs.replace(sample_recipe(), title="first house"), None, "one")
    left_behind(structs.replace(sample_recipe(), title="second house"), None, "two")
    window = started(file)
    assert "Kept besides: 1 more." in window.room.notice.text()
    press(qtbot, window, "Discard")
    assert "Kept besides" not in window.room.notice.text()
    press(qtbot, window, "Discard")
    assert not window.room.notice.text()
    assert list(recovery_folder().glob("*.saltwright")) == []


def test_work_left_undecided_is_offered_again(started: Started, file: Path) -> None:
    left_behind(structs.replace(sample_recipe(), title="first house"), None)
    first = started(file)
    assert "first house" in first.room.notice.text()
    first.close()
    assert "first house" in started(file).room.notice.text()


def test_work_left_that_was_saved_is_not_offered(started: Started, file: Path) -> None:
    copy = left_behind(sample_recipe(), file)
    assert not started(file).room.notice.text()
    assert not copy.exists()


def test_work_left_that_cannot_be_opened_is_said_and_stays(qtbot: QtBot, started: Started, file: Path) -> None:
    copy = left_behind(dumps(structs.replace(sample_recipe(), shelf=())), None)
    window = started(file)
    assert "put at least one salt on it" in window.room.notice.text()
    assert str(copy) in window.room.notice.text()
    assert copy.exists()
    press(qtbot, window, "Discard")
    assert not copy.exists()


def test_that_nothing_can_be_kept_is_said(window: MainWindow) -> None:
    recovery = window.room.session.recovery
    assert recovery is not None
    recovery.failed.emit("No space left on device")
    assert "No space left on device. Save often." in window.room.notice.text()


def test_the_recent_list_can_be_cleared(window: MainWindow) -> None:
    menu = window.titles["file"].findChild(type(window.titles["file"]))
    menu.aboutToShow.emit()
    menu.actions()[-1].trigger()
    assert read_state().recent == ()


def test_a_file_the_system_asks_to_open(window: MainWindow, tmp_path: Path) -> None:
    other = tmp_path / "other.saltwright"
    other.write_bytes(dumps(sample_recipe()))
    assert FilesFromOutside(window).eventFilter(window, QFileOpenEvent(QUrl.fromLocalFile(str(other))))
    assert window.room.session.path == other
