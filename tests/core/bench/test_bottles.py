"""Which small weights want a trace bottle, and which share one."""

from dataclasses import dataclass

import pytest

from core.bench.bottles import Serves, bottles_for, trace_products
from core.plan import solve
from core.recipe.records import Scale
from tests.helpers.recipes import recipe

COARSE, FINE = Scale(5000, 1), Scale(200, 0.01)


@dataclass(frozen=True)
class Content:
    salt: str
    grams: float

    @property
    def entry_id(self) -> str:
        return self.salt


SMALL = [
    Content("manganese-sulfate-monohydrate", 6.0), Content("boric-acid", 5.0),
    Content("sodium-molybdate-dihydrate", 0.6), Content("potassium-nitrate", 900.0),
]  # fmt: skip
SERVES = {content.salt: Serves(20.0, 1.0) for content in SMALL[:3]}


def test_sulfates_and_boron_share_a_bottle_and_molybdate_stands_alone():
    bottles = bottles_for(SMALL, [COARSE], SERVES)
    assert [b.entry_ids for b in bottles] == [
        ("manganese-sulfate-monohydrate", "boric-acid"), ("sodium-molybdate-dihydrate",),
    ]  # fmt: skip
    assert all(b.scale == COARSE for b in bottles)


def test_an_aliquot_gives_back_the_weight():
    for bottle in bottles_for(SMALL, [COARSE], SERVES):
        grams = {content.entry_id: content.grams for content in SMALL}
        for key, dissolved in zip(bottle.entry_ids, bottle.bottle.grams_to_dissolve, strict=True):
            assert dissolved * bottle.bottle.aliquot_ml / bottle.bottle.bottle_ml == pytest.approx(grams[key])


def test_a_fine_scale_or_none_wants_no_bottle():
    assert bottles_for(SMALL, [COARSE, FINE], SERVES) == ()
    assert bottles_for(SMALL, [], SERVES) == ()


def test_a_product_serves_its_strictest_nutrient_with_its_share():
    made = recipe(
        {"Zn": 0.3, "Mo": 0.05}, ["zinc-sulfate-heptahydrate", "sodium-molybdate-dihydrate", "potassium-nitrate"],
        aim={"targets": [{"nutrient": "Zn", "mg_per_l": 0.3, "tolerance_percent": 8},
                         {"nutrient": "Mo", "mg_per_l": 0.05}, {"nutrient": "K", "mg_per_l": 100}]},
    )  # fmt: skip
    found = trace_products(solve(made))
    assert found.keys() == {"zinc-sulfate-heptahydrate", "sodium-molybdate-dihydrate"}
    assert found["zinc-sulfate-heptahydrate"].tolerance_percent == pytest.approx(8.0)
    assert found["sodium-molybdate-dihydrate"] == Serves(pytest.approx(25.0), pytest.approx(1.0))
