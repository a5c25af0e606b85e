"""Acid and base in the solve: no more than it takes, never both, and the pH or alkalinity that was asked for."""

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from core.blend.alkalinity import CLOSE_MEQ_PER_L, acid_meq_per_l, is_acid, is_base
from core.blend.solve import Blend, solve
from core.plan import derive, plan
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe

NITRIC = {"salt": "nitric-acid", "strength_percent": 60}
PHOSPHORIC = {"salt": "phosphoric-acid", "strength_percent": 85}
NO_PHOSPHATE = [salt for salt in PLAIN if salt != "monopotassium-phosphate"]
AIM = SIX | {"N": 120.0}
FEED = {"N": 154.0, "P": 31.0, "K": 195.5, "Ca": 150.3, "Mg": 36.5, "S": 56.1}
"""Balanced in charge, so that no salt is used for bringing potassium without an anion."""

SHELVES = {
    "silicate": (AIM | {"Si": 14.0}, [*PLAIN, "potassium-silicate-solution", NITRIC]),
    "dipotassium phosphate": (AIM, [*NO_PHOSPHATE, "dipotassium-phosphate", NITRIC]),
    "diammonium phosphate": (AIM, [*NO_PHOSPHATE, "diammonium-phosphate", NITRIC]),
    "silicate and phosphoric acid": (
        AIM | {"Si": 14.0},
        [*NO_PHOSPHATE, "potassium-silicate-solution", PHOSPHORIC],
    ),
    "silicate, base, sour chelate": (
        AIM | {"Si": 14.0, "Fe": 2.0},
        [*PLAIN, "potassium-silicate-solution", "potassium-bicarbonate", "iron-dtpa-11", NITRIC],
    ),
    "nitric acid the only nitrogen": (
        AIM,
        ["magnesium-sulfate-heptahydrate", "dipotassium-phosphate", "monopotassium-phosphate", NITRIC],
    ),
}
"""What brings alkalinity besides the water, with an acid that could take it back."""

CHLORIDE_FREE = {"limits": [{"nutrient": "Cl", "at_most_mg_per_l": 400.0}]}
"""Room for hydrochloric acid, which the usual limit of added chloride does not leave."""

AIMS = ({}, {"residual_alkalinity_meq_per_l": 0.5}, {"ph": 5.8})


def water(meq_per_l: float) -> dict:
    """A water of calcium bicarbonate with a little salt, and magnesium in its usual part."""
    contents = {"Ca": 14.0 * meq_per_l, "Mg": 2.5 * meq_per_l, "Na": 10.0, "Cl": 15.4, "HCO3": 61.017 * meq_per_l}
    return {"name": "w", "mg_per_l": contents, "ph": 7.5}


def used(blend: Blend, kind) -> float:
    """Alkalinity of the blend's acids or bases, by formula [meq/L]."""
    brought = zip(blend.shelf.sources, blend.shelf.alkalinity * blend.amounts_mg_per_l, strict=True)
    return sum(abs(float(meq)) for source, meq in brought if kind(source))


@pytest.mark.parametrize("aim", AIMS, ids=["usual", "residual", "ph"])
@pytest.mark.parametrize("name", SHELVES)
def test_the_answer_has_no_cliff_where_the_water_passes_the_goal(name, aim):
    """0.04 meq/L of water is at most 4.2 mg/L of 60 % nitric acid and 2.8 of the salts that trade places with it."""
    targets, shelf = SHELVES[name]
    blends = [solve(recipe(targets, shelf, water=water(meq), aim=aim)) for meq in np.arange(0.3, 0.71, 0.04).tolist()]
    steps = np.diff([blend.amounts_mg_per_l for blend in blends], axis=0)
    assert np.abs(steps).max() < 8.0
    assert all(blend.settled for blend in blends)


@pytest.mark.parametrize("meq", [0.0, 0.3, 0.49, 0.51])
def test_silicate_is_met_in_soft_water_beside_an_acid(meq):
    targets, shelf = SHELVES["silicate"]
    made = plan(recipe(targets, shelf, water=water(meq)))
    assert made.feed.mg_per_l["Si"] == pytest.approx(14.0, rel=0.05)
    assert made.feed.alkalinity_meq_per_l == pytest.approx(min(meq, 0.5), abs=1e-3)


@settings(max_examples=25, deadline=None)
@example(name="silicate", meq=2.0, residual=5e-324)
@given(
    name=st.sampled_from(sorted(SHELVES)),
    meq=st.floats(0.0, 2.0),
    residual=st.one_of(st.none(), st.floats(0.0, 2.0)),
)
def test_acid_only_takes_what_stands_above_the_goal_and_never_meets_a_base(name, meq, residual):
    targets, shelf = SHELVES[name]
    blend = solve(recipe(targets, shelf, water=water(meq), aim={"residual_alkalinity_meq_per_l": residual}))
    assert not (used(blend, is_acid) and used(blend, is_base))
    goal = min(meq, 0.5) if residual is None else residual
    taken = acid_meq_per_l(blend.shelf, blend.amounts_mg_per_l, blend.acids.held)
    if taken > CLOSE_MEQ_PER_L:
        assert blend.alkalinity_left == pytest.approx(goal, abs=2 * CLOSE_MEQ_PER_L)


def test_no_acid_undoes_a_base_the_recipe_fixes():
    shelf = [*PLAIN, {"salt": "potassium-bicarbonate", "exactly_mg_per_l": 100.0}, NITRIC]
    blend = solve(recipe(AIM, shelf, water=water(2.0)))
    assert used(blend, is_acid) == 0.0


ACIDS = {
    "nitric-acid": (38.0, 60.0, 68.0),
    "phosphoric-acid": (59.0, 85.0),
    "sulfuric-acid": (37.0, 93.0),
    "citric-acid": (50.0, 100.0),
    "hydrochloric-acid": (31.45,),
}


