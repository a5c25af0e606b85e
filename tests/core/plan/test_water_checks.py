"""What is said of the waters: each by itself, charge and EC against the analysis, and what nobody entered."""

import pytest

from core.blend.strength import analysed_ec_ms_per_cm, wanted_ec_ms_per_cm, water_ec_ms_per_cm
from core.blend.waters import recipe_water, water_totals
from core.catalog import waters
from core.plan import plan
from core.recipe.records import Water, WaterContents
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe

NITRIC = {"salt": "nitric-acid", "strength_percent": 60}


def said(code: str, water: dict, **rest) -> list[dict]:
    """The data of a caution, once per water it is raised for."""
    made = plan(recipe({"K": 100.0}, ["potassium-nitrate"], water=water, **rest))
    return [one.data for one in made.cautions if one.code == code]


def test_both_waters_are_looked_at_each_by_its_own_name():
    odd = {"name": "pond", "mg_per_l": {"Ca": 80, "HCO3": 60}}
    mixed = {"second_water": odd, "second_water_share_percent": 30}
    told = said("water-charge-gap", HARD, **mixed)
    assert [one["which_water"] for one in told] == ["second_water"]
    assert said("water-charge-gap", HARD) == []
    assert [one["which_water"] for one in said("water-charge-gap", odd, second_water=HARD)] == ["water"]
    assert [
        one["which_water"]
        for one in said("alkalinity-unknown", HARD, second_water={"mg_per_l": {"Ca": 5}}, second_water_share_percent=50)
    ] == ["second_water"]


def test_a_water_that_has_no_part_in_the_feed_is_left_alone():
    assert said("water-assumed-pure", HARD, second_water={"name": "rain"}, second_water_share_percent=0) == []
    assert said("water-assumed-pure", {}, second_water=HARD, second_water_share_percent=100) == []


@pytest.mark.parametrize(("cations", "anions"), [(2.0, 1.0), (1.0, 2.0)])
def test_the_gap_is_the_same_whichever_side_is_short(cations, anions):
    contents = WaterContents(na=22.99 * cations, cl=35.45 * anions)
    counted = water_totals(Water(mg_per_l=contents))
    assert counted.gap_percent == pytest.approx(100.0 * 1.0 / 1.5, rel=1e-3)
    (told,) = said("water-charge-gap", {"mg_per_l": {"Na": contents.na, "Cl": contents.cl}})
    assert told["cations_meq_per_l"] == pytest.approx(cations, rel=1e-3)
    assert told["anions_meq_per_l"] == pytest.approx(anions, rel=1e-3)
    assert told["gap_percent"] == pytest.approx(66.7, abs=0.1)


def test_a_gap_of_a_tenth_of_the_mean_is_rounding_and_a_little_more_is_not():
    def gap(anions: float) -> list[dict]:
        return said("water-charge-gap", {"mg_per_l": {"Na": 22.99 * 2.0, "Cl": 35.45 * anions, "HCO3": 0.0}})

    assert gap(2.0 * 0.95 / 1.05 * 1.001) == []
    assert len(gap(2.0 * 0.95 / 1.05 * 0.999)) == 1


@pytest.mark.parametrize(
    ("water", "code"),
    [
        ({}, "water-assumed-pure"),
        ({"name": "borehole"}, "water-assumed-pure"),
        ({"name": "borehole", "ph": 7.1}, "water-assumed-pure"),
        ({"name": "borehole", "ec_ms_per_cm": 0.6}, "water-ec-only"),
        ({"name": "osmosis", "ec_ms_per_cm": 0.03}, None),
        ({"mg_per_l": {"HCO3": 0.0}}, None),
    ],
)
def test_neither_a_name_nor_an_ec_stands_for_an_analysis(water, code):
    codes = {"water-assumed-pure", "water-ec-only"}
    assert {one for one in codes if said(one, water)} == ({code} if code else set())


@pytest.mark.parametrize("profile", waters(), ids=lambda profile: profile.id)
def test_the_catalogs_waters_agree_with_their_own_ec(profile):
    water = {"mg_per_l": profile.mg_per_l, "ph": profile.ph, "ec_ms_per_cm": profile.ec_ms_per_cm}
    for code in ("water-ec-contradiction", "water-charge-gap", "water-ph-contradiction"):
        assert said(code, water) == []


