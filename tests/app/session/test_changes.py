"""The edits as plain functions from recipe to recipe."""

from __future__ import annotations

from msgspec import structs

from app.session import changes
from core.recipe import check
from core.recipe.records import Target
from tests.app.sample import sample_recipe


def test_a_target_moves_and_keeps_its_tolerance_and_weight() -> None:
    like = Target("K", 180.0, tolerance_percent=3.0, weight=2.0)
    moved = changes.with_target(sample_recipe(), "K", 200.0, like)
    assert changes.target_of(moved, "K") == structs.replace(like, mg_per_l=200.0)


def test_a_stated_range_stays_only_while_it_encloses_the_target() -> None:
    like = Target("K", 180.0, low_mg_per_l=150.0, high_mg_per_l=210.0)
    near = changes.target_of(changes.with_target(sample_recipe(), "K", 200.0, like), "K")
    assert near == structs.replace(like, mg_per_l=200.0)
    far = changes.with_target(sample_recipe(), "K", 300.0, like)
    assert changes.target_of(far, "K") == Target("K", 300.0)
    check(far)


def test_a_new_target_stands_in_the_order_of_nutrients() -> None:
    names = [target.nutrient for target in changes.with_target(sample_recipe(), "S", 60.0).aim.targets]
    assert names.index("Mg") + 1 == names.index("S")


def test_a_target_can_go_and_come() -> None:
    recipe = sample_recipe()
    without = changes.with_target(recipe, "K", None)
    assert changes.target_of(without, "K") is None
    assert changes.with_target(without, "K", 180.0) == recipe


def test_an_amount_is_fixed_and_released() -> None:
    recipe = sample_recipe()
    fixed = changes.with_exact_amount(recipe, "urea", 12.0)
    entry = changes.entry_of(fixed, "urea")
    assert entry is not None
    assert entry.exactly_mg_per_l == 12.0
    assert changes.with_exact_amount(fixed, "urea", None) == recipe


def test_an_entry_that_is_not_there() -> None:
    assert changes.entry_of(sample_recipe(), "sand") is None
