"""The session: edits, undo, merging, opening, and what happens to a recipe without a plan."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from app.session import changes
from app.session.planning import Planner
from app.session.session import Session
from core.plan.records import Plan
from core.recipe import RecipeError, dumps
from core.recipe.records import Recipe
from tests.app.conftest import Clock
from tests.app.sample import follow, sample_recipe, want_potassium

Begun = Callable[[Planner], Session]


@pytest.fixture
def begun(qtbot: QtBot, clock: Clock) -> Iterator[Begun]:
    """Makes sessions and ends their work afterwards."""
    sessions: list[Session] = []

    def begin(planner: Planner) -> Session:
        sessions.append(Session(planner, clock))
        return sessions[-1]

    yield begin
    for session in sessions:
        session.close()


@pytest.fixture
def session(qtbot: QtBot, begun: Begun) -> Session:
    session = begun(Planner(make=follow, warm=lambda: None))
    with qtbot.waitSignal(session.planned):
        session.start(sample_recipe())
    return session


def shown(session: Session) -> float | None:
    assert session.recipe is not None
    found = changes.target_of(session.recipe, "K")
    return None if found is None else found.mg_per_l


def test_an_edit_is_planned(qtbot: QtBot, session: Session) -> None:
    with qtbot.waitSignal(session.planned) as planned:
        want_potassium(session, 200.0)
    recipe, plan = planned.args
    assert recipe is session.recipe
    assert next(row for row in plan.rows if row.nutrient == "K").feed_mg_per_l == 200.0


def test_undo_and_redo(session: Session) -> None:
    want_potassium(session, 200.0)
    session.edits.undo()
    assert shown(session) == 180.0
    session.edits.redo()
    assert shown(session) == 200.0


def test_typing_in_one_field_is_one_edit(session: Session, clock: Clock) -> None:
    for value in (2.0, 20.0, 200.0):
        want_potassium(session, value)
        clock.now_s += 0.9
    assert session.edits.count() == 1
    session.edits.undo()
    assert shown(session) == 180.0


def test_after_a_second_it_is_another_edit(session: Session, clock: Clock) -> None:
    want_potassium(session, 190.0)
    clock.now_s += 1.01
    want_potassium(session, 200.0)
    assert session.edits.count() == 2


def test_another_field_is_another_edit(session: Session) -> None:
    want_potassium(session, 190.0)
    assert session.recipe is not None
    session.push("target", ("aim", "P"), changes.with_target(session.recipe, "P", 50.0))
    assert session.edits.count() == 2


def test_typing_back_to_where_it_was_leaves_no_edit(session: Session) -> None:
    want_potassium(session, 18.0)
    want_potassium(session, 180.0)
    assert session.edits.count() == 0
    assert session.edits.isClean()


def test_a_value_out_of_range_is_refused(session: Session) -> None:
    with pytest.raises(RecipeError, match="30000"):
        want_potassium(session, 30000.0)
    assert shown(session) == 180.0
    assert session.edits.count() == 0


def test_opening_begins_anew(qtbot: QtBot, session: Session, tmp_path: Path) -> None:
    want_potassium(session, 200.0)
    file = tmp_path / "other.saltwright"
    file.write_bytes(dumps(sample_recipe()))
    with qtbot.waitSignals([session.opened, session.planned]):
        session.open(file)
    assert shown(session) == 180.0
    assert session.edits.count() == 0
    assert session.path == file


def test_a_bad_file_changes_nothing(session: Session, tmp_path: Path) -> None:
    file = tmp_path / "bad.saltwright"
    file.write_text("{", encoding="utf-8")
    before = session.recipe
    with pytest.raises(RecipeError):
        session.open(file)
    assert session.recipe is before
    assert session.path is None


def test_a_fault_keeps_the_last_good_plan(qtbot: QtBot, begun: Begun) -> None:
    def sometimes(recipe: Recipe) -> Plan:
        found = changes.target_of(recipe, "K")
        if found is not None and found.mg_per_l == 13.0:
            raise ValueError("thirteen cannot be planned")
        return follow(recipe)

    session = begun(Planner(make=sometimes, warm=lambda: None))
    with qtbot.waitSignal(session.planned):
        session.start(sample_recipe())
    good = session.plan
    with qtbot.waitSignal(session.failed) as failed:
        want_potassium(session, 13.0)
    assert failed.args == ["thirteen cannot be planned"]
    assert session.plan is good
    with qtbot.waitSignal(session.planned):
        session.edits.undo()


def test_a_plan_already_known_is_shown_at_once(qtbot: QtBot, begun: Begun) -> None:
    planner = Planner(make=follow, warm=lambda: None, held=True)
    session = begun(planner)
    with qtbot.waitSignal(session.planned, timeout=0):
        session.start(sample_recipe(), plan=follow(sample_recipe()))
    session.verify()
    assert planner.idle()
    with qtbot.waitSignal(session.planned):
        planner.release()