@pytest.mark.parametrize(("factor", "is_told"), [(1.0, False), (1.1, False), (0.9, False), (1.25, True), (0.8, True)])
def test_a_stated_ec_is_held_against_the_analysis(factor, is_told):
    made = analysed_ec_ms_per_cm(recipe(SIX, PLAIN, water=HARD).water)
    told = said("water-ec-contradiction", HARD | {"ec_ms_per_cm": factor * made})
    assert bool(told) == is_told
    if told:
        assert told[0]["analysis_ms_per_cm"] == pytest.approx(made)
        assert told[0]["stated_ms_per_cm"] == pytest.approx(factor * made)


def test_a_rise_counts_from_the_measured_ec():
    aim = {"ec_ms_per_cm": 1.2, "ec_is_rise_over_water": True}
    made = plan(recipe(SIX, [*PLAIN, NITRIC], water=HARD | {"ec_ms_per_cm": 0.72}, aim=aim))
    assert made.feed.water_ec_ms_per_cm == 0.72
    assert made.feed.ec_ms_per_cm == pytest.approx(1.92, abs=0.01)
    assert "ec-aim-missed" not in {one.code for one in made.cautions}


def test_two_waters_bring_their_ec_by_share_and_an_ec_without_analysis_brings_none():
    both = recipe(
        SIX, PLAIN, water=HARD | {"ec_ms_per_cm": 0.8}, second_water={"mg_per_l": {"HCO3": 0.0}, "ec_ms_per_cm": 0.02},
        second_water_share_percent=25,
    )  # fmt: skip
    assert water_ec_ms_per_cm(both, recipe_water(both)) == pytest.approx(0.605)
    alone = recipe(SIX, PLAIN, water={"ec_ms_per_cm": 0.8}, aim={"ec_ms_per_cm": 1.0, "ec_is_rise_over_water": True})
    assert wanted_ec_ms_per_cm(alone, recipe_water(alone)) == pytest.approx(1.0, abs=0.01)


def test_a_water_beyond_the_chemistry_has_no_ec_and_its_rise_is_not_made_up():
    brine = recipe(SIX, PLAIN, water={"mg_per_l": {"Na": 23000, "Cl": 35000}},
                   aim={"ec_ms_per_cm": 1.0, "ec_is_rise_over_water": True})  # fmt: skip
    assert water_ec_ms_per_cm(brine, recipe_water(brine)) is None
    assert wanted_ec_ms_per_cm(brine, recipe_water(brine)) is None
    assert "out-of-range" in {one.code for one in plan(brine).cautions}


def test_iron_and_manganese_count_only_where_they_stay_dissolved():
    """What is not counted is neither in the feed nor taken off what the salts bring, and the caution names it."""
    report = {"mg_per_l": {"Fe": 0.8, "Mn": 0.2, "Ca": 61, "HCO3": 186}, "ph": 7.2}
    assert said("water-iron-not-counted", report) == [{"which_water": "water", "nutrients": ["Fe", "Mn"]}]
    assert said("water-iron-not-counted", {**report, "credits_iron_and_manganese": True}) == []
    assert said("water-iron-not-counted", {"mg_per_l": {"Fe": 0.0, "Ca": 61, "HCO3": 186}}) == []
    shelf = ["potassium-nitrate", "iron-dtpa-11"]
    waters_ = (report, {**report, "credits_iron_and_manganese": True})
    plans = [plan(recipe({"K": 100.0, "Fe": 2.0}, shelf, water=water)) for water in waters_]
    feeds = [made.feed.mg_per_l for made in plans]
    chelates = [next(one.mg_per_l for one in made.amounts if one.entry_id == "iron-dtpa-11") for made in plans]
    assert [round(feed["Fe"], 6) for feed in feeds] == [2.0, 2.0]
    assert feeds[0]["Mn"] == 0.0
    assert feeds[1]["Mn"] == pytest.approx(0.2)
    assert chelates[1] == pytest.approx(0.6 * chelates[0])
