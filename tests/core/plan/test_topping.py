"""Filling up what was drunk: EC by volume, every nutrient by mass, and what the meter does not show."""

import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import convert, structs

from core.plan.feed_tanks import feed_tanks
from core.plan.topping import TopUpAsked, top_up
from core.recipe.records import Recipe


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
