"""Adapting from two mixed tanks: amounts reckoned independently with the same label contents.

Source: our own bench stories, arithmetic done apart from the program (DERIVED); amounts to 0.5 %.
"""

import pytest

from core.blend.adapt import from_tanks
from core.blend.judge import target_rows
from core.blend.mixed_tanks import MixedTank
from core.blend.nutrients import ROW
from core.recipe.records import ShelfEntry
from tests.helpers.recipes import recipe

AIM = {"N": 190.0, "P": 42.0, "K": 250.0, "Ca": 145.0, "Mg": 30.0, "S": 50.0}
CALCIUM = {
    "salt": "blend:calcium side as mixed",
    "label_percent": {"NO3-N": 14.3, "NH4-N": 0.91, "K": 6.82, "Ca": 15.65},
}
PHOSPHATE = {
    "salt": "blend:phosphate side as mixed",
    "label_percent": {"NO3-N": 2.23, "P": 6.61, "K": 18.92, "Mg": 4.45, "S": 7.66},
}
SEVEN = [
    "potassium-nitrate", "potassium-sulfate", "monopotassium-phosphate", "calcium-nitrate-greenhouse",
    "magnesium-sulfate-heptahydrate", "ammonium-nitrate", "potassium-chloride",
]  # fmt: skip


def adapted(*supplements: str):
    made = recipe(AIM, [CALCIUM, PHOSPHATE])
    tanks = tuple(MixedTank(entry, g_per_l, 10.0, 0.0) for entry, g_per_l in zip(made.shelf, (68.0, 62.0), strict=True))
    return from_tanks(made, tanks, tuple(ShelfEntry(salt=name) for name in supplements))


def off(found) -> float:
    feed = found.blend.nutrients_mg_per_l
    return max(abs(float(feed[ROW[row.nutrient]]) / row.target - 1.0) for row in target_rows(found.blend))


def test_the_two_tanks_alone():
    found = adapted()
    assert [dose.ml_per_l for dose in found.doses] == pytest.approx([15.25, 10.92], rel=0.005)
    assert float(found.blend.nutrients_mg_per_l[ROW["K"]]) / 250.0 - 1.0 == pytest.approx(-0.205, abs=0.001)
    assert not found.in_range


def test_with_potassium_nitrate():
    found = adapted(*SEVEN)
    assert found.supplements == ("potassium-nitrate",)
    assert [dose.ml_per_l for dose in found.doses] == pytest.approx([13.95, 10.52], rel=0.005)
    assert float(found.blend.amounts_mg_per_l[2]) == pytest.approx(172.0, rel=0.005)
    assert off(found) <= 0.04


@pytest.mark.parametrize("name", SEVEN)
def test_potassium_nitrate_is_the_only_single_supplement_that_does(name):
    assert (off(adapted(name)) <= 0.05) is (name == "potassium-nitrate")
