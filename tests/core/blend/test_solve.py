"""Solving whole recipes: what a grower would weigh, and the nearest blend where an aim cannot be met."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.blend.nutrients import ROW
from core.blend.solve import Blend, solve
from core.recipe.records import NUTRIENTS
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe


def amounts(blend: Blend) -> dict[str, float]:
    return {s.key: float(x) for s, x in zip(blend.shelf.sources, blend.amounts_mg_per_l, strict=True) if x > 0.0}


def feed(blend: Blend) -> dict[str, float]:
    return dict(zip(NUTRIENTS, blend.nutrients_mg_per_l, strict=True))


def test_the_waters_calcium_lowers_the_calcium_salt_by_exactly_that():
    pure = solve(recipe(SIX, PLAIN, aim={}))
    water = {"name": "w", "mg_per_l": {"Ca": 40.0, "Cl": 70.76}}
    hard = solve(recipe({"Ca": 150.0}, ["calcium-nitrate-tetrahydrate"], water=water))
    assert feed(pure)["Ca"] == pytest.approx(150.0, rel=0.02)
    assert amounts(hard)["calcium-nitrate-tetrahydrate"] == pytest.approx(110.0 / 0.169716, rel=1e-4)


def test_acid_brings_alkalinity_to_what_is_left_and_its_nitrogen_is_counted():
    blend = solve(
        recipe(
            {"N": 130.0, "P": 40.0, "K": 180.0, "Ca": 150.0, "Mg": 35.0},
            [*PLAIN, {"salt": "nitric-acid", "strength_percent": 60}],
            water=HARD,
        )
    )
    acid = amounts(blend)["nitric-acid"] * 0.6 / 63.012
    assert blend.alkalinity == pytest.approx(0.5, abs=1e-6)
    assert acid == pytest.approx(329 / 61.017 - 0.5, rel=1e-3)
    assert feed(blend)["N"] == pytest.approx(130.0, rel=1e-3)


def test_phosphoric_acid_alone_on_hard_water_drowns_the_aim_in_phosphorus_and_the_row_stays_hard():
    shelf = [p for p in PLAIN if p != "monopotassium-phosphate"] + [{"salt": "phosphoric-acid", "strength_percent": 85}]
    blend = solve(recipe(SIX, shelf, water=HARD))
    assert feed(blend)["P"] == pytest.approx(4.89 * 30.974, rel=0.03)


def test_acid_and_base_never_work_together_and_acid_is_not_used_without_need():
    shelf = [*PLAIN, "potassium-hydroxide", "potassium-bicarbonate", {"salt": "nitric-acid", "strength_percent": 60}]
    soft, hard = solve(recipe(SIX, shelf)), solve(recipe(SIX, shelf, water=HARD))
    assert not {"potassium-hydroxide", "potassium-bicarbonate", "nitric-acid"} & amounts(soft).keys()
    assert "nitric-acid" in amounts(hard)
    assert not {"potassium-hydroxide", "potassium-bicarbonate"} & amounts(hard).keys()


def test_a_base_is_used_where_the_aim_asks_for_more_alkalinity_than_the_water_has():
    blend = solve(recipe(SIX, [*PLAIN, "potassium-bicarbonate"], aim={"residual_alkalinity_meq_per_l": 0.8}))
    assert amounts(blend)["potassium-bicarbonate"] == pytest.approx(0.8 * 100.114, rel=1e-3)
    assert blend.alkalinity == pytest.approx(0.8)


def test_urea_only_where_it_is_allowed():
    shelf = ["urea", "calcium-chloride-dihydrate", "monopotassium-phosphate"]
    refused, allowed = (
        solve(recipe({"N": 100.0}, shelf)),
        solve(recipe({"N": 100.0}, shelf, aim={"urea": True, "ammonium_share_at_most_percent": 100})),
    )
    assert feed(refused)["urea-N"] == 0.0
    assert feed(allowed)["urea-N"] == pytest.approx(100.0, rel=1e-3)


def test_ammonium_keeps_to_a_tenth_of_the_nitrogen_unless_the_aim_says_more():
    shelf = ["ammonium-nitrate", "calcium-nitrate-tetrahydrate", "potassium-nitrate"]
    free = solve(recipe({"N": 200.0, "Ca": 80.0}, shelf[:2]))
    asked = solve(recipe({"N": 200.0, "Ca": 80.0}, shelf[:2], aim={"ammonium_share_at_most_percent": 40}))
    assert feed(free)["NH4-N"] / feed(free)["N"] <= 0.1 + 1e-9
    assert feed(asked)["N"] == pytest.approx(200.0, rel=1e-6)


def test_added_chloride_stays_under_seventy_unless_the_aim_limits_it_itself():
    shelf = ["calcium-chloride-dihydrate"]
    assert feed(solve(recipe({"Ca": 150.0}, shelf)))["Cl"] == pytest.approx(70.0, rel=1e-6)
    own = {"limits": [{"nutrient": "Cl", "at_most_mg_per_l": 300}]}
    assert feed(solve(recipe({"Ca": 150.0}, shelf, aim=own)))["Ca"] == pytest.approx(150.0)


def test_a_target_of_zero_is_at_most_zero():
    blend = solve(recipe({"K": 200.0, "Cl": 0.0}, ["potassium-chloride", "potassium-sulfate"]))
    assert "potassium-chloride" not in amounts(blend)
    assert feed(blend)["K"] == pytest.approx(200.0)


def test_nitrogen_is_not_counted_twice():
    once = solve(
        recipe(
            {"NO3-N": 140.0, "NH4-N": 10.0, "K": 100.0},
            ["ammonium-nitrate", "potassium-nitrate", "calcium-nitrate-tetrahydrate"],
        )
    )
    twice = solve(
        recipe(
            {"N": 150.0, "NO3-N": 140.0, "NH4-N": 10.0, "K": 100.0},
            ["ammonium-nitrate", "potassium-nitrate", "calcium-nitrate-tetrahydrate"],
        )
    )
    assert once.amounts_mg_per_l == pytest.approx(twice.amounts_mg_per_l)


def test_exact_amounts_need_no_target():
    blend = solve(recipe({}, [{"salt": "potassium-nitrate", "exactly_mg_per_l": 500.0}, "monopotassium-phosphate"]))
    assert amounts(blend) == {"potassium-nitrate": 500.0}
    assert feed(blend)["K"] == pytest.approx(193.4, rel=1e-3)


def test_bounds_on_an_entry_are_kept():
    shelf = [
        {"salt": "potassium-nitrate", "at_most_mg_per_l": 100.0},
        {"salt": "potassium-sulfate", "at_least_mg_per_l": 50.0},
    ]
    blend = solve(recipe({"K": 200.0, "N": 60.0}, shelf))
    assert amounts(blend)["potassium-nitrate"] == pytest.approx(100.0)
    assert amounts(blend)["potassium-sulfate"] >= 50.0 - 1e-6


def test_two_bags_of_one_salt_and_duplicates_are_no_trouble():
    shelf = [*PLAIN, {"salt": "potassium-nitrate", "entry_id": "old bag"}]
    assert feed(solve(recipe(SIX, shelf)))["K"] == pytest.approx(feed(solve(recipe(SIX, PLAIN)))["K"], rel=1e-6)


def test_the_cheaper_of_two_equal_bags_is_used_where_both_have_a_price():
    shelf = [
        {"salt": "potassium-sulfate", "entry_id": "dear", "price_per_kg": 3.0},
        {"salt": "potassium-sulfate", "entry_id": "cheap", "price_per_kg": 1.0},
    ]
    assert list(amounts(solve(recipe({"K": 100.0}, shelf)))) == ["cheap"]


def test_an_aim_nothing_on_the_shelf_can_meet_still_has_a_nearest_blend():
    blend = solve(recipe({"K": 100.0, "Ca": 100.0}, ["potassium-nitrate"]))
    assert amounts(blend)["potassium-nitrate"] == pytest.approx(100.0 / 0.38672, rel=1e-3)
    assert feed(blend)["Ca"] == 0.0


targets = st.dictionaries(
    st.sampled_from(["N", "P", "K", "Ca", "Mg", "S", "Fe", "B"]), st.floats(0.01, 400.0), max_size=8
)
shelves = st.lists(
    st.sampled_from(
        [
            *PLAIN,
            "ammonium-nitrate",
            "urea",
            "calcium-chloride-dihydrate",
            "iron-edta-13",
            "boric-acid",
            "nitric-acid",
            "potassium-bicarbonate",
            "dipotassium-phosphate",
        ]
    ),
    min_size=1,
    max_size=10,
    unique=True,
)


@settings(max_examples=150, deadline=None)
@given(targets, shelves, st.booleans())
def test_any_aim_on_any_shelf_has_finite_non_negative_amounts_that_keep_the_default_limits(aim, shelf, hard):
    blend = solve(recipe(aim, shelf, **({"water": HARD} if hard else {})))
    assert np.all(np.isfinite(blend.amounts_mg_per_l))
    assert np.all(blend.amounts_mg_per_l >= 0.0)
    assert feed(blend)["urea-N"] == 0.0
    added = blend.nutrients_mg_per_l[ROW["Cl"]] - blend.water_mg_per_l[ROW["Cl"]]
    assert added <= 70.0 + 1e-4


def test_an_aim_that_names_only_a_ph_reaches_it_closed():
    from core.plan import plan

    made = recipe(
        {**SIX, "N": 130.0}, [*PLAIN, {"salt": "nitric-acid", "strength_percent": 60}], water=HARD, aim={"ph": 5.8}
    )
    assert plan(made).feed.ph == pytest.approx(5.8, abs=0.02)


def test_a_target_ec_scales_the_macros_and_holds_phosphorus_and_traces():
    from core.plan import plan

    shelf = [*PLAIN, "calcium-nitrate-greenhouse", "boric-acid"]
    plain, strong = (
        plan(recipe(SIX | {"B": 0.3}, shelf)),
        plan(recipe(SIX | {"B": 0.3}, shelf, aim={"ec_ms_per_cm": 2.2})),
    )
    assert strong.feed.ec_ms_per_cm == pytest.approx(2.2, abs=0.01)
    assert strong.feed.mg_per_l["P"] == pytest.approx(plain.feed.mg_per_l["P"], rel=0.02)
    assert strong.feed.mg_per_l["B"] == pytest.approx(plain.feed.mg_per_l["B"], rel=0.01)
    assert strong.feed.mg_per_l["K"] / plain.feed.mg_per_l["K"] > 1.15


def test_a_target_ec_may_be_a_rise_over_the_waters():
    from core.plan import plan

    aim = {"ec_ms_per_cm": 1.2, "ec_is_rise_over_water": True}
    feed = plan(recipe(SIX, [*PLAIN, {"salt": "nitric-acid", "strength_percent": 60}], water=HARD, aim=aim)).feed
    assert feed.ec_ms_per_cm - feed.water_ec_ms_per_cm == pytest.approx(1.2, abs=0.01)


def test_a_waters_total_nitrogen_is_not_lost_beside_one_of_its_forms():
    water = {"name": "w", "mg_per_l": {"N": 20.0, "NH4-N": 2.0}}
    blend = solve(recipe({}, [{"salt": "potassium-sulfate", "exactly_mg_per_l": 10.0}], water=water))
    assert feed(blend)["N"] == pytest.approx(20.0)
    assert feed(blend)["NH4-N"] == pytest.approx(2.0)


def test_what_is_kept_and_shared_cannot_be_written_over():
    blend = solve(recipe(SIX, PLAIN, water=HARD))
    source = blend.shelf.sources[0]
    for kept in (blend.water.totals, blend.shelf.totals, blend.shelf.brings, source.totals, source.brings):
        with pytest.raises(ValueError, match="read-only"):
            kept[0] = 1.0
    assert solve(recipe(SIX, PLAIN, water=HARD)).nutrients_mg_per_l == pytest.approx(blend.nutrients_mg_per_l)


def test_a_cation_without_a_nitrate_to_come_with_opens_a_bag_of_chloride_and_a_small_gap_does_not():
    shelf = [*PLAIN, "magnesium-nitrate-hexahydrate", "calcium-chloride-dihydrate", "potassium-chloride"]
    gap, far = {"N": 140.0, "P": 40.0, "K": 200.0, "Ca": 150.0, "Mg": 35.0, "S": 55.0}, {"N": 90.0}
    little, much = solve(recipe(gap, shelf)), solve(recipe(gap | far, shelf))
    assert feed(little)["Cl"] == 0.0
    for nutrient in ("N", "P", "K", "Ca", "Mg"):
        assert feed(little)[nutrient] == pytest.approx(gap[nutrient], rel=0.02)
    assert feed(much)["Cl"] > 20.0
    own = solve(recipe(gap, shelf, aim={"limits": [{"nutrient": "Cl", "at_most_mg_per_l": 70}]}))
    assert feed(own)["Cl"] > 0.0  # the aim itself says how much chloride there may be
