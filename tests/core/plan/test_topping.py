"""Filling up what was drunk: EC by volume, every nutrient by mass, and what the meter does not show."""

import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import convert, structs

from core.plan import plan
from core.plan.feed_tanks import feed_tanks
from core.plan.feeding import walk
from core.plan.feeding_records import Asked
from core.plan.topping import TopUpAsked, top_up
from core.recipe import load
from core.recipe.records import Recipe, Water


@pytest.fixture(scope="module")
def jugs():
    made = json.loads(Path("tests/outside/stories/us_two_jugs.saltwright").read_text(encoding="utf-8"))
    return feed_tanks(convert(made, Recipe))


ASKED = TopUpAsked(300.0, 2.2, 400.0, 1.8, water_ms_per_cm=0.3)


def option(told, refill):
    return next(one for one in told.options if one.refill == refill)


def test_every_option_fills_up_to_the_mark(jugs):
    for one in top_up(jugs, ASKED).options:
        assert one.water_l + sum(pour.ml for pour in one.pours) / 1000.0 == pytest.approx(100.0)
        assert (sum(pour.ml for pour in one.pours) > 0.0) == (one.refill != "water")


def test_half_strength_takes_half_the_tanks(jugs):
    told = top_up(jugs, ASKED)
    assert option(told, "half").pours[0].ml == pytest.approx(option(told, "full").pours[0].ml / 2.0)


def test_a_full_refill_of_what_stands_at_the_feeds_ec_changes_nothing(jugs):
    told = top_up(jugs, structs.replace(ASKED, left_ms_per_cm=1.8))
    full = option(told, "full")
    assert full.after_ms_per_cm == pytest.approx(1.8)
    for row in told.left:
        assert full.after_mg_per_l[row.nutrient] == pytest.approx(row.wanted_mg_per_l, rel=1e-9)


def test_water_alone_thins_every_nutrient_it_holds_none_of(jugs):
    told = top_up(jugs, ASKED)
    n = next(row for row in told.left if row.nutrient == "N")
    assert option(told, "water").after_mg_per_l["N"] == pytest.approx(0.75 * n.by_ec_mg_per_l)


def test_what_plants_took_shows_what_the_meter_hides(jugs):
    """100 L used of 400: nitrogen is shorter than the EC says, calcium, magnesium and sulfur pile up."""
    told = top_up(jugs, structs.replace(ASKED, left_ms_per_cm=1.8, used_l=150.0))
    assert {"Ca", "Mg", "S"} <= set(told.piled)
    assert top_up(jugs, structs.replace(ASKED, left_ms_per_cm=1.8)).piled == ()


def test_a_plant_that_takes_more_than_there_is_leaves_nothing_and_never_less(jugs):
    told = top_up(jugs, structs.replace(ASKED, used_l=4000.0, dry_g_per_l=6.0))
    assert min(row.by_uptake_mg_per_l for row in told.left) == 0.0
    assert "N" in told.short


@settings(max_examples=20)
@given(st.floats(1.0, 6.0))
def test_a_balanced_refill_brings_the_nitrogen_that_is_taken(jugs, dry_g_per_l):
    asked = structs.replace(ASKED, dry_g_per_l=dry_g_per_l, used_l=100.0)
    told = top_up(jugs, asked)
    balance, n = option(told, "balance"), next(row for row in told.left if row.nutrient == "N")
    refill = (balance.after_mg_per_l["N"] * 400.0 - n.by_uptake_mg_per_l * 300.0) / 100.0
    assert refill == pytest.approx(min(n.taken_mg_per_l, 1.5 * n.wanted_mg_per_l), rel=1e-9)


HARD = TopUpAsked(300.0, 1.66, 400.0, 1.66)


@pytest.fixture(scope="module")
def strawberry():
    return load("resources/demo/strawberry.saltwright")


def test_hard_water_that_is_filled_in_takes_the_acid_it_takes_when_it_is_dosed(strawberry):
    tanks = feed_tanks(strawberry)
    dosed = walk(tanks, Asked(100.0, 1.66, start_ms_per_cm=tanks.water_ms_per_cm)).now.drop
    for one in top_up(tanks, HARD).options:
        (acid,) = one.acids_first
        assert (acid.key, acid.unit, acid.strength_percent) == (dosed.key, dosed.unit, dosed.strength_percent)
        assert acid.amount == pytest.approx(dosed.amount * one.water_l / 100.0)
        assert one.acids_last == ()


def test_wanted_is_the_planned_feed_with_its_acid(strawberry):
    """The aim's nitrogen is 130 mg/L, a quarter of it from the acid; of a litre poured in, a fiftieth is tanks."""
    planned = plan(strawberry).feed
    told = top_up(feed_tanks(strawberry), structs.replace(HARD, wanted_ms_per_cm=planned.ec_ms_per_cm))
    for row in told.left:
        assert row.wanted_mg_per_l == pytest.approx(planned.mg_per_l[row.nutrient], rel=0.02), row.nutrient
    n = next(row for row in told.left if row.nutrient == "N")
    assert n.by_ec_mg_per_l == pytest.approx(n.wanted_mg_per_l, rel=0.01)


def test_acid_shows_in_the_ec_and_the_nitrogen_of_water_alone(strawberry):
    """Per litre 0.20 mL of nitric acid 60 % (1.367 kg/L): 36.7 mg of N beside the water's 3; HCO3 becomes NO3."""
    tanks = feed_tanks(strawberry)
    water = option(top_up(tanks, HARD), "water")
    assert water.refill_ms_per_cm - tanks.water_ms_per_cm == pytest.approx(0.076, abs=0.01)
    assert 4.0 * water.after_mg_per_l["N"] - 3.0 * 129.3 == pytest.approx(39.7, abs=1.0)


@pytest.mark.parametrize("place", [None, "reservoir"])
def test_the_acid_of_hard_water_goes_first_wherever_else_the_recipe_puts_it(strawberry, place):
    there = top_up(feed_tanks(strawberry), HARD)
    assert top_up(feed_tanks(structs.replace(strawberry, acid_into=place)), HARD) == there


def test_the_acid_of_soft_water_goes_last_and_counts_all_the_same(strawberry):
    soft = convert({"mg_per_l": {"Ca": 25.0, "S": 10.0, "Mg": 3.0, "HCO3": 73.0}}, Water)
    recipe = structs.replace(strawberry, acid_into="reservoir", water=soft)
    planned = plan(recipe).feed
    told = top_up(feed_tanks(recipe), structs.replace(HARD, wanted_ms_per_cm=planned.ec_ms_per_cm))
    full = option(told, "full")
    assert full.acids_first == ()
    assert [drop.key for drop in full.acids_last] == ["nitric-acid"]
    n = next(row for row in told.left if row.nutrient == "N")
    assert n.wanted_mg_per_l == pytest.approx(planned.mg_per_l["N"], rel=0.01)


def test_acid_that_is_in_a_tank_is_no_acid_of_its_own(strawberry):
    told = top_up(feed_tanks(structs.replace(strawberry, acid_into="tank")), HARD)
    assert {(one.acids_first, one.acids_last) for one in told.options} == {((), ())}


def test_what_is_left_of_a_feed_in_hard_water_has_had_its_acid(strawberry):
    """Else its pH would be foretold two too high and acid be called for again."""
    tanks = feed_tanks(strawberry)
    told = walk(tanks, Asked(400.0, 1.66, start_ms_per_cm=1.66, holds="feed")).told()
    assert told.ph.ph == pytest.approx(plan(strawberry).feed.ph, abs=0.1)
