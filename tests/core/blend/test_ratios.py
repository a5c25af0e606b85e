"""Ratios of a feed and what is usual for its crop."""

import pytest

from core.blend.ratios import Ratio, Usual, ratios
from core.blend.solve import solve
from core.catalog import crop
from tests.helpers.recipes import PLAIN, SIX, recipe


def figures(made, crop_id=None):
    blend = solve(made)
    return {(one.kind, one.about): one for one in ratios(blend.totals, blend.alkalinity, crop_id)}


def test_figures_by_hand():
    found = figures(
        recipe(
            {},
            [
                {"salt": "potassium-nitrate", "exactly_mg_per_l": 101.1},
                {"salt": "magnesium-sulfate-heptahydrate", "exactly_mg_per_l": 246.47},
            ],
        )
    )
    assert found["n-to-k", "K"].value == pytest.approx(39.098 / 14.007, rel=1e-3)
    assert found["k-ca-mg", "K"].value == pytest.approx(100.0 / 3.0, rel=1e-3)
    assert found["anions", "SO4"].value == pytest.approx(200.0 / 3.0, rel=1e-3)


def test_shares_of_a_kind_make_up_the_whole():
    found = figures(recipe(SIX, PLAIN))
    for kind in ("k-ca-mg", "cations", "anions"):
        assert sum(one.value for one in found.values() if one.kind == kind) == pytest.approx(100.0)


def test_the_crops_published_solutions_say_what_is_usual():
    usual = figures(recipe(SIX, PLAIN), "tomato-ikeda-1996")["n-to-k", "K"].usual
    profile = {target.nutrient: target.mg_per_l for target in crop("tomato-ikeda-1996").targets}
    own = profile["K"] / (profile["NO3-N"] + profile["NH4-N"])
    assert usual.low <= own <= usual.high
    assert any("Ikeda" in source for source in usual.sources)
    assert usual.how_known == "MEMORY", "some of the tomato rows are recalled, and that is told"


def test_without_a_crop_the_universal_solution_stands_in():
    found = figures(recipe(SIX, PLAIN))
    assert found["k-ca-mg", "Ca"].usual.low == 45.0
    assert found["n-to-k", "K"].usual is None
    assert found["n-to-k", "K"].within is None
    assert found["anions", "NO3"].usual.sources[0].startswith("Steiner")


def test_pure_water_has_no_ratios():
    assert figures(recipe({}, ["potassium-nitrate"])) == {}


def test_a_figure_a_little_beside_the_usual_range_is_not_remarked():
    usual = Usual(40.0, 50.0, ("x",), "READ")
    values = {44.0: (True, False), 52.0: (False, False), 37.0: (False, False), 56.0: (False, True), 35.0: (False, True)}
    for value, told in values.items():
        ratio = Ratio("cations", "Ca", value, usual)
        assert (ratio.within, ratio.unusual) == told
    assert not Ratio("cations", "Ca", 1.0).unusual
