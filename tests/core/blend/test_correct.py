"""Correcting a reservoir from a lab report: what to drain, what to add, what the meter will not show."""

import numpy as np
import pytest

from core.blend.correct import correct
from core.blend.judge import misses
from core.blend.nutrients import ROW
from core.recipe.records import Water, WaterContents
from tests.helpers.recipes import HARD, PLAIN, recipe

AIM = {"N": 150.0, "P": 40.0, "K": 200.0, "Ca": 150.0, "Mg": 35.0, "S": 55.0, "Fe": 2.0, "B": 0.3}
SHELF = [*PLAIN, "iron-dtpa-11", "boric-acid"]
GOOD = {"no3_n": 150.0, "p": 40.0, "k": 200.0, "ca": 150.0, "mg": 35.0, "s": 55.0, "fe": 2.0, "b": 0.3}


def report(**changed) -> Water:
    return Water(name="lab", mg_per_l=WaterContents(**(GOOD | changed)))


def test_a_reservoir_in_range_needs_hardly_anything():
    found = correct(recipe(AIM, SHELF), report(), 400.0)
    assert found.drain_share == 0.0
    assert sum(found.grams.values()) < 10.0
    assert found.in_range


def test_what_is_short_is_added_and_nothing_drained():
    found = correct(recipe(AIM, SHELF), report(k=120.0, no3_n=120.0), 400.0)
    assert found.drain_share == found.drain_l == 0.0
    assert found.in_range
    added = sum(found.grams[key] * share for key, share in (("potassium-nitrate", 0.38672),) if key in found.grams)
    assert added == pytest.approx(80.0 * 0.4, rel=0.02)


def test_as_little_is_drained_as_brings_what_is_over_to_the_end_of_its_range():
    found = correct(recipe(AIM, SHELF), report(b=0.9), 400.0, most_at_once=1.0)
    assert found.drain_share == pytest.approx(0.6, abs=0.001)  # 0.9 down to 0.36 mg/L
    assert found.drain_l == pytest.approx(240.0, abs=0.5)
    assert found.in_range
    assert (found.part, found.held_by) == (1.0, None)


def test_what_is_far_off_is_brought_half_of_the_way_at_once_and_the_reason_is_told():
    found = correct(recipe(AIM, SHELF), report(b=0.9), 400.0)
    assert found.held_by == "B"
    assert found.part == pytest.approx(0.5 / 0.6, abs=0.001)  # 0.9 to 0.36 mg/L would take away three fifths
    assert found.drain_share == pytest.approx(0.5, abs=0.001)
    assert not found.in_range


@pytest.mark.parametrize("held", ["exactly_mg_per_l", "at_least_mg_per_l"])
def test_what_the_recipe_fixes_is_in_the_reservoir_already_and_is_not_added_again(held):
    shelf = [{"salt": "calcium-nitrate-tetrahydrate", held: 600.0}, *SHELF[1:]]
    found = correct(recipe(AIM, shelf), report(), 400.0)
    assert found.grams.get("calcium-nitrate-tetrahydrate", 0.0) < 10.0
    assert found.in_range
    short = correct(recipe(AIM, shelf), report(ca=120.0), 400.0)
    assert short.grams["calcium-nitrate-tetrahydrate"] == pytest.approx(30.0 * 0.4 / 0.169716, rel=0.25)


def test_what_the_recipe_leaves_out_stays_out():
    shelf = [{"salt": "potassium-nitrate", "exactly_mg_per_l": 0.0}, *[s for s in SHELF if s != "potassium-nitrate"]]
    assert "potassium-nitrate" not in correct(recipe(AIM, shelf), report(k=120.0, no3_n=120.0), 400.0).grams


def test_a_limit_from_below_is_kept():
    made = recipe(AIM, [*SHELF, "potassium-chloride"], aim={"limits": [{"nutrient": "Cl", "at_least_mg_per_l": 30}]})
    for start in (report(cl=5.0), report(cl=40.0, b=0.9)):  # too little at once, and too little once drained
        feed = correct(made, start, 100.0, most_at_once=1.0).blend.nutrients_mg_per_l
        assert feed[ROW["Cl"]] >= 30.0 * (1 - 1e-6)


def test_draining_counts_what_it_takes_away_of_a_limit_from_below():
    """Sulfur stands just over its limit and nothing on the shelf brings any: what is drained would break the limit."""
    shelf = ["calcium-nitrate-tetrahydrate", "potassium-nitrate", "monopotassium-phosphate", "boric-acid"]
    aim = {"limits": [{"nutrient": "S", "at_least_mg_per_l": 50}]}
    wanted = {name: value for name, value in AIM.items() if name in ("N", "P", "K", "Ca", "B")}
    found = correct(recipe(wanted, shelf, aim=aim), report(b=0.4), 100.0, most_at_once=1.0)
    assert found.drain_share <= 1.0 - 50.0 / 55.0 + 1e-6


