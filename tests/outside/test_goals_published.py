"""A dozen published targets on a shelf of twenty products give blends a grower would weigh, whatever the goal.

Sources: the catalog's published solutions (Ikeda 1996; Takatsuji 1997; Udagawa 2004; ARSIA 2004; Hoagland & Arnon
1950; Kubota; Resh; Sonneveld & Straver 1994, Steiner 1984, Cooper 1979 and Hochmuth, recalled), each with how it is
known in the catalog. What a grower would accept: nitrate
first, ammonium at most 10 % of the nitrogen or the crop's own share, no chloride added unless the cations wanted outrun
the anions, no urea, no acid beside a base, no salt that brings next to nothing.
"""

import pytest

from core.blend.alkalinity import is_acid, is_base
from core.blend.dust import dust
from core.blend.judge import misses
from core.blend.nutrients import ROW
from core.blend.solve import Blend, crop_ammonium_share_percent, solve
from core.catalog import crop
from tests.helpers.recipes import HARD, recipe

PROFILES = [
    "tomato-ikeda-1996", "cucumber-ikeda-1996", "lettuce-ikeda-1996", "melon-ikeda-1996", "general-ikeda-1996",
    "strawberry-takatsuji-1997", "spinach-takatsuji-1997", "strawberry-udagawa-2004-stage-5", "ornamentals-arsia-2004",
    "general-hoagland-arnon-1950", "pepper-sonneveld-1994", "rose-sonneveld-1994", "general-steiner-1984",
    "eggplant-ikeda-1996", "tomato-sonneveld-1994", "tomato-kubota-stage-3", "lettuce-resh", "strawberry-arsia-2004",
    "general-cooper-1979", "tomato-hochmuth-stage-5", "tomato-hochmuth-stage-1",
]  # fmt: skip

TWENTY = [
    "calcium-nitrate-tetrahydrate", "calcium-nitrate-greenhouse", "potassium-nitrate", "potassium-sulfate",
    "potassium-chloride", "monopotassium-phosphate", "dipotassium-phosphate", "monoammonium-phosphate",
    "diammonium-phosphate", "magnesium-sulfate-heptahydrate", "magnesium-nitrate-hexahydrate",
    "magnesium-chloride-hexahydrate", "calcium-chloride-dihydrate", "ammonium-nitrate", "ammonium-sulfate", "urea",
    "potassium-bicarbonate", "calcium-hydroxide",
    {"salt": "nitric-acid", "strength_percent": 60}, {"salt": "phosphoric-acid", "strength_percent": 85},
]  # fmt: skip


def blend_for(profile: str, **rest) -> Blend:
    wanted = {t.nutrient: t.mg_per_l for t in crop(profile).targets if t.nutrient not in ("Na", "Cl")}
    macros = {name: mg for name, mg in wanted.items() if name in ("N", "NO3-N", "NH4-N", "P", "K", "Ca", "Mg", "S")}
    return solve(recipe(macros, TWENTY, aim={"crop": profile}, **rest))


def used(blend: Blend):
    return [s for s, x in zip(blend.shelf.sources, blend.amounts_mg_per_l, strict=True) if x > 0.0]


def share_allowed(blend: Blend) -> float:
    return max(10.0, 1.05 * (crop_ammonium_share_percent(blend.recipe) or 0.0)) / 100.0


MEQ = {"NH4-N": 14.007, "K": 39.098, "Ca": 20.039, "Mg": 12.1525, "NO3-N": 14.007, "P": 30.974, "S": 16.03}


def cations_outrun_anions(profile: str) -> bool:
    """Whether a profile asks for over 5 % more cations than anions, so that calcium has no nitrate to come with.

    So it is where the source counts on the bicarbonate of its own water (ARSIA 2004), which pure water has not.
    """
    meq = {t.nutrient: t.mg_per_l / MEQ[t.nutrient] for t in crop(profile).targets if t.nutrient in MEQ}
    if "S" not in meq:  # where a source names no sulfur any cation may come with it
        return False
    total = next((t.mg_per_l for t in crop(profile).targets if t.nutrient == "N"), 0.0) / MEQ["NO3-N"]
    cations = sum(meq.get(n, 0.0) for n in ("NH4-N", "K", "Ca", "Mg"))
    return cations > 1.05 * (meq.get("NO3-N", total) + meq["P"] + meq["S"])


def test_only_two_profiles_ask_for_more_cations_than_anions():
    """One is made for hard water, the other asks for calcium far beyond its nitrogen."""
    outrun = [profile for profile in PROFILES if cations_outrun_anions(profile)]
    assert outrun == ["ornamentals-arsia-2004", "tomato-hochmuth-stage-1"]


@pytest.mark.parametrize("goal", ["closest", "fewest"])
@pytest.mark.parametrize("profile", PROFILES)
def test_a_grower_would_weigh_it(profile, goal):
    blend = blend_for(profile, goal=goal)
    feed = {name: float(blend.nutrients_mg_per_l[row]) for name, row in ROW.items()}
    assert feed["NH4-N"] <= share_allowed(blend) * feed["N"] * (1 + 1e-4)
    assert feed["NO3-N"] >= 0.8 * feed["N"]
    assert feed["urea-N"] == 0.0
    assert not any(is_acid(source) or is_base(source) for source in used(blend))
    assert not dust(blend.demands, blend.shelf, blend.amounts_mg_per_l[blend.demands.free]) or goal == "fewest"
    assert misses(blend) == () or (goal == "fewest" and blend.outcome.missed)
    if not cations_outrun_anions(profile):
        assert feed["Cl"] < 1.0


@pytest.mark.parametrize("profile", PROFILES)
def test_on_hard_water_acid_and_base_never_meet(profile):
    sources = used(blend_for(profile, water=HARD))
    assert any(is_acid(source) for source in sources)
    assert not any(is_base(source) for source in sources)


@pytest.mark.parametrize("profile", PROFILES)
def test_fewest_is_never_more_than_the_closest(profile):
    few, closest = blend_for(profile, goal="fewest"), blend_for(profile)
    if not few.outcome.missed:
        assert few.outcome.at_least == few.outcome.count <= len(used(closest))
