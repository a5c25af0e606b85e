"""The open logbook: on the disk at every change, shared with other windows, never overwritten, never lost."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from msgspec import structs

from app.session import book as module
from app.session import state
from app.session.book import Book, LeftAlone
from app.session.saving import SaveError, Why
from core.logbook.file import dumps, load
from core.logbook.merge import Conflict
from core.logbook.records import Entry, Logbook, Reservoir
from core.recipe import RecipeError

START = Logbook(reservoirs=(Reservoir("one", 300),))


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, qapp: object) -> Path:
    monkeypatch.setattr(state, "state_file", lambda: tmp_path / "state" / "window.json")
    (tmp_path / "state").mkdir()
    path = tmp_path / "data" / "logbook.saltwright-log"
    monkeypatch.setattr(module, "own_logbook", lambda: path)
    return path


@pytest.fixture
def windows(own: Path) -> Callable[[], Book]:
    """Opens one more window on the program's own logbook."""

    def begin() -> Book:
        book = Book()
        book.open_own()
        return book

    return begin


@pytest.fixture
def book(windows: Callable[[], Book]) -> Book:
    book = windows()
    book.push("add reservoir", START)
    return book


def days(book: Book) -> list[str]:
    return [entry.at for entry in book.logbook.reservoirs[0].entries]


def log(book: Book, day: int, **fields) -> None:
    book.add_entry("reading", "one", Entry(f"2026-03-{day:02d}", **fields))


def test_nothing_is_written_before_there_is_something(own: Path, windows: Callable[[], Book]) -> None:
    assert windows().logbook == Logbook()
    assert not own.exists()


def test_every_change_is_on_the_disk(book: Book, own: Path) -> None:
    log(book, 1, ph=6.0)
    assert load(own) == book.logbook
    book.edits.undo()
    assert load(own) == START
    book.edits.redo()
    assert load(own).reservoirs[0].entries[0].ph == 6.0
    assert book.trouble is None
    assert not book.unwritten


def test_what_a_file_could_not_hold_is_refused_and_changes_nothing(book: Book, own: Path) -> None:
    with pytest.raises(RecipeError, match="outside 0 to 14"):
        log(book, 1, ph=99.0)
    assert book.logbook == load(own) == START
    assert book.edits.count() == 1


def test_two_windows_write_into_one_diary(book: Book, windows: Callable[[], Book], own: Path) -> None:
    other = windows()
    log(other, 2)
    log(book, 1)
    assert days(book) == ["2026-03-01", "2026-03-02"]
    assert load(own) == book.logbook
    other.look()
    assert other.logbook == book.logbook


def test_taking_back_leaves_what_the_other_window_wrote(book: Book, windows: Callable[[], Book], own: Path) -> None:
    log(book, 1)
    other = windows()
    log(other, 2)
    book.edits.undo()
    assert days(book) == ["2026-03-02"]
    assert load(own) == book.logbook


def test_the_same_thing_changed_twice_is_refused_and_kept_in_the_window(
    book: Book, windows: Callable[[], Book], own: Path
) -> None:
    other = windows()
    for one, volume in ((other, 200.0), (book, 400.0)):
        reservoir = structs.replace(one.logbook.reservoirs[0], volume_l=volume)
        one.push("volume", structs.replace(one.logbook, reservoirs=(reservoir,)))
    assert isinstance(book.trouble, Conflict)
    assert book.unwritten
    assert load(own).reservoirs[0].volume_l == 200.0
    assert book.logbook.reservoirs[0].volume_l == 400.0
    book.edits.undo()
    assert book.trouble is None
    assert book.logbook == load(own)


def test_a_file_another_program_spoiled_is_left_alone(book: Book, own: Path) -> None:
    own.write_bytes(b"{ my notes")
    log(book, 1)
    assert own.read_bytes() == b"{ my notes"
    assert isinstance(book.trouble, RecipeError)
    assert book.unwritten
    own.unlink()
    assert book.write()
    assert days(book) == ["2026-03-01"]
    assert load(own) == book.logbook


def test_a_folder_that_takes_nothing(book: Book, own: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(path: Path, _data: bytes) -> None:
        raise SaveError(path, Why.FULL)

    told: list[object] = []
    book.failed.connect(told.append)
    with monkeypatch.context() as patch:
        patch.setattr(module, "write_whole", full)
        log(book, 1)
        log(book, 2)
    assert [getattr(error, "why", None) for error in told] == [Why.FULL, Why.FULL]
    assert load(own) == START
    assert days(book) == ["2026-03-01", "2026-03-02"]
    mended: list[bool] = []
    book.mended.connect(lambda: mended.append(True))
    book.look()  # coming back to the window tries again
    assert mended == [True]
    assert load(own) == book.logbook


def test_a_damaged_own_logbook_stays_and_another_name_is_used(own: Path, windows: Callable[[], Book]) -> None:
    own.parent.mkdir()
    own.write_bytes(b'{"format": "saltwright-log", "schema": 9}')
    book = windows()
    assert isinstance(book.trouble, LeftAlone)
    assert book.path.name == "logbook-2.saltwright-log"
    book.push("add reservoir", START)
    assert own.read_bytes() == b'{"format": "saltwright-log", "schema": 9}'
    assert load(book.path) == START


def test_another_logbook_is_remembered(book: Book, windows: Callable[[], Book], tmp_path: Path, own: Path) -> None:
    other = tmp_path / "house 2.saltwright-log"
    other.write_bytes(dumps(structs.replace(START, title="house 2")))
    book.open(other)
    assert book.edits.count() == 0
    assert windows().logbook.title == "house 2"
    other.rename(tmp_path / "elsewhere")
    lost = windows()
    assert isinstance(lost.trouble, LeftAlone)
    assert lost.path != other
    book.open(tmp_path / "elsewhere")
    book.open(own)
    assert windows().path == own


def test_a_refused_logbook_changes_nothing(book: Book, tmp_path: Path, own: Path) -> None:
    with pytest.raises(RecipeError, match="cannot be found"):
        book.open(tmp_path / "nowhere")
    assert book.path == own
    assert book.logbook == START


def test_new_ones_never_replace_a_file(book: Book, tmp_path: Path, own: Path) -> None:
    with pytest.raises(RecipeError, match="is there already; open it"):
        book.new(own)
    book.new(tmp_path / "new.saltwright-log")
    assert book.logbook == Logbook()
    assert load(own) == START


def test_a_copy_is_another_file(book: Book, tmp_path: Path, own: Path) -> None:
    book.save_copy(tmp_path / "copy.saltwright-log")
    assert load(tmp_path / "copy.saltwright-log") == START
    assert book.path == own
