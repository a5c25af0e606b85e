"""How far the weighing has come is kept per recipe, from one start to the next, and never mixed with another's."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from msgspec import structs
from pytestqt.qtbot import QtBot

from app.session import clock, state
from app.session.planning import Planner
from app.session.session import Session
from app.session.weighing import KEPT_AT_MOST, Weighing, weighing_file
from core.logbook.progress import Entered, Progress
from core.recipe import dumps
from tests.app.sample import follow, sample_recipe

SOME = Progress(entered=(Entered("A", "potassium-nitrate", 842.0, 850.0),))


@pytest.fixture
def session(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Session]:
    monkeypatch.setattr(state, "state_file", lambda: tmp_path / "state" / "window.json")
    session = Session(Planner(make=follow, warm=lambda: None))
    session.start(sample_recipe())
    yield session
    session.close()


def test_it_survives_a_restart(session: Session) -> None:
    session.weighing.note(SOME)
    session.weighing.choose(law="eu-2003", feed_l_per_day=150.0)
    again = Weighing(session)
    assert again.progress == SOME
    assert (again.habits.law, again.habits.feed_l_per_day) == ("eu-2003", 150.0)


def test_another_recipe_has_its_own(session: Session) -> None:
    session.weighing.note(SOME)
    session.start(structs.replace(sample_recipe(), title="Second house"))
    assert session.weighing.progress == Progress()
    session.start(sample_recipe())
    assert session.weighing.progress == SOME


def test_a_recipe_that_is_saved_takes_it_along(session: Session, tmp_path: Path) -> None:
    session.weighing.note(SOME)
    session.save(tmp_path / "house.saltwright")
    session.start(structs.replace(sample_recipe(), title="Second house"))
    session.open(tmp_path / "house.saltwright")
    assert session.weighing.progress == SOME


def test_start_over_can_be_taken_back_until_the_next_weight(session: Session, qtbot: QtBot) -> None:
    weighing = session.weighing
    weighing.note(SOME)
    with qtbot.waitSignal(weighing.changed):
        weighing.start_over()
    assert weighing.progress == Progress()
    assert weighing.can_bring_back()
    weighing.bring_back()
    assert weighing.progress == SOME
    assert not weighing.can_bring_back()
    weighing.start_over()
    weighing.note(structs.replace(SOME, entered=(Entered("B", "boric-acid", 7.0, 7.0),)))
    assert not weighing.can_bring_back()


@pytest.mark.parametrize("content", [b"", b"{", b'{"weighings": 3}', b"\xff\xfe"])
def test_a_damaged_file_is_an_empty_one(session: Session, content: bytes) -> None:
    session.weighing.note(SOME)
    weighing_file().write_bytes(content)
    assert Weighing(session).progress == Progress()


def test_only_the_last_recipes_are_remembered(session: Session) -> None:
    weighing = session.weighing
    for number in range(KEPT_AT_MOST + 3):
        session.start(structs.replace(sample_recipe(), title=f"House {number}"))
        weighing.note(SOME)
    session.start(structs.replace(sample_recipe(), title="House 0"))
    assert weighing.progress == Progress()
    session.start(structs.replace(sample_recipe(), title="House 14"))
    assert weighing.progress == SOME


def test_a_disk_that_refuses_keeps_nobody_from_weighing(session: Session, monkeypatch: pytest.MonkeyPatch) -> None:
    _ = session.weighing
    blocked = weighing_file().parent.parent / "a file"
    blocked.write_bytes(b"")
    monkeypatch.setattr(state, "state_file", lambda: blocked / "window.json")
    monkeypatch.setattr("app.session.journal.journal_file", lambda: blocked.with_name("log"))
    session.weighing.note(SOME)
    assert session.weighing.progress == SOME


def test_the_recipe_s_file_knows_nothing_of_it(session: Session) -> None:
    session.weighing.note(SOME)
    assert session.recipe is not None
    assert b"850" not in dumps(session.recipe)


def test_the_clock_tells_local_time_as_the_logbook_keeps_it() -> None:
    now = clock.now_text()
    assert len(now) == len("2026-03-14T09:05")
    assert now.startswith(clock.today_text())
