"""The balance of a water report is told as the plan's caution of its charge gap is: none where it is said to close."""

from __future__ import annotations

import pytest

from app.wording import editors_water as say
from core.blend.waters import water_totals
from core.plan import plan
from core.plan.water_checks import GAP_PERCENT
from tests.helpers.recipes import PLAIN, SIX, recipe


@pytest.mark.parametrize(
    ("bicarbonate", "said"),
    [(250.0, "✓ The ions balance"), (210.0, "≈ The ions nearly balance"), (150.0, "do not balance")],
)
def test_what_closes_has_no_caution(bicarbonate: float, said: str) -> None:
    made = recipe(SIX, PLAIN, water={"mg_per_l": {"Ca": 80.16, "HCO3": bicarbonate}})
    counted = water_totals(made.water)
    sentence = say.balance(counted.charge, counted.charge - counted.gap, counted.gap_percent)
    assert said in sentence
    cautioned = "water-charge-gap" in {one.code for one in plan(made).cautions}
    assert cautioned is (counted.gap_percent > GAP_PERCENT) is (not sentence.startswith("✓"))


def test_the_missing_side_is_named() -> None:
    assert "anions are missing" in say.balance(4.0, 1.0, 120.0)
    assert "cations are missing" in say.balance(1.0, 4.0, 120.0)
