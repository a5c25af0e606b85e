"""What the window remembers, and that losing it harms nobody."""

from __future__ import annotations

from pathlib import Path

import pytest

from app.session import state
from app.session.state import RECENT_AT_MOST, State, read_state, recent_files, with_recent, write_state


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    file = tmp_path / "deep" / "window.json"
    monkeypatch.setattr(state, "state_file", lambda: file)
    return file


def test_it_comes_back(file: Path) -> None:
    write_state(State(("/a",), "tanks", "geometry"))
    assert read_state() == State(("/a",), "tanks", "geometry")


@pytest.mark.parametrize("contents", ["", "{", '{"recent": 3}', "[]"])
def test_a_damaged_state_is_an_empty_one(file: Path, contents: str) -> None:
    file.parent.mkdir()
    file.write_text(contents, encoding="utf-8")
    assert read_state() == State()


def test_a_folder_that_cannot_be_made_is_no_trouble(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    monkeypatch.setattr(state, "state_file", lambda: tmp_path / "file" / "window.json")
    write_state(State(("/a",)))
    assert read_state() == State()


def test_recent_files_are_few_each_once_and_still_there(tmp_path: Path) -> None:
    files = [tmp_path / f"{number}.saltwright" for number in range(RECENT_AT_MOST + 3)]
    remembered = State()
    for path in (*files, files[0]):
        path.touch()
        remembered = with_recent(remembered, path)
    assert len(remembered.recent) == RECENT_AT_MOST
    assert recent_files(remembered)[0] == files[0]
    files[0].unlink()
    assert recent_files(remembered)[0] == files[-1]
