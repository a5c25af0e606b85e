"""The session's file: saved, claimed, changed behind our back, open in two windows."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from msgspec import structs
from pytestqt.qtbot import QtBot

from app.session import state
from app.session.files import Claim, Elsewhere, open_elsewhere
from app.session.planning import Planner
from app.session.saving import ChangedElsewhere, SaveError, Why
from app.session.session import Session
from core.recipe import RecipeError, dumps, load
from tests.app.conftest import Clock
from tests.app.sample import follow, sample_recipe, want_potassium


@pytest.fixture
def windows(
    qtbot: QtBot, clock: Clock, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[Callable[[], Session]]:
    """Makes sessions, each as another window would."""
    monkeypatch.setattr(state, "state_file", lambda: tmp_path / "state" / "window.json")
    sessions: list[Session] = []

    def begin() -> Session:
        sessions.append(Session(Planner(make=follow, warm=lambda: None, held=True), clock))
        return sessions[-1]

    yield begin
    for session in sessions:
        session.close()


@pytest.fixture
def file(tmp_path: Path) -> Path:
    file = tmp_path / "mine.saltwright"
    file.write_bytes(dumps(sample_recipe()))
    return file


@pytest.fixture
def session(windows: Callable[[], Session], file: Path) -> Session:
    session = windows()
    session.open(file)
    return session


def other_program(file: Path, title: str) -> None:
    file.write_bytes(dumps(structs.replace(sample_recipe(), title=title)))


def test_saving_makes_it_clean_and_undo_makes_it_unsaved_again(session: Session, file: Path) -> None:
    want_potassium(session, 200.0)
    assert session.unsaved
    session.save()
    assert not session.unsaved
    assert load(file) == session.recipe
    session.edits.undo()
    assert session.unsaved
    session.edits.redo()
    assert not session.unsaved


def test_typing_does_not_merge_into_what_was_saved(session: Session) -> None:
    want_potassium(session, 20.0)
    session.save()
    want_potassium(session, 200.0)
    assert session.edits.count() == 2
    session.edits.undo()
    assert not session.unsaved


def test_save_as_moves_on_to_the_other_file(session: Session, file: Path, qtbot: QtBot) -> None:
    other, before = file.with_name("other.saltwright"), file.read_bytes()
    want_potassium(session, 200.0)
    with qtbot.waitSignal(session.saved):
        session.save(other)
    assert session.path == other
    assert load(other) == session.recipe
    assert file.read_bytes() == before
    assert not open_elsewhere(file)


def test_a_failed_save_changes_nothing(session: Session, file: Path) -> None:
    want_potassium(session, 200.0)
    with pytest.raises(SaveError):
        session.save(file / "below a file.saltwright")
    assert session.path == file
    assert session.unsaved
    session.save()
    assert not session.unsaved


def test_an_empty_shelf_is_a_step_that_cannot_be_saved(session: Session, file: Path) -> None:
    assert session.recipe is not None
    before = file.read_bytes()
    session.push("no salts", ("shelf",), structs.replace(session.recipe, shelf=()))
    with pytest.raises(SaveError) as raised:
        session.save()
    assert raised.value.why is Why.NOT_A_RECIPE
    assert file.read_bytes() == before
    with pytest.raises(RecipeError):
        session.push("and worse", ("currency",), structs.replace(session.recipe, currency="?"))
    session.edits.undo()
    session.save()


def test_a_change_elsewhere_is_noticed_and_not_written_over(session: Session, file: Path) -> None:
    other_program(file, "by another program")
    assert session.elsewhere() is Elsewhere.CHANGED
    want_potassium(session, 200.0)
    with pytest.raises(ChangedElsewhere):
        session.save()
    assert load(file).title == "by another program"
    session.save(over=True)
    assert load(file) == session.recipe
    assert session.elsewhere() is Elsewhere.NOTHING


def test_the_same_recipe_written_again_is_no_change(session: Session, file: Path) -> None:
    other_program(file, sample_recipe().title)
    assert session.elsewhere() is Elsewhere.NOTHING
    session.save()


def test_keeping_mine_is_unsaved_until_it_is_saved(session: Session, file: Path) -> None:
    other_program(file, "by another program")
    session.keep_mine()
    assert session.elsewhere() is Elsewhere.NOTHING
    assert session.unsaved
    session.save()
    assert load(file) == sample_recipe()


def test_a_file_that_is_gone_is_unsaved_and_can_be_saved_again(session: Session, file: Path) -> None:
    file.unlink()
    assert session.elsewhere() is Elsewhere.GONE
    assert session.unsaved
    session.save()
    assert load(file) == session.recipe
    assert session.elsewhere() is Elsewhere.NOTHING


def test_a_file_replaced_by_a_folder(session: Session, file: Path) -> None:
    file.unlink()
    file.mkdir()
    assert session.elsewhere() is Elsewhere.CHANGED


def test_open_twice(session: Session, windows: Callable[[], Session], file: Path) -> None:
    second = windows()
    second.open(file)
    assert not session.open_twice()
    assert second.open_twice()
    session.close()
    assert not second.open_twice()


def test_open_twice_by_another_name(session: Session, windows: Callable[[], Session], file: Path) -> None:
    link = file.with_name("link.saltwright")
    link.symlink_to(file)
    second = windows()
    second.open(link)
    assert second.open_twice()


def test_reopening_its_own_file_is_not_twice(session: Session, file: Path) -> None:
    session.open(file)
    assert not session.open_twice()
    assert open_elsewhere(file)
    session.start(sample_recipe())
    assert not open_elsewhere(file)


def test_a_file_open_in_another_window_is_not_written_over(
    session: Session, windows: Callable[[], Session], file: Path
) -> None:
    second = windows()
    second.start(structs.replace(sample_recipe(), title="second"))
    with pytest.raises(SaveError) as raised:
        second.save(file)
    assert raised.value.why is Why.OPEN_ELSEWHERE
    assert second.path is None
    assert load(file) == sample_recipe()


def test_without_a_state_folder_nothing_is_claimed_or_refused(
    windows: Callable[[], Session], file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(state, "state_file", lambda: file / "below a file" / "window.json")
    claim = Claim(file)
    assert not claim.taken_elsewhere()
    session = windows()
    session.open(file)
    want_potassium(session, 200.0)
    session.save()
    assert not session.unsaved
