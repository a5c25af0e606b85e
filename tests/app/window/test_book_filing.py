"""The logbook's file from the window: other logbooks, copies, tables; what stands in the way is said, not lost."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QFileDialog, QMessageBox

from app.session import book as book_module
from app.session.book import Book
from app.session.saving import SaveError, Why
from app.window.frame import MainWindow
from core.logbook.file import dumps, load
from core.logbook.records import Entry, Logbook, Reservoir
from tests.app.diary import sample_logbook
from tests.app.sample import sample_recipe

START = Logbook(reservoirs=(Reservoir("one", 300.0),))


@pytest.fixture
def book(window: MainWindow) -> Book:
    window.go_to("logbook")
    book = window.room.session.book
    book.push("begin", START)
    return book


def choose(monkeypatch: pytest.MonkeyPatch, path: Path | str) -> None:
    """Have every file dialog answered with this."""
    for name in ("getOpenFileName", "getSaveFileName"):
        monkeypatch.setattr(QFileDialog, name, lambda *_args: (str(path), ""))


def trigger(window: MainWindow, name: str) -> None:
    from app.wording.logbook_file import action

    text, _tip = action(name)
    next(one for one in window.titles["logbook"].actions() if one.text() == text).trigger()


def test_another_logbook_is_opened_and_a_new_one_begun(
    window: MainWindow, book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = tmp_path / "other.saltwright-log"
    other.write_bytes(dumps(sample_logbook(sample_recipe())))
    choose(monkeypatch, other)
    trigger(window, "log_open")
    assert book.path == other
    assert len(book.logbook.reservoirs) == 2
    choose(monkeypatch, tmp_path / "fresh")
    trigger(window, "log_new")
    assert book.path == tmp_path / "fresh.saltwright-log"
    assert book.logbook == Logbook()
    choose(monkeypatch, other)
    trigger(window, "log_new")
    assert "is there already" in window.room.notice.text()
    assert load(other) == sample_logbook(sample_recipe())


def test_a_refused_file_is_said(
    window: MainWindow, book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    bad = tmp_path / "bad.saltwright-log"
    bad.write_text("notes")
    choose(monkeypatch, bad)
    trigger(window, "log_open")
    assert "Not opened: " in window.room.notice.text()
    assert book.logbook == START
    choose(monkeypatch, "")
    trigger(window, "log_open")
    assert book.logbook == START


def test_a_copy(window: MainWindow, book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    choose(monkeypatch, tmp_path / "copy")
    trigger(window, "log_copy")
    assert load(tmp_path / "copy.saltwright-log") == START


def test_tables_out_and_in(window: MainWindow, book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    table = tmp_path / "mine.csv"
    table.write_bytes("at;ec_ms_per_cm;note\n2026-03-01 08:00;1,8;Küche\n".encode("cp1252"))
    choose(monkeypatch, table)
    trigger(window, "log_import")
    entry = Entry("2026-03-01T08:00", ec_ms_per_cm=1.8, note="Küche")
    assert book.logbook.reservoirs[0].entries == (entry,)
    assert window.room.notice.text() == "1 line was added."
    trigger(window, "log_import")
    assert "0 lines were added; 1 was in the diary already." in window.room.notice.text()
    choose(monkeypatch, tmp_path / "out")
    trigger(window, "log_export")
    assert (tmp_path / "out.csv").read_text().splitlines()[1].startswith("2026-03-01 08:00")
    table.write_text("at,ph\n2026-03-02,acid\n")
    choose(monkeypatch, table)
    trigger(window, "log_import")
    assert 'mine.csv has in line 2, column "ph"' in window.room.notice.text()


def test_without_a_reservoir_there_is_no_table(window: MainWindow, tmp_path: Path) -> None:
    trigger(window, "log_import")
    assert "There is no reservoir yet." in window.room.notice.text()
    assert window.room.surface() == "logbook"
    trigger(window, "log_export")
    assert "There is no reservoir yet." in window.room.notice.text()


def test_a_full_disk_is_told_and_tried_again(window: MainWindow, book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(path: Path, _data: bytes) -> None:
        raise SaveError(path, Why.FULL)

    with monkeypatch.context() as patch:
        patch.setattr(book_module, "write_whole", full)
        book.add_entry("", "one", Entry("2026-03-01", ph=6.0))
    assert "is not saved" in window.room.notice.text()
    assert load(book.path) == START
    window.room.notice.buttons[0].click()
    assert window.room.notice.text() == ""
    assert load(book.path) == book.logbook


def test_closing_asks_before_changes_are_lost(window: MainWindow, book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(path: Path, _data: bytes) -> None:
        raise SaveError(path, Why.FULL)

    asked: list[str] = []
    monkeypatch.setattr(QMessageBox, "exec", lambda box: asked.append(box.text()))
    monkeypatch.setattr(QMessageBox, "clickedButton", lambda box: box.buttons()[-1])
    with monkeypatch.context() as patch:
        patch.setattr(book_module, "write_whole", full)
        book.add_entry("", "one", Entry("2026-03-01", ph=6.0))
        window.room.books.may_leave()
    assert asked == ["Close without the last changes of the logbook?"]
    assert window.room.books.may_leave()
    assert load(book.path) == book.logbook


def test_what_another_program_wrote_comes_in_with_the_window(window: MainWindow, book: Book) -> None:
    theirs = Logbook(reservoirs=(Reservoir("one", 300.0, entries=(Entry("2026-03-05", ph=5.5),)),))
    book.path.write_bytes(dumps(theirs))
    window.room.books.look()
    assert book.logbook == theirs


def test_a_damaged_logbook_is_said_when_it_is_first_looked_at(window: MainWindow) -> None:
    own = book_module.own_logbook()
    own.parent.mkdir(parents=True)
    own.write_text("my notes")
    window.go_to("logbook")
    assert "It is left as it is; what you write goes into logbook-2.saltwright-log" in window.room.notice.text()
    assert own.read_text() == "my notes"


def test_the_diary_can_be_written_while_a_recipe_has_no_plan(window: MainWindow, book: Book) -> None:
    from core.recipe.records import Recipe

    window.room.session.start(Recipe(format="saltwright-recipe", schema=1, shelf=()))
    window.go_to("logbook")
    assert window.room.surfaces["logbook"].isVisible()
    window.go_to("design")
    assert not window.room.surfaces["logbook"].isVisible()
