"""Who plans, and that only the newest answer counts."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from msgspec import structs
from pytestqt.qtbot import QtBot

from app.session.planning import QUICK_S, Answer, Planner
from core.blend.stopping import asked_to_stop
from core.plan.records import Plan
from core.recipe.records import Recipe
from tests.app.sample import follow, sample_recipe

FIRST, SECOND, THIRD = (structs.replace(sample_recipe(), title=title) for title in ("first", "second", "third"))

Made = Callable[..., Planner]


@pytest.fixture
def made(qtbot: QtBot) -> Iterator[Made]:
    """Makes planners and ends their work afterwards."""
    planners: list[Planner] = []

    def make(**how: Any) -> Planner:
        planners.append(Planner(**how))
        return planners[-1]

    yield make
    for planner in planners:
        planner.close()


class Slow:
    """Plans when the test lets it, and remembers what and where."""

    def __init__(self) -> None:
        self.asked: list[str] = []
        self.threads: list[threading.Thread] = []
        self.begun = threading.Semaphore(0)
        self.go_on = threading.Semaphore(0)

    def __call__(self, recipe: Recipe) -> Plan:
        self.asked.append(recipe.title)
        self.threads.append(threading.current_thread())
        self.begun.release()
        assert self.go_on.acquire(timeout=10)
        return follow(recipe)


def test_an_answer_overtaken_is_dropped(qtbot: QtBot, made: Made) -> None:
    slow = Slow()
    planner = made(make=slow, warm=lambda: None)
    answers: list[Answer] = []
    planner.answered.connect(answers.append)
    planner.ask(FIRST)
    qtbot.waitUntil(lambda: slow.begun.acquire(blocking=False))
    planner.ask(SECOND)
    planner.ask(THIRD)
    slow.go_on.release(2)
    qtbot.waitUntil(lambda: bool(answers))
    assert [answer.recipe.title for answer in answers] == ["third"]
    assert slow.asked == ["first", "third"]
    assert slow.threads[0] is not threading.main_thread()


def test_a_search_overtaken_is_told_to_end(qtbot: QtBot, made: Made) -> None:
    told: list[bool] = []

    class Searching(Slow):
        def __call__(self, recipe: Recipe) -> Plan:
            told.append(asked_to_stop())
            plan = super().__call__(recipe)
            told.append(asked_to_stop())
            return plan

    search = Searching()
    planner = made(make=search, warm=lambda: None)
    planner.ask(FIRST)
    qtbot.waitUntil(lambda: search.begun.acquire(blocking=False))
    planner.ask(SECOND)
    search.go_on.release(2)
    qtbot.waitUntil(lambda: len(told) == 4)
    assert told == [False, True, False, False]


def test_one_plan_per_turn_of_the_event_loop(qtbot: QtBot, made: Made) -> None:
    asked: list[str] = []

    def make(recipe: Recipe) -> Plan:
        asked.append(recipe.title)
        return follow(recipe)

    planner = made(make=make, warm=lambda: None)
    with qtbot.waitSignal(planner.answered):
        planner.ask(FIRST)
        planner.ask(SECOND)
    assert asked == ["second"]


def test_quick_plans_are_made_in_the_window_s_own_thread(qtbot: QtBot, made: Made) -> None:
    threads: list[threading.Thread] = []

    def make(recipe: Recipe) -> Plan:
        threads.append(threading.current_thread())
        return Plan(recipe.title, (), (), (), None, (), None, ())  # type: ignore[arg-type]

    planner = made(make=make, warm=lambda: None)
    for recipe in (FIRST, SECOND):
        with qtbot.waitSignal(planner.answered) as answered:
            planner.ask(recipe)
        assert answered.args[0].seconds < QUICK_S
    assert threads[0] is not threading.main_thread()
    assert threads[1] is threading.main_thread()


def test_a_fault_is_an_answer_too(qtbot: QtBot, made: Made) -> None:
    def make(recipe: Recipe) -> Plan:
        raise ArithmeticError("no")

    planner = made(make=make, warm=lambda: None)
    with qtbot.waitSignal(planner.answered) as answered:
        planner.ask(FIRST)
    assert answered.args[0].fault == "no"
    assert answered.args[0].plan is None


def test_a_held_planner_waits(qtbot: QtBot, made: Made) -> None:
    planner = made(make=follow, warm=lambda: None, held=True)
    planner.ask(FIRST)
    assert planner.idle()
    with qtbot.waitSignal(planner.answered):
        planner.release()


def test_a_search_is_never_made_in_the_window_s_thread(qtbot: QtBot, made: Made) -> None:
    threads: list[threading.Thread] = []

    def make(recipe: Recipe) -> Plan:
        threads.append(threading.current_thread())
        return Plan(recipe.title, (), (), (), None, (), None, ())  # type: ignore[arg-type]

    planner = made(make=make, warm=lambda: None)
    searched = structs.replace(FIRST, goal="fewest")
    for recipe in (FIRST, FIRST, searched, searched, FIRST):
        with qtbot.waitSignal(planner.answered):
            planner.ask(recipe)
    here = [thread is threading.main_thread() for thread in threads]
    assert here == [False, True, False, False, True]


def test_another_kind_of_recipe_is_tried_behind_the_window_first(qtbot: QtBot, made: Made) -> None:
    threads: list[threading.Thread] = []

    def make(recipe: Recipe) -> Plan:
        threads.append(threading.current_thread())
        return Plan(recipe.title, (), (), (), None, (), None, ())  # type: ignore[arg-type]

    planner = made(make=make, warm=lambda: None)
    cheaper = structs.replace(FIRST, goal="cheapest")
    shorter = structs.replace(FIRST, shelf=FIRST.shelf[:5])
    for recipe in (FIRST, cheaper, shorter, SECOND, cheaper, shorter):
        with qtbot.waitSignal(planner.answered):
            planner.ask(recipe)
    here = [thread is threading.main_thread() for thread in threads]
    assert here == [False, False, False, True, True, True]