def test_what_a_report_does_not_name_is_taken_as_fresh_feed_has_it_and_told():
    partly = Water(mg_per_l=WaterContents(no3_n=150.0, p=40.0, k=120.0, ca=150.0, mg=35.0, s=55.0))
    found = correct(recipe(AIM, SHELF), partly, 400.0)
    assert found.assumed == ("Fe", "B")
    assert found.in_range
    assert "boric-acid" not in found.grams
    assert correct(recipe(AIM, SHELF), report(), 400.0).assumed == ()


def drifted(rng: np.random.Generator) -> Water:
    """A reservoir the crop and the water have drawn apart: macros from a third to 1.8 times the aim, traces wider."""
    contents = {
        name: value * rng.uniform(*((0.2, 2.5) if name in ("fe", "b") else (0.35, 1.8))) for name, value in GOOD.items()
    }
    return report(**contents, na=float(rng.uniform(0.0, 60.0)), cl=float(rng.uniform(0.0, 90.0)))


@pytest.mark.parametrize("seed", range(12))
def test_a_reservoir_that_has_drifted_is_back_in_range_after_three_corrections_and_overshoots_nothing(seed):
    made, now = recipe(AIM, [*SHELF, "magnesium-nitrate-hexahydrate"]), drifted(np.random.default_rng(seed))
    for _ in range(3):
        found = correct(made, now, 100.0)
        for moved in (one for one in found.moved if one.target_mg_per_l):
            if moved.before_mg_per_l > moved.high_mg_per_l:
                assert moved.after_mg_per_l >= moved.low_mg_per_l * (1 - 1e-4), moved
            if moved.before_mg_per_l < moved.low_mg_per_l:
                assert moved.after_mg_per_l <= moved.high_mg_per_l * (1 + 1e-4), moved
            change = abs(moved.after_mg_per_l - moved.before_mg_per_l)
            assert change <= 0.5 * max(moved.before_mg_per_l, moved.target_mg_per_l) + 1e-6
        if found.in_range:
            break
        fields = {"no3_n": "NO3-N", "p": "P", "k": "K", "ca": "Ca", "mg": "Mg", "s": "S", "fe": "Fe", "b": "B"}
        feed = found.blend.nutrients_mg_per_l
        now = report(**{field: float(feed[ROW[name]]) for field, name in (fields | {"na": "Na", "cl": "Cl"}).items()})
    assert found.in_range


def test_the_answer_adds_up():
    found = correct(recipe(AIM, SHELF), report(ca=230.0, mg=60.0, s=110.0), 250.0)
    shelf = {source.key: source for source in found.blend.shelf.sources}
    for moved in found.moved:
        row = ROW[moved.nutrient]
        added = sum(g * 4.0 * shelf[key].brings[row] for key, g in found.grams.items())  # g in 250 L to mg/L
        expected = moved.before_mg_per_l * (1.0 - found.drain_share) + added
        assert moved.after_mg_per_l == pytest.approx(expected, abs=1e-6)


def test_boron_is_not_seen_by_the_meter():
    found = correct(recipe(AIM, SHELF), report(b=0.9), 400.0)
    assert found.ec_after_ms_per_cm == pytest.approx(found.ec_before_ms_per_cm, rel=0.02)
    assert "B" in found.unseen


def test_sodium_over_its_limit_is_drained():
    made = recipe(AIM, SHELF, aim={"limits": [{"nutrient": "Na", "at_most_mg_per_l": 46}]})
    found = correct(made, report(na=92.0, cl=142.0), 100.0)
    assert found.drain_share == pytest.approx(0.5, abs=0.01)
    assert found.blend.nutrients_mg_per_l[ROW["Na"]] <= 46.5


def test_draining_with_hard_water_brings_its_calcium():
    found = correct(
        recipe(AIM, [*SHELF, {"salt": "nitric-acid", "strength_percent": 60}], water=HARD), report(b=0.9), 100.0
    )
    assert 0.0 < found.drain_share <= 1.0
    assert found.blend.alkalinity == pytest.approx(0.5, abs=0.05)


def test_what_cannot_be_met_is_told():
    found = correct(recipe(AIM, ["potassium-nitrate"]), report(ca=300.0, p=10.0), 100.0)
    assert not found.in_range
    assert misses(found.blend)
    assert 0.0 <= found.drain_share <= 1.0


def test_ammonium_that_is_part_of_the_nitrogen_aimed_at_is_told_as_assumed():
    made = recipe({"N": 150.0, "K": 200.0, "Ca": 120.0}, ["calcium-nitrate-greenhouse", "potassium-nitrate"])
    found = correct(made, Water(mg_per_l=WaterContents(no3_n=180.0, k=120.0, ca=200.0)), 1000.0)
    assert found.assumed == ("NH4-N",)
