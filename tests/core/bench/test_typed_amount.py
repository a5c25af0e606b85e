"""Amounts typed for the tank: grams there and mg/L in the feed are two sides of one number."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.bench.quantities import grams_for_tank
from core.bench.typed_amount import typed_amount
from core.recipe.records import Batch, Recipe, ShelfEntry, TankSetup
from core.units import UnitError

DRY, ACID = ShelfEntry("potassium-nitrate"), ShelfEntry("nitric-acid", strength_percent=60)


def recipe(volume_l: float = 60.0, ratio: float = 100.0) -> Recipe:
    return Recipe("saltwright-recipe", 1, (DRY, ACID), tanks=TankSetup(ratio=ratio), batch=Batch(volume_l))


@pytest.mark.parametrize(("text", "mg_per_l"), [("216", 216), ("83,3", 83.3), ("216 mg/L", 216), ("12 ppm", 12)])
def test_a_number_alone_is_per_litre_of_feed(text: str, mg_per_l: float) -> None:
    assert typed_amount(text, recipe(), DRY) == (mg_per_l, "")


@pytest.mark.parametrize(
    ("text", "mg_per_l", "echo"),
    [
        ("500 g", 83.3333, "500 g"),
        ("1.5 kg", 250, "1.5 kg"),
        ("1 lb 4 oz", 94.4984, "1 lb 4 oz"),  # 566.990 g in 6000 L
        ("500 mg", 0.0833333, "500 mg"),
    ],
)
def test_a_mass_is_for_one_filling(text: str, mg_per_l: float, echo: str) -> None:
    assert typed_amount(text, recipe(), DRY) == (pytest.approx(mg_per_l, rel=1e-6), echo)


def test_a_liquid_is_poured() -> None:
    """60 % nitric acid weighs 1.367 kg/L at 20 °C, so 1200 mL of it are 1640 g, in 6000 L of feed 273 mg/L."""
    found = typed_amount("1200 mL", recipe(), ACID)
    assert found.mg_per_l == pytest.approx(273.4, rel=2e-3)
    assert found.echo == "1200 mL"


@pytest.mark.parametrize(
    ("text", "entry", "reason"),
    [
        ("1 L", DRY, "type its grams or kilograms"),
        ("-5", DRY, "below zero"),
        ("-5 g", DRY, "below zero"),
        ("much", DRY, "does not begin with a number"),
        ("3 gal", ACID, "did you mean US gal or imp gal"),
        ("5 mmol/L", DRY, "no unit of mass"),
    ],
)
def test_what_is_refused(text: str, entry: ShelfEntry, reason: str) -> None:
    with pytest.raises(UnitError, match=reason):
        typed_amount(text, recipe(), entry)


@given(
    st.floats(0.01, 50_000).map(lambda grams: float(f"{grams:.5g}")),
    st.floats(0.5, 1000),
    st.sampled_from((50.0, 100.0, 128.0, 200.0)),
)
def test_it_reads_back_as_it_was_typed(grams: float, volume_l: float, ratio: float) -> None:
    found = typed_amount(f"{grams} g", recipe(volume_l, ratio), DRY)
    assert grams_for_tank(found.mg_per_l, ratio, volume_l) == pytest.approx(grams, rel=1e-5)
