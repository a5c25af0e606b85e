"""Places in ranges, axes of the plot, which differences come first."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.surfaces.compare.place_mark import HIGH, LOW, position
from app.surfaces.compare.side import in_order
from app.widgets.axis import axis_around
from core.plan.comparison import Differing
from core.plan.records import NutrientRow


def row(low: float | None, high: float | None, feed: float) -> NutrientRow:
    return NutrientRow("K", None, low, high, 0.0, feed, "met")


@pytest.mark.parametrize(
    ("low", "high", "feed", "place"),
    [
        (95.0, 105.0, 95.0, LOW),
        (95.0, 105.0, 105.0, HIGH),
        (95.0, 105.0, 100.0, 0.5),
        (95.0, 105.0, 10.0, 0.0),
        (95.0, 105.0, 900.0, 1.0),
        (None, 46.0, 0.0, 0.0),
        (None, 46.0, 46.0, HIGH),
        (10.0, None, 10.0, LOW),
        (0.0, 0.0, 0.0, 0.5),
    ],
)
def test_ranges_stand_below_one_another(low: float | None, high: float | None, feed: float, place: float) -> None:
    assert position(row(low, high, feed), feed) == pytest.approx(place)


@settings(max_examples=60, deadline=None)
@given(low=st.floats(0.0, 1e4), span=st.floats(0.0, 1e4))
def test_an_axis_holds_both_ends_at_even_ticks(low: float, span: float) -> None:
    made = axis_around(low, low + span, 6)
    assert made.low <= low + 1e-6
    assert low + span <= made.high * (1 + 1e-9) + 1e-6
    assert 2 <= len(made.ticks) <= 12
    assert made.share(made.low) == 0.0
    assert made.share(made.high) == 1.0


def test_what_comes_and_goes_is_told_before_what_changes() -> None:
    found = (
        Differing("amount", "a", 100.0, 101.0),
        Differing("nutrient", "K", 100.0, 150.0),
        Differing("cost", "EUR", 1.0, 2.0),
        Differing("gone", "b", 10.0, None),
        Differing("new", "c", None, 10.0),
    )
    assert [one.about for one in in_order(found)] == ["c", "b", "EUR", "K", "a"]