def with_acid(acid: str, strength: float, meq: float, aim: dict) -> Blend:
    salts = NO_PHOSPHATE if acid == "phosphoric-acid" else PLAIN
    shelf = [*salts, "iron-dtpa-11", {"salt": acid, "strength_percent": strength}]
    return solve(recipe(AIM | {"Fe": 2.0}, shelf, water=water(meq), aim=CHLORIDE_FREE | aim))


@pytest.mark.parametrize("meq", [1.0, 3.0, 6.0])
@pytest.mark.parametrize(("acid", "strength"), [(acid, s) for acid, all_of in ACIDS.items() for s in all_of])
def test_a_ph_is_reached_with_every_acid_at_every_strength(acid, strength, meq):
    blend = with_acid(acid, strength, meq, {"ph": 5.8})
    made = derive(blend.recipe, blend)
    assert made.feed.ph == pytest.approx(5.8, abs=0.01)
    assert "ph-aim-missed" not in {one.code for one in made.cautions}


@pytest.mark.parametrize("meq", [1.0, 3.0, 6.0])
@pytest.mark.parametrize("acid", ACIDS)
def test_a_residual_is_left_by_every_acid_and_means_the_same_ph(acid, meq):
    """Citrate gives off more where calcium and magnesium hold it; uncounted, that took the pH down by a whole unit."""
    aim = {"residual_alkalinity_meq_per_l": 0.5}
    made, nitric = (
        derive(blend.recipe, blend)
        for blend in (with_acid(acid, ACIDS[acid][-1], meq, aim), with_acid("nitric-acid", 60.0, meq, aim))
    )
    assert made.feed.alkalinity_meq_per_l == pytest.approx(0.5, abs=1e-3)
    if acid != "phosphoric-acid":  # its phosphorus is a buffer of its own
        assert made.feed.ph == pytest.approx(nitric.feed.ph, abs=0.05)


@pytest.mark.parametrize(
    ("acid", "other"),
    [
        (NITRIC | {"at_most_mg_per_l": 50.0}, "iron-dtpa-11"),
        ({"salt": "hydrochloric-acid", "strength_percent": 31.45}, "iron-dtpa-11"),
        ({"salt": "potassium-bicarbonate", "at_most_mg_per_l": 5.0}, "borax-decahydrate"),
        ({"salt": "potassium-bicarbonate", "at_most_mg_per_l": 5.0}, "potassium-silicate-solution"),
    ],
)
def test_traces_and_silicate_are_never_taken_for_acid_or_base(acid, other):
    """A sour chelate beside an acid that is held back once brought 127 mg/L of iron, to keep the alkalinity."""
    targets = FEED | {"Fe": 2.0, "B": 0.3, "Si": 10.0}
    aim = {"residual_alkalinity_meq_per_l": 2.5}
    blend = solve(recipe(targets, [*PLAIN, acid, other], water=water(6.0 if "iron" in other else 0.3), aim=aim))
    nutrient = {"iron-dtpa-11": "Fe", "borax-decahydrate": "B", "potassium-silicate-solution": "Si"}[other]
    assert derive(blend.recipe, blend).feed.mg_per_l[nutrient] == pytest.approx(targets[nutrient], rel=0.15)


def test_a_base_brings_soft_water_up_to_a_ph_and_silicate_needs_acid_instead():
    shelf = [*PLAIN, "potassium-silicate-solution", "potassium-bicarbonate", NITRIC]
    for targets, helper in ((FEED, is_base), (FEED | {"Si": 20.0}, is_acid)):
        blend = solve(recipe(targets, shelf, aim={"ph": 5.8}))
        assert derive(blend.recipe, blend).feed.ph == pytest.approx(5.8, abs=0.01)
        assert used(blend, helper) > 0.01


def test_hard_water_still_counts_every_acid_of_the_recipe():
    """A fixed citric acid is counted by what it gives off, so that nitric acid makes up the rest and no more."""
    shelf = [*PLAIN, {"salt": "citric-acid", "strength_percent": 100.0, "exactly_mg_per_l": 100.0}, NITRIC]
    blend = solve(recipe(AIM, shelf, water=HARD))
    assert derive(blend.recipe, blend).feed.alkalinity_meq_per_l == pytest.approx(0.5, abs=1e-3)


@pytest.mark.parametrize("aim", AIMS, ids=["usual", "residual", "ph"])
@pytest.mark.parametrize("acid", ["phosphoric-acid", "citric-acid"])
def test_the_rounds_end_where_one_more_changes_nothing(acid, aim, monkeypatch):
    """Or where they end would hang on the last digit of what the chemistry tells."""
    ended = [with_acid(acid, ACIDS[acid][-1], meq, aim).amounts_mg_per_l for meq in (1.0, 3.0, 6.0)]
    monkeypatch.setattr("core.blend.serving.SAME_MEQ_PER_L", 1e-10)
    further = [with_acid(acid, ACIDS[acid][-1], meq, aim).amounts_mg_per_l for meq in (1.0, 3.0, 6.0)]
    np.testing.assert_allclose(ended, further, rtol=1e-6, atol=1e-6)


def test_a_shelf_whose_only_phosphorus_is_sour_settles_beside_silicate():
    """Each round told the other way by three quarters of the last: the plain way from one to the next ran out."""
    shelf = [*NO_PHOSPHATE, "diammonium-phosphate", "potassium-silicate-solution", PHOSPHORIC]
    blend = solve(recipe(AIM | {"Si": 40.0}, shelf, water=water(1.0)))
    assert blend.settled
    assert blend.alkalinity_left == pytest.approx(0.5, abs=CLOSE_MEQ_PER_L)
