"""Products bought for one nutrient serve that nutrient: traces are no macros, silicate no base, chloride no filler."""

import pytest
from msgspec.structs import replace

from core.blend.adapt import aim_from_profile
from core.blend.judge import misses
from core.blend.nutrients import ROW
from core.blend.solve import Blend, solve
from core.catalog import crops
from core.recipe.records import TRACES, Recipe
from tests.core.blend.test_ammonium import share_percent
from tests.helpers.recipes import recipe

TRACE_SALTS = (
    "manganese-sulfate-monohydrate",
    "zinc-sulfate-heptahydrate",
    "copper-sulfate-pentahydrate",
    "ammonium-heptamolybdate-tetrahydrate",
    "iron-dtpa-11",
    "boric-acid",
)
TWENTY = (
    "calcium-nitrate-tetrahydrate", "calcium-nitrate-greenhouse", "potassium-nitrate", "potassium-sulfate",
    "potassium-chloride", "calcium-chloride-dihydrate", "monopotassium-phosphate", "monoammonium-phosphate",
    "magnesium-sulfate-heptahydrate", "magnesium-nitrate-hexahydrate", "ammonium-nitrate", "ammonium-sulfate",
    "potassium-silicate-solution", *TRACE_SALTS,
)  # fmt: skip


def of_crop(profile) -> Recipe:
    bare = recipe({}, list(TWENTY))
    return replace(bare, aim=aim_from_profile(bare.aim, profile)[0])


CHLORIDES = {"potassium-chloride", "calcium-chloride-dihydrate"}
WITH_TARGETS = [profile for profile in crops() if profile.targets]


def amounts(blend: Blend) -> dict[str, float]:
    return {source.key: amount for source, amount in blend.used}


@pytest.mark.parametrize("goal", ["closest", "cheapest", "fewest"])
def test_no_trace_salt_stands_in_for_a_macro(goal):
    """Ammonium molybdate for ammonium and manganese sulfate for sulfur once brought 76 mg/L of Mo and 137 of Mn."""
    shelf = [*("calcium-nitrate-tetrahydrate", "potassium-nitrate", "monopotassium-phosphate"), *TRACE_SALTS]
    made = recipe({"NO3-N": 100.0, "NH4-N": 10.0, "P": 40.0, "K": 200.0, "Ca": 120.0, "S": 60.0}, shelf, goal=goal)
    feed = solve(made).nutrients_mg_per_l
    assert [feed[ROW[name]] for name in ("Fe", "Mn", "Zn", "B", "Cu", "Mo")] == [0.0] * 6


def test_a_least_amount_or_a_least_of_the_trace_lets_its_product_in():
    held = {"salt": "manganese-sulfate-monohydrate", "at_least_mg_per_l": 2.0}
    assert amounts(solve(recipe({"K": 100.0}, ["potassium-nitrate", held])))["manganese-sulfate-monohydrate"] == 2.0
    aim = {"limits": [{"nutrient": "Mn", "at_least_mg_per_l": 0.5}]}
    made = solve(recipe({"K": 100.0}, ["potassium-nitrate", "manganese-sulfate-monohydrate"], aim=aim))
    assert made.nutrients_mg_per_l[ROW["Mn"]] >= 0.5 - 1e-9


@pytest.mark.parametrize("profile", WITH_TARGETS, ids=lambda one: one.id)
def test_published_feeds_hold_no_trace_and_no_silicate_they_do_not_name(profile):
    blend = solve(of_crop(profile))
    asked = {target.nutrient for target in blend.aim.targets if target.mg_per_l > 0.0}
    assert all(blend.nutrients_mg_per_l[ROW[name]] == 0.0 for name in TRACES if name not in asked)


@pytest.mark.parametrize("profile", WITH_TARGETS, ids=lambda one: one.id)
def test_chloride_comes_in_only_where_a_range_is_missed_without(profile):
    blend = solve(of_crop(profile))
    if CHLORIDES & amounts(blend).keys():
        made = of_crop(profile)
        without = replace(made, shelf=tuple(entry for entry in made.shelf if entry.salt not in CHLORIDES))
        assert len(misses(solve(without))) > len(misses(blend))


def test_hardly_any_published_feed_takes_chloride_whose_calcium_does_not_outrun_its_nitrate():
    """14.007 and 20.039 mg a meq of nitrate nitrogen and calcium; one would have 0.3 % too much nitrate without."""
    taking = []
    for profile in WITH_TARGETS:
        blend = solve(of_crop(profile))
        targets = {target.nutrient: target.mg_per_l for target in blend.aim.targets}
        nitrate = targets.get("NO3-N", targets.get("N", 0.0)) / 14.007
        if CHLORIDES & amounts(blend).keys() and targets.get("Ca", 0.0) / 20.039 < nitrate:
            taking.append(profile.id)
    assert taking == ["tomato-ishihara-2007"]


def test_the_share_of_ammonium_is_of_the_nitrogen_reached():
    """Own arithmetic: 766 mg/L of calcium nitrate and 137 of ammonium nitrate make N 138.8 with 17.3 % ammonium."""
    targets = [
        {"nutrient": "N", "mg_per_l": 100.0, "low_mg_per_l": 90.0, "high_mg_per_l": 150.0},
        {"nutrient": "NH4-N", "mg_per_l": 24.0, "low_mg_per_l": 22.0, "high_mg_per_l": 26.0},
        {"nutrient": "Ca", "mg_per_l": 130.0, "low_mg_per_l": 129.0, "high_mg_per_l": 140.0},
    ]
    shelf = [{"salt": salt, "price_per_kg": 1.0} for salt in ("calcium-nitrate-tetrahydrate", "ammonium-nitrate")]
    made = recipe({}, shelf, aim={"targets": targets, "ammonium_share_at_most_percent": 20.0}, goal="cheapest")
    blend = solve(made)
    assert blend.outcome is not None
    assert blend.outcome.missed == ""
    assert share_percent(blend) <= 20.0 + 1e-6


def test_an_unused_trace_leaves_the_alkalinity_where_it_is_wanted():
    """An ammonium molybdate on the shelf once left 0.763 meq/L where 0.5 can be met."""
    water = {"mg_per_l": {"HCO3": 250.0}}
    shelf = [
        "ammonium-nitrate",
        "ammonium-heptamolybdate-tetrahydrate",
        {"salt": "nitric-acid", "strength_percent": 60},
    ]
    blend = solve(recipe({"NO3-N": 60.23, "NH4-N": 12.61}, shelf, water=water))
    assert blend.alkalinity_left == pytest.approx(0.5, abs=1e-4)
