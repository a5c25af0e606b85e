"""Correcting a reservoir from a lab report: what to drain, what to add, what the meter will not show."""

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
    assert added == pytest.approx(80.0 * 0.4, rel=0.1)


def test_as_little_is_drained_as_brings_what_is_over_to_the_end_of_its_range():
    found = correct(recipe(AIM, SHELF), report(b=0.9), 400.0)
    assert found.drain_share == pytest.approx(0.6, abs=0.001)  # 0.9 down to 0.36 mg/L
    assert found.drain_l == pytest.approx(240.0, abs=0.5)
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
