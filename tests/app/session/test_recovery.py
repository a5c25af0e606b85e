"""The copy of unsaved work: soon there, gone when it is not needed, offered when its window ended early."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from msgspec import structs
from pytestqt.qtbot import QtBot

from app.session import recovery
from app.session import slot as slots
from app.session.planning import Planner
from app.session.recovery import Recovery
from app.session.session import Session
from app.session.slot import Slot, leftovers
from core.recipe import dumps, load
from tests.app.sample import follow, sample_recipe, want_potassium

SOON_S = 0.03
NEVER_S = 3600.0

Kept = Callable[[float], Recovery]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "recovery"


@pytest.fixture
def kept(qtbot: QtBot, folder: Path) -> Iterator[Kept]:
    """Makes recoveries and closes them afterwards."""
    made: list[Recovery] = []

    def make(delay_s: float) -> Recovery:
        made.append(Recovery(folder, delay_s))
        return made[-1]

    yield make
    for one in made:
        one.close()


@pytest.fixture
def session(qtbot: QtBot, kept: Kept) -> Iterator[Session]:
    session = Session(Planner(make=follow, warm=lambda: None, held=True), recovery=kept(SOON_S))
    session.start(sample_recipe())
    yield session
    session.close()


def copies(folder: Path) -> list[Path]:
    return sorted(folder.glob("*.saltwright"))


def left_behind(folder: Path, name: str, data: bytes, origin: Path | None = None) -> Path:
    """Leave a copy as a process does that is killed."""
    slot = Slot(folder, name)
    assert slot.take()
    slot.put(slot.prepare(data, origin))
    slot.release()
    return slot.copy


def test_an_unsaved_edit_is_soon_in_a_copy(qtbot: QtBot, session: Session, folder: Path) -> None:
    assert copies(folder) == []
    want_potassium(session, 200.0)
    qtbot.waitUntil(lambda: bool(copies(folder)))
    assert load(copies(folder)[0]) == session.recipe


def test_later_edits_do_not_put_it_off(qtbot: QtBot, session: Session, folder: Path) -> None:
    values = iter(range(1, 30000))

    def typed_on() -> bool:
        want_potassium(session, float(next(values)))
        return bool(copies(folder))

    qtbot.waitUntil(typed_on)
    qtbot.waitUntil(lambda: load(copies(folder)[0]) == session.recipe)


def test_it_is_written_behind_the_window(
    qtbot: QtBot, session: Session, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    names: list[str] = []

    def noted(recipe: object) -> bytes:
        names.append(threading.current_thread().name)
        return dumps(recipe)  # type: ignore[arg-type]

    monkeypatch.setattr(recovery, "dumps", noted)
    want_potassium(session, 200.0)
    qtbot.waitUntil(lambda: bool(copies(folder)))
    assert set(names) == {"recovery"}


@pytest.mark.parametrize("how", ["save", "undo", "other recipe", "close"])
def test_it_goes_when_it_is_not_needed(qtbot: QtBot, session: Session, folder: Path, tmp_path: Path, how: str) -> None:
    want_potassium(session, 200.0)
    qtbot.waitUntil(lambda: bool(copies(folder)))
    ways = {
        "save": lambda: session.save(tmp_path / "mine.saltwright"),
        "undo": session.edits.undo,
        "other recipe": lambda: session.start(sample_recipe()),
        "close": session.close,
    }
    ways[how]()
    assert copies(folder) == []
    session.close()
    assert list(folder.iterdir()) == []


def test_a_copy_dropped_while_it_is_written_does_not_come_back(
    kept: Kept, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    keeper = kept(NEVER_S)
    really = slots.os.fsync

    def drop_meanwhile(descriptor: int) -> None:
        really(descriptor)
        keeper.drop()

    monkeypatch.setattr(slots.os, "fsync", drop_meanwhile)
    failures: list[str] = []
    keeper.failed.connect(failures.append)
    keeper.keep(sample_recipe(), None)
    keeper.flush()
    assert [found.suffix for found in folder.iterdir()] == [".lock"]
    assert failures == []


def test_flush_does_not_wait(kept: Kept, folder: Path) -> None:
    keeper = kept(NEVER_S)
    keeper.keep(sample_recipe(), None)
    keeper.flush()
    assert load(copies(folder)[0]) == sample_recipe()


def test_each_window_has_its_own_and_takes_no_other_s(kept: Kept, folder: Path) -> None:
    for title in ("one", "two"):
        keeper = kept(NEVER_S)
        keeper.keep(structs.replace(sample_recipe(), title=title), None)
        keeper.flush()
    assert {load(copy).title for copy in copies(folder)} == {"one", "two"}
    assert leftovers(folder) == []


def test_an_empty_shelf_is_kept_as_it_is(kept: Kept, folder: Path) -> None:
    keeper, recipe = kept(NEVER_S), structs.replace(sample_recipe(), shelf=())
    keeper.keep(recipe, None)
    keeper.flush()
    assert copies(folder)[0].read_bytes() == dumps(recipe)


def test_leftovers_newest_first_with_their_files(folder: Path, tmp_path: Path) -> None:
    old = left_behind(folder, "old", b"{}", tmp_path / "mine.saltwright")
    new = left_behind(folder, "new", b"{}")
    os.utime(old, (1, 1))
    found = leftovers(folder)
    assert [(slot.copy, slot.origin()) for slot in found] == [(new, None), (old, tmp_path / "mine.saltwright")]
    assert leftovers(folder) == []  # taken: a second window offers none of them again
    for slot in found:
        slot.release()
    assert len(leftovers(folder)) == 2


def test_what_a_window_left_without_a_copy_is_swept_away(folder: Path) -> None:
    copy = left_behind(folder, "x", b"{}")
    copy.rename(folder / "x.tmp")
    assert leftovers(folder) == []
    assert list(folder.iterdir()) == []


@pytest.mark.parametrize("note", [b"", b"{", b"[]", b'{"path": 3}'])
def test_a_damaged_note_of_the_file(folder: Path, note: bytes) -> None:
    left_behind(folder, "x", b"{}", Path("/a")).with_suffix(".json").write_bytes(note)
    assert leftovers(folder)[0].origin() is None


def test_restored_work_is_unsaved_and_its_copy_stays_until_saved(
    qtbot: QtBot, session: Session, folder: Path, tmp_path: Path
) -> None:
    file = tmp_path / "mine.saltwright"
    file.write_bytes(dumps(sample_recipe()))
    edited = structs.replace(sample_recipe(), title="edited")
    copy = left_behind(folder, "left", dumps(edited), file)
    (slot,) = leftovers(folder)
    session.restore(load(slot.copy), slot)
    assert session.recipe == edited
    assert session.path == file
    assert session.unsaved
    assert copies(folder) == [copy]
    want_potassium(session, 200.0)
    qtbot.waitUntil(lambda: load(copy) == session.recipe)
    session.save()
    assert copies(folder) == []
    assert load(file) == session.recipe


def test_a_folder_that_takes_nothing_is_said_once(qtbot: QtBot, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    keeper = Recovery(tmp_path / "file" / "recovery", NEVER_S)
    reasons: list[str] = []
    keeper.failed.connect(reasons.append)
    for _ in range(3):
        keeper.keep(sample_recipe(), None)
        keeper.flush()
    assert len(reasons) == 1
    assert reasons[0]
    keeper.close()


def test_a_fault_of_the_program_does_not_end_the_keeping(
    qtbot: QtBot, session: Session, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[type[BaseException] | None] = []
    monkeypatch.setattr(threading, "excepthook", lambda hook: told.append(hook.exc_type))

    def faulty(recipe: object) -> bytes:
        raise ZeroDivisionError

    monkeypatch.setattr(recovery, "dumps", faulty)
    assert session.recovery is not None
    with qtbot.waitSignal(session.recovery.failed):
        want_potassium(session, 200.0)
    qtbot.waitUntil(lambda: told == [ZeroDivisionError])
    assert copies(folder) == []
    monkeypatch.setattr(recovery, "dumps", dumps)
    monkeypatch.setattr(session.recovery, "_due_s", None)  # or the next trial is put off
    want_potassium(session, 201.0)
    qtbot.waitUntil(lambda: bool(copies(folder)))
    assert load(copies(folder)[0]) == session.recipe
