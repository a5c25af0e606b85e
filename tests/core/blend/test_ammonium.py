"""Ammonium's share of the nitrogen: a default that gives way to what is forced in, a written limit that does not."""

import numpy as np
import pytest

from core.blend.ammonium import YIELDED
from core.blend.causes import held_by_ammonium_share
from core.blend.judge import misses
from core.blend.nutrients import ROW
from core.blend.solve import Blend, solve
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe

GREENHOUSE = ["calcium-nitrate-greenhouse", *PLAIN[1:]]
MAP = "monoammonium-phosphate"
NITRIC = {"salt": "nitric-acid", "strength_percent": 60}


def share_percent(blend: Blend) -> float:
    feed = blend.nutrients_mg_per_l
    return 100.0 * float(feed[ROW["NH4-N"]] + feed[ROW["urea-N"]]) / float(feed[ROW["N"]])


def amounts(blend: Blend) -> dict[str, float]:
    return {s.key: float(x) for s, x in zip(blend.shelf.sources, blend.amounts_mg_per_l, strict=True) if x > 0.0}


@pytest.mark.parametrize("held", ["exactly_mg_per_l", "at_least_mg_per_l"])
@pytest.mark.parametrize("mg_per_l", [100.0, 160.0, 300.0])
def test_the_usual_share_gives_way_to_what_is_forced_in_before_a_macro_falls_short(held, mg_per_l):
    """Only calcium nitrate with a little ammonium brings calcium: the share would leave none of it."""
    blend = solve(recipe(SIX, [*GREENHOUSE, {"salt": MAP, held: mg_per_l}]))
    free = solve(recipe(SIX, [*GREENHOUSE, {"salt": MAP, held: mg_per_l}], aim={"ammonium_share_at_most_percent": 100}))
    assert blend.possible
    assert YIELDED in blend.demands.notes
    assert amounts(blend)[MAP] == pytest.approx(mg_per_l)
    for nutrient in ("N", "K", "Ca", "Mg"):
        off, best = (abs(one.nutrients_mg_per_l[ROW[nutrient]] / SIX[nutrient] - 1.0) for one in (blend, free))
        assert off <= max(best, 0.05) + 0.01, nutrient
    assert share_percent(blend) <= share_percent(free) + 0.01


def test_it_gives_way_no_further_than_the_macros_need():
    shelf = [*GREENHOUSE, "calcium-nitrate-tetrahydrate", "ammonium-nitrate", {"salt": MAP, "at_least_mg_per_l": 130.0}]
    blend = solve(recipe(SIX, shelf))
    forced = 130.0 * float(next(s for s in blend.shelf.sources if s.key == MAP).brings[ROW["NH4-N"]])
    assert not misses(blend)
    assert blend.nutrients_mg_per_l[ROW["NH4-N"]] == pytest.approx(forced, abs=0.05)


def test_a_written_limit_does_not_give_way_and_is_not_drowned_in_nitrate():
    shelf = [*GREENHOUSE, {"salt": MAP, "at_least_mg_per_l": 160.0}]
    blend = solve(recipe(SIX, shelf, aim={"ammonium_share_at_most_percent": 5}))
    assert YIELDED not in blend.demands.notes
    assert amounts(blend)[MAP] == pytest.approx(160.0)  # both are the grower's own: no ammonium beside it
    assert "calcium-nitrate-greenhouse" not in amounts(blend)
    assert blend.nutrients_mg_per_l[ROW["K"]] < 300.0


def test_nothing_forced_in_nothing_gives_way():
    blend = solve(recipe({"N": 200.0, "Ca": 80.0}, ["ammonium-nitrate", "calcium-nitrate-tetrahydrate"]))
    assert YIELDED not in blend.demands.notes
    assert share_percent(blend) <= 10.0 + 1e-6
    assert held_by_ammonium_share(blend) == ("N",)


def test_phosphorus_that_comes_with_ammonium_alone_is_short_for_a_reason():
    blend = solve(recipe(SIX, [*(s for s in PLAIN if "phosphate" not in s), MAP]))
    assert held_by_ammonium_share(blend) == ("P",)
    assert held_by_ammonium_share(solve(recipe(SIX, PLAIN))) == ()


@pytest.mark.parametrize("goal", ["closest", "cheapest", "fewest"])
@pytest.mark.parametrize("held", ["exactly_mg_per_l", "at_least_mg_per_l"])
def test_other_goals_give_way_too(goal, held):
    shelf = [{"salt": name, "price_per_kg": 1.0 + place} for place, name in enumerate(GREENHOUSE)]
    wide = {"targets": [{"nutrient": n, "mg_per_l": v, "tolerance_percent": 15} for n, v in SIX.items() if n != "S"]}
    blend = solve(recipe({}, [*shelf, {"salt": MAP, "price_per_kg": 1.0, held: 110.0}], goal=goal, aim=wide))
    assert blend.outcome is None or blend.outcome.missed == ""
    assert not misses(blend)


SOFT = {"name": "soft", "mg_per_l": {"Ca": 8, "HCO3": 30}}


@pytest.mark.parametrize(
    ("acids", "water", "aim"),
    [
        ([], {}, {}),
        ([], {}, {"residual_alkalinity_meq_per_l": 0.0}),
        ([NITRIC], {}, {}),
        ([NITRIC], SOFT, {}),
        ([NITRIC], SOFT, {"residual_alkalinity_meq_per_l": 0.2}),
        ([NITRIC], {}, {"ph": 5.8}),
    ],
    ids=["no acid", "none wanted", "acid", "soft", "residual", "pH"],
)
def test_silicon_that_is_aimed_at_is_reached_whatever_alkalinity_it_comes_with(acids, water, aim):
    shelf = [*PLAIN, "potassium-silicate-solution", *acids]
    blend = solve(recipe(SIX | {"Si": 25.0}, shelf, water=water, aim=aim))
    assert blend.nutrients_mg_per_l[ROW["Si"]] == pytest.approx(25.0, rel=0.1)
    if acids and "ph" not in aim:
        wanted = aim.get("residual_alkalinity_meq_per_l", min(blend.water.alkalinity, 0.5))
        assert blend.alkalinity == pytest.approx(wanted, abs=0.01)


def test_silicate_is_not_used_for_its_potassium_where_no_silicon_is_aimed_at():
    blend = solve(recipe(SIX, [*PLAIN, "potassium-silicate-solution"], water=HARD))
    assert "potassium-silicate-solution" not in amounts(blend)
    assert np.all(blend.amounts_mg_per_l >= 0.0)
