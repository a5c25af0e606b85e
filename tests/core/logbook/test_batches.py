"""A made batch is what was weighed: totals by hand, and a plan of it from the same engine as any other."""

from __future__ import annotations

from importlib.resources import files

import numpy as np
import pytest
from msgspec import structs

from app.session.demo import demo_recipe
from core.blend.nutrients import COLUMN
from core.blend.shelf import source_of
from core.logbook.batches import as_mixed, filled_l, mixed_plan, tank_totals, tanks_of_batch
from core.logbook.records import MadeBatch, Weighed
from core.plan import plan
from core.recipe import dumps, loads
from core.recipe.records import Recipe


def mixed_as_planned(recipe: Recipe, factor: float = 1.0) -> MadeBatch:
    weighed = tuple(
        Weighed(tank.name, content.entry_id, content.grams, factor * content.grams)
        for tank in plan(recipe).tanks
        for content in tank.contents
    )
    return MadeBatch("2026-03-14-1", "2026-03-14", recipe, "AAAA-BBBB", weighed)


def sharing() -> Recipe:
    """A recipe whose potassium nitrate stands in both tanks."""
    recipe = loads(files("resources.demo").joinpath("cucumber.saltwright").read_bytes())
    recipe = structs.replace(recipe, tanks=structs.replace(recipe.tanks, count=2, ratio=200.0))
    assert any(len(amount.shares) > 1 for amount in plan(recipe).amounts)
    return recipe


RECIPES = {
    "as shipped": demo_recipe,
    "three tanks": lambda: structs.replace(demo_recipe(), tanks=structs.replace(demo_recipe().tanks, count=3)),
    "acid in a tank": lambda: structs.replace(demo_recipe(), acid_into="tank"),
    "filled with the water": lambda: structs.replace(
        demo_recipe(), tanks=structs.replace(demo_recipe().tanks, fill_water="recipe")
    ),
    "shared": sharing,
}


@pytest.mark.parametrize("name", RECIPES)
def test_mixed_as_planned_it_is_the_plan(name: str) -> None:
    recipe = RECIPES[name]()
    before, after = plan(recipe), mixed_plan(mixed_as_planned(recipe))
    assert [(tank.name, tank.content, tank.verdict) for tank in after.tanks] == [
        (tank.name, tank.content, tank.verdict) for tank in before.tanks
    ]
    for one, other in zip(before.tanks, after.tanks, strict=True):
        grams = {content.entry_id: content.grams for content in one.contents}
        assert {content.entry_id: content.grams for content in other.contents} == pytest.approx(grams)
    assert after.feed.mg_per_l == pytest.approx(before.feed.mg_per_l, rel=1e-9, abs=1e-12)
    assert after.feed.ec_ms_per_cm == pytest.approx(before.feed.ec_ms_per_cm, rel=1e-6)
    assert after.feed.ph == pytest.approx(before.feed.ph, abs=1e-4)
    shares = {amount.entry_id: amount.shares for amount in before.amounts}
    for amount in after.amounts:
        assert amount.shares == pytest.approx(shares[amount.entry_id])
    rows = [(row.nutrient, row.verdict, row.target_mg_per_l) for row in before.rows]
    assert [(row.nutrient, row.verdict, row.target_mg_per_l) for row in after.rows] == rows


def test_the_recipe_of_it_is_a_recipe() -> None:
    recipe = as_mixed(mixed_as_planned(demo_recipe()))
    assert loads(dumps(recipe)) == recipe
    assert all(entry.exactly_mg_per_l is not None for entry in recipe.shelf)


def test_what_was_weighed_counts_not_what_was_planned() -> None:
    recipe = demo_recipe()
    batch = mixed_as_planned(recipe)
    kno3 = next(one for one in batch.weighed if one.entry_id == "potassium-nitrate")
    more = structs.replace(kno3, weighed_g=kno3.weighed_g + 100.0)
    batch = structs.replace(batch, weighed=tuple(more if one is kno3 else one for one in batch.weighed))
    feed = mixed_plan(batch).feed.mg_per_l
    brings = source_of(next(e for e in recipe.shelf if e.key == "potassium-nitrate")).brings
    litres = recipe.batch.tank_volume_l * recipe.tanks.ratio
    before = plan(recipe).feed.mg_per_l
    assert feed["K"] - before["K"] == pytest.approx(1e5 / litres * brings[5], rel=1e-9)


def test_a_tank_filled_further_is_weaker() -> None:
    batch = mixed_as_planned(demo_recipe())
    larger = structs.replace(batch, tank_volume_l={"B": 66.0})
    assert (filled_l(larger, "A"), filled_l(larger, "B")) == (60.0, 66.0)
    made = mixed_plan(larger)
    assert [tank.volume_l for tank in made.tanks] == [60.0, 66.0]
    assert made.feed.mg_per_l["P"] == pytest.approx(mixed_plan(batch).feed.mg_per_l["P"] / 1.1, rel=1e-9)
    assert made.feed.mg_per_l["Ca"] == pytest.approx(mixed_plan(batch).feed.mg_per_l["Ca"], rel=1e-9)


def test_a_millilitre_by_hand() -> None:
    """842 g of potassium nitrate in 50 L are 16.84 mg/mL, of 101.102 g/mol 0.16656 mmol/mL."""
    recipe = structs.replace(demo_recipe(), batch=structs.replace(demo_recipe().batch, tank_volume_l=50.0))
    batch = MadeBatch("1", "2026-03-14", recipe, weighed=(Weighed("A", "potassium-nitrate", 842.0, 842.0),))
    totals, alkalinity = tank_totals(batch, "A")
    assert totals[COLUMN["K"]] == pytest.approx(0.16656, rel=1e-4)
    assert totals[COLUMN["NO3"]] == pytest.approx(0.16656, rel=1e-4)
    assert alkalinity == pytest.approx(0.0, abs=1e-12)
    assert not tank_totals(batch, "B")[0].any()


def test_both_tanks_and_the_water_are_the_feed() -> None:
    batch = mixed_as_planned(demo_recipe())
    from core.blend.waters import recipe_water
    from core.plan import solve

    blend = solve(batch.recipe)
    acid = np.array([source.kind == "acid" for source in blend.shelf.sources])
    feed = recipe_water(batch.recipe).totals + blend.shelf.totals @ (blend.amounts_mg_per_l * acid)
    for tank in tanks_of_batch(batch):
        feed = feed + 10.0 * tank_totals(batch, tank)[0]
    assert feed == pytest.approx(blend.totals, rel=1e-9, abs=1e-12)


def test_a_product_noted_twice_is_in_twice() -> None:
    batch = mixed_as_planned(demo_recipe(), 0.5)
    twice = structs.replace(batch, weighed=(*batch.weighed, *batch.weighed))
    whole = mixed_as_planned(demo_recipe())
    assert tank_totals(twice, "A")[0] == pytest.approx(tank_totals(whole, "A")[0])
    assert mixed_plan(twice).feed.mg_per_l == pytest.approx(mixed_plan(whole).feed.mg_per_l, abs=1e-12)
