"""The list of weights, how far it has come, and what becomes of it when the recipe changes under it."""

from __future__ import annotations

import pytest
from msgspec import structs

from app.session.demo import demo_recipe
from core.bench.repair_records import NewVolume, NewWeight, Repair
from core.bench.steps import tank_steps
from core.blend.solve import Blend
from core.logbook.progress import (
    Progress,
    agreed,
    differences,
    filled_volumes_l,
    is_done,
    next_item,
    put_in,
    taken_back,
    to_add_g,
    wanted_g,
    weighed_g,
    weighed_records,
    with_repair,
)
from core.logbook.reckoning import reckon
from core.logbook.worklist import ToWeigh, bottles_of, each, grams_of, volume_of, worklist
from core.plan import derive, solve
from core.plan.records import Plan
from core.recipe.records import Recipe, Scale


def planned(recipe: Recipe) -> tuple[Blend, Plan, tuple[ToWeigh, ...]]:
    blend = solve(recipe)
    plan = derive(recipe, blend)
    return blend, plan, worklist(blend, plan)


def sized(volume_l: float, *scales: Scale) -> Recipe:
    recipe = demo_recipe()
    batch = structs.replace(recipe.batch, tank_volume_l=volume_l, scales=scales or recipe.batch.scales)
    return structs.replace(recipe, batch=batch)


def item_of(items: tuple[ToWeigh, ...], entry_id: str) -> ToWeigh:
    return next(item for item in items if item.entry_id == entry_id)


def test_the_list_goes_in_the_order_of_the_steps() -> None:
    _blend, plan, items = planned(demo_recipe())
    named = []
    for tank in plan.tanks:
        steps = [step for step in tank_steps(tank.contents, tank.volume_l, None) if step.code != "seal"]
        named += [(tank.name, key) for step in steps for key in step.entry_ids]
    assert [item.place for item in items] == named
    assert [item.place for item in items if item.tank == "A"][0] == ("A", "calcium-nitrate-greenhouse")


def test_heavy_weights_take_several_goes() -> None:
    _b, _p, items = planned(sized(500.0))
    kno3 = item_of(items, "potassium-nitrate")
    assert len(kno3.loads_g) == 2
    assert sum(kno3.loads_g) == kno3.planned_g
    assert max(kno3.loads_g) <= 6000


def test_tiny_weights_come_out_of_a_bottle_in_one_pour() -> None:
    """On a scale of 1 g, 2 L take 0.4 g of manganese sulfate and less of the rest: one pour brings them all."""
    blend, plan, items = planned(sized(2.0, Scale(3000, 1)))
    bottles = {number: one for here in bottles_of(blend, plan).values() for number, one in here.items()}
    pours = [item for item in items if item.from_bottle]
    assert [item.from_bottle for item in pours] == [2, 3]
    assert sorted(bottles) == [1, 2, 3]
    metals = pours[0]
    assert {one.entry_id for one in each((metals,))} == set(bottles[2].entry_ids)
    assert len(metals.together) == 3
    assert metals.millilitres == bottles[2].bottle.aliquot_ml == 5.0
    assert sorted(one.place for one in each(items)) == sorted(
        (tank.name, content.entry_id) for tank in plan.tanks for content in tank.contents
    )


def test_a_pour_is_ticked_off_for_everything_in_it() -> None:
    _b, _p, items = planned(sized(2.0, Scale(3000, 1)))
    metals = next(item for item in items if item.together)
    progress = put_in(Progress(), metals)
    assert all(weighed_g(progress, one) == pytest.approx(one.planned_g) for one in each((metals,)))
    half = put_in(Progress(), metals, grams_of(metals, 2.5))
    assert all(weighed_g(half, one) == pytest.approx(one.planned_g / 2) for one in each((metals,)))
    assert volume_of(metals, metals.planned_g / 2) == 2.5
    assert taken_back(half, metals) == Progress()
    assert len(weighed_records(progress, items)) == len(each(items))


