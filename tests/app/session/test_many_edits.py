"""Two thousand random edits: undone, they leave the first recipe byte for byte, and memory stays in bounds."""

from __future__ import annotations

import gc
import random
import tracemalloc
from collections.abc import Callable, Iterator

import pytest
from msgspec import structs
from pytestqt.qtbot import QtBot

from app.session import changes
from app.session.planning import Planner
from app.session.session import Session
from core.recipe import RecipeError, dumps
from core.recipe.records import Recipe, Scale
from tests.app.sample import TARGETS, follow, sample_recipe

EDITS = 2000
MOST_BYTES_AN_EDIT = 1500
MOST_GROWTH_BYTES = 25_000


def move_target(recipe: Recipe, chance: random.Random) -> Recipe:
    value = chance.choice((None, chance.uniform(0, 400), round(chance.uniform(0, 400), 1)))
    return changes.with_target(recipe, chance.choice(list(TARGETS)), value)


def fix_amount(recipe: Recipe, chance: random.Random) -> Recipe:
    entry = chance.choice(recipe.shelf).key
    return changes.with_exact_amount(recipe, entry, chance.choice((None, chance.uniform(0, 900))))


def retitle(recipe: Recipe, chance: random.Random) -> Recipe:
    return structs.replace(recipe, title=f"Truss {chance.random()} — Ω")


def change_water(recipe: Recipe, chance: random.Random) -> Recipe:
    contents = structs.replace(recipe.water.mg_per_l, ca=chance.choice((None, chance.uniform(0, 150))))
    return structs.replace(recipe, water=structs.replace(recipe.water, mg_per_l=contents, ph=chance.uniform(5, 9)))


def change_shelf(recipe: Recipe, chance: random.Random) -> Recipe:
    shelf = list(recipe.shelf)
    chance.shuffle(shelf)
    return structs.replace(recipe, shelf=tuple(shelf[: chance.randint(0, len(shelf))] or shelf))


def change_tanks(recipe: Recipe, chance: random.Random) -> Recipe:
    pins = {entry.key: chance.choice("AB") for entry in recipe.shelf if chance.random() < 0.2}
    return structs.replace(recipe, tanks=structs.replace(recipe.tanks, ratio=chance.uniform(1, 300), pins=pins))


def change_scales(recipe: Recipe, chance: random.Random) -> Recipe:
    scales = tuple(Scale(chance.uniform(100, 9000), chance.uniform(0.01, 5)) for _ in range(chance.randint(0, 3)))
    return structs.replace(recipe, batch=structs.replace(recipe.batch, scales=scales))


WAYS: tuple[Callable[[Recipe, random.Random], Recipe], ...] = (
    move_target, move_target, move_target, fix_amount, fix_amount, retitle, change_water, change_shelf, change_tanks,
    change_scales,
)  # fmt: skip


@pytest.fixture
def session(qtbot: QtBot) -> Iterator[Session]:
    seconds = iter(range(10**6))
    session = Session(Planner(make=follow, warm=lambda: None, held=True), lambda: next(seconds) * 0.4)
    session.start(sample_recipe())
    yield session
    session.close()


def type_on(session: Session, chance: random.Random, edits: int) -> int:
    """Push so many edits, and return how many of them were refused."""
    refused = 0
    for _ in range(edits):
        assert session.recipe is not None
        way = chance.choice(WAYS)
        try:
            session.push(way.__name__, (way.__name__,), way(session.recipe, chance))
        except RecipeError:  # such as a shelf without a salt that is pinned
            refused += 1
    return refused


def undo_all(session: Session) -> None:
    while session.edits.canUndo():
        session.edits.undo()


def redo_all(session: Session) -> None:
    while session.edits.canRedo():
        session.edits.redo()


def test_undone_they_leave_the_first_recipe_byte_for_byte(session: Session) -> None:
    first = dumps(sample_recipe())
    refused = type_on(session, random.Random(3), EDITS)
    count = session.edits.count()
    assert refused < EDITS / 4
    assert EDITS / 2 < count <= EDITS - refused
    assert session.recipe is not None
    last = dumps(session.recipe)
    assert last != first
    undo_all(session)
    assert dumps(session.recipe) == first
    assert not session.unsaved
    redo_all(session)
    assert dumps(session.recipe) == last
    assert session.edits.count() == count


def test_memory_stays_in_bounds(session: Session) -> None:
    type_on(session, random.Random(4), 50)
    tracemalloc.start()
    try:
        before = used()
        type_on(session, random.Random(5), EDITS)
        typed = used()
        undo_all(session)
        redo_all(session)
        moved = used()
        session.start(sample_recipe())
        cleared = used()
    finally:
        tracemalloc.stop()
    assert (typed - before) / EDITS < MOST_BYTES_AN_EDIT
    assert moved - typed < MOST_GROWTH_BYTES
    assert cleared - before < MOST_GROWTH_BYTES


def used() -> int:
    gc.collect()
    return tracemalloc.get_traced_memory()[0]
