"""The goal picked on Design: one edit, its shortcomings said, a salt that can go offered with a button."""

from __future__ import annotations

from msgspec import structs
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from app.surfaces.design.goal_foot import GoalFoot
from app.window.frame import MainWindow
from core.recipe.records import Recipe
from tests.app.conftest import settle
from tests.app.surfaces.real_window import (
    answered,
    press,
    real,  # noqa: F401
    recipe_of,
)


def foot_of(window: MainWindow) -> GoalFoot:
    return window.room.design.salts.foot


def push(window: MainWindow, recipe: Recipe) -> None:
    window.room.session.push("x", ("x",), recipe)
    settle(window)


def without_prices(recipe: Recipe, *kept: str) -> Recipe:
    shelf = tuple(entry if entry.salt in kept else structs.replace(entry, price_per_kg=None) for entry in recipe.shelf)
    return structs.replace(recipe, shelf=shelf)


def test_a_goal_is_picked_by_keys_as_one_edit_that_can_be_undone(qtbot: QtBot, real: MainWindow) -> None:  # noqa: F811
    goal = real.room.design.salts.goal
    assert goal.key() == "closest"
    goal.setFocus()
    press(qtbot, Qt.Key.Key_Down)
    settle(real)
    assert (recipe_of(real).goal, real.room.session.edits.count()) == ("cheapest", 1)
    press(qtbot, Qt.Key.Key_Down)
    settle(real)
    assert recipe_of(real).goal == "fewest"
    real.room.session.edits.undo()
    settle(real)
    assert (recipe_of(real).goal, goal.key()) == ("closest", "closest")


def test_a_goal_without_prices_says_so_and_leads_to_the_shelf(qtbot: QtBot, real: MainWindow) -> None:  # noqa: F811
    push(real, structs.replace(without_prices(recipe_of(real)), goal="cheapest"))
    foot = foot_of(real)
    assert foot.text() == "Nothing has a price yet, so the closest fit is shown."
    foot.button.setFocus()
    press(qtbot, Qt.Key.Key_Space)
    assert real.room.editors.name == "shelf"


def test_what_is_left_aside_for_want_of_a_price_is_named(real: MainWindow) -> None:  # noqa: F811
    recipe = recipe_of(real)
    shelf = tuple(
        structs.replace(entry, price_per_kg=None) if entry.salt == "ammonium-nitrate" else entry
        for entry in recipe.shelf
    )
    push(real, structs.replace(recipe, shelf=shelf, goal="cheapest"))
    assert foot_of(real).text() == "Left aside for want of a price: ammonium nitrate."


def test_a_salt_that_can_go_is_offered_and_left_out_by_its_button(qtbot: QtBot, real: MainWindow) -> None:  # noqa: F811
    push(real, structs.replace(recipe_of(real), goal="cheapest"))
    foot = foot_of(real)
    assert foot.text() == ""
    foot.look()
    answered(foot.asker)
    assert foot.text().startswith("You can do without ammonium nitrate: sulfur ")
    assert "still fine" in foot.text()
    before = recipe_of(real)
    foot.button.setFocus()
    press(qtbot, Qt.Key.Key_Space)
    settle(real)
    assert {entry.salt for entry in before.shelf} - {entry.salt for entry in recipe_of(real).shelf} == {
        "ammonium-nitrate"
    }
    assert foot.text() == ""
    real.room.session.edits.undo()
    assert recipe_of(real) == before


def test_an_offer_for_a_recipe_that_was_changed_is_never_shown(real: MainWindow) -> None:  # noqa: F811
    push(real, structs.replace(recipe_of(real), goal="cheapest"))
    foot = foot_of(real)
    foot.look()
    push(real, structs.replace(recipe_of(real), goal="closest"))
    answered(foot.asker)
    assert foot.text() == ""