def test_what_shares_a_bottle_with_a_tiny_weight_comes_out_of_it_too() -> None:
    """Manganese sulfate alone could be weighed at 10 L, but the pour for the copper brings it already."""
    _b, plan, items = planned(sized(5.0, Scale(3000, 1)))
    weights = {content.entry_id: content.grams for tank in plan.tanks for content in tank.contents}
    pour = next(item for item in items if item.together)
    assert max(weights[one.entry_id] for one in each((pour,))) > 0.5
    assert min(weights[one.entry_id] for one in each((pour,))) < 0.5


def test_a_liquid_is_measured_out() -> None:
    _b, _p, items = planned(structs.replace(demo_recipe(), acid_into="tank"))
    acid = item_of(items, "nitric-acid")
    assert acid.millilitres is not None
    assert grams_of(acid, 2 * acid.millilitres) == pytest.approx(2 * acid.planned_g)


def test_ticking_goes_through_the_list() -> None:
    _b, _p, items = planned(demo_recipe())
    progress, item, seen = Progress(), next_item(Progress(), items), []
    while item is not None:
        seen.append(item)
        progress = put_in(progress, item)
        assert is_done(progress, item)
        item = next_item(progress, items, item)
    assert tuple(seen) == items
    assert [one.weighed_g for one in weighed_records(progress, items)] == [item.planned_g for item in items]
    back = taken_back(progress, items[3])
    assert next_item(back, items) == items[3]
    assert not is_done(back, items[3])


def test_what_really_went_in_is_kept() -> None:
    _b, _p, items = planned(demo_recipe())
    progress = put_in(Progress(), items[1], 1500.0)
    assert weighed_g(progress, items[1]) == 1500.0
    records = {(one.tank, one.entry_id): one for one in weighed_records(progress, items)}
    assert records[items[1].place].weighed_g == 1500.0
    assert records[items[1].place].planned_g == items[1].planned_g
    assert records[items[2].place].weighed_g == items[2].planned_g


def test_a_repair_asks_for_other_weights_and_more_of_what_is_in() -> None:
    _b, _p, items = planned(demo_recipe())
    done, coming = items[0], items[4]
    progress = put_in(Progress(), done, 2000.0)
    weights = (NewWeight(*done.place, 2100.0, 100.0), NewWeight(*coming.place, 386.0, None))
    progress = with_repair(progress, items, 60.0, Repair(5, weights, (NewVolume("B", 63.1),), mended=True))
    assert to_add_g(progress, done) == 100.0
    assert not is_done(progress, done)
    assert wanted_g(progress, coming) == 386.0
    assert filled_volumes_l(progress, 60.0) == {"B": 63.1}
    assert filled_volumes_l(progress, 50.0) == {}  # the batch is another size now
    progress = put_in(progress, done, 98.0)
    assert weighed_g(progress, done) == 2098.0
    assert to_add_g(progress, done) == 2.0
    progress = put_in(progress, done)
    assert weighed_g(progress, done) == 2100.0
    assert is_done(progress, done)


def test_a_changed_recipe_says_which_weights_changed() -> None:
    _b, _p, items = planned(demo_recipe())
    progress = put_in(put_in(Progress(), items[0]), items[1])
    assert differences(progress, items) == ()
    _b, _p, larger = planned(sized(72.0))
    found = differences(progress, larger)
    assert [(one.entry_id, one.then_g, one.now_g) for one in found] == [
        (items[0].entry_id, items[0].planned_g, larger[0].planned_g),
        (items[1].entry_id, items[1].planned_g, larger[1].planned_g),
    ]
    assert weighed_g(progress, larger[0]) == items[0].planned_g  # it is in the tank all the same
    accepted = agreed(progress, larger)
    assert differences(accepted, larger) == ()
    assert weighed_g(accepted, larger[0]) == items[0].planned_g
    _b, _p, without = planned(structs.replace(demo_recipe(), shelf=demo_recipe().shelf[1:]))
    assert items[0].entry_id not in {item.entry_id for item in without}
    assert differences(progress, without)[0].now_g is None


def test_a_repair_for_another_plan_no_longer_holds() -> None:
    _b, _p, items = planned(demo_recipe())
    weights = (NewWeight(*items[4].place, 386.0, None),)
    progress = with_repair(Progress(), items, 60.0, Repair(5, weights, (), mended=True))
    _b, _p, larger = planned(sized(72.0))
    assert wanted_g(progress, larger[4]) == larger[4].planned_g


def test_the_batch_as_it_stands() -> None:
    recipe = demo_recipe()
    blend, plan, items = planned(recipe)
    as_planned = reckon(recipe, blend, plan, Progress(), "us")
    assert as_planned.repair is None
    assert as_planned.plan.feed.ec_ms_per_cm == pytest.approx(plan.feed.ec_ms_per_cm, rel=2e-3)
    progress = put_in(Progress(), item_of(items, "potassium-nitrate"), 1500.0)
    told = reckon(recipe, blend, plan, progress, "us")
    bands = {band.row.nutrient: band for band in told.bands}
    assert bands["K"].row.verdict == "over"
    assert told.repair is not None
    assert told.repair.mended
    mended = reckon(recipe, blend, plan, with_repair(progress, items, 60.0, told.repair), "us")
    assert mended.repair is None
    assert {band.row.verdict for band in mended.bands} <= {"met", "fine"}


def test_the_band_stands_around_the_feed_as_it_is() -> None:
    recipe = demo_recipe()
    blend, plan, items = planned(recipe)
    progress = put_in(Progress(), item_of(items, "potassium-nitrate"), 1500.0)
    for band in reckon(recipe, blend, plan, progress, None).bands:
        middle = (band.low_mg_per_l + band.high_mg_per_l) / 2
        assert middle == pytest.approx(band.row.feed_mg_per_l, rel=2e-4, abs=1e-9)


def test_no_repair_while_something_foreign_is_in_a_tank() -> None:
    recipe = demo_recipe()
    _b, _p, items = planned(recipe)
    progress = put_in(Progress(), items[0], 5000.0)
    other = structs.replace(recipe, shelf=recipe.shelf[1:])
    blend, plan, _items = planned(other)
    assert reckon(other, blend, plan, progress, "us").repair is None


def test_a_recipe_without_tanks_has_nothing_to_weigh() -> None:
    recipe = structs.replace(demo_recipe(), shelf=tuple(e for e in demo_recipe().shelf if e.salt == "nitric-acid"))
    blend, plan, items = planned(recipe)
    assert items == ()
    assert reckon(recipe, blend, plan, Progress(), "us").repair is None


def test_what_was_added_is_taken_back_before_what_was_in() -> None:
    _b, _p, items = planned(demo_recipe())
    calcium, coming = items[0], items[4]
    short = put_in(Progress(), calcium, 1500.0)
    weights = (NewWeight(*calcium.place, 2129.0, 629.0), NewWeight(*coming.place, 386.0, None))
    repaired = with_repair(short, items, 60.0, Repair(5, weights, (NewVolume("B", 63.1),), mended=True))
    for poured in (None, 12_940.0):
        added = put_in(repaired, calcium, poured)
        back = taken_back(added, calcium)
        assert (set(back.entered), back.filled) == (set(repaired.entered), repaired.filled)
    nothing = taken_back(repaired, calcium)
    assert nothing == Progress()
    assert wanted_g(nothing, calcium) == calcium.planned_g
    assert wanted_g(nothing, coming) == coming.planned_g


def test_a_repair_stays_asked_while_what_it_mends_is_in() -> None:
    _b, _p, items = planned(demo_recipe())
    over, coming, other = items[1], items[4], items[0]
    progress = put_in(put_in(Progress(), over, 1500.0), other)
    weights = (NewWeight(*coming.place, 386.0, None),)
    progress = with_repair(progress, items, 60.0, Repair(5, weights, (), mended=True))
    assert wanted_g(taken_back(progress, other), coming) == 386.0
    weighed = put_in(progress, coming)
    assert wanted_g(taken_back(weighed, coming), coming) == 386.0
    mended = taken_back(weighed, over)
    assert weighed_g(mended, coming) == 386.0  # it is in the tank all the same
    assert wanted_g(mended, coming) == coming.planned_g
