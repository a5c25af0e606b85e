"""What a label may lack by law, against values worked out by hand from the tables."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.catalog.label_law import label_laws, shortfall_points

ANY = "potassium-nitrate"


@pytest.mark.parametrize(
    ("printed", "guarantee", "points"),
    [
        ("N", 15.5, 0.66), ("N", 11.0, 0.595), ("K2O", 32.0, 1.44), ("N", 3.0, 0.49), ("Ca", 16.0, 1.0),
        ("Fe", 9.95, 1.0), ("K2O", 46.0, 1.44), ("P2O5", 52.0, 0.76), ("Mg", 9.8, 0.69), ("B", 0.02, 0.006),
        ("Mo", 0.001, 0.0004), ("Fe", 6.0, 0.605),
    ],
)  # fmt: skip
def test_the_united_states_table(printed: str, guarantee: float, points: float) -> None:
    assert shortfall_points("us", ANY, printed, guarantee) == pytest.approx(points, abs=1e-12)


@pytest.mark.parametrize(
    ("law", "product", "printed", "guarantee", "points"),
    [
        ("virginia", ANY, "N", 15.5, 0.765), ("virginia", ANY, "K2O", 46.0, 1.68), ("virginia", ANY, "Ca", 19.0, None),
        ("eu-2003", "calcium-nitrate-greenhouse", "N", 15.5, 0.4), ("eu-2003", "ammonium-nitrate", "N", 34.0, 0.6),
        ("eu-2003", "ammonium-nitrate", "N", 32.0, 0.8), ("eu-2003", "potassium-chloride", "K2O", 60.0, 0.5),
        ("eu-2003", "potassium-chloride", "K2O", 55.0, 1.0), ("eu-2003", "potassium-sulfate", "K2O", 50.0, 0.5),
        ("eu-2003", ANY, "K2O", 46.0, 1.1), ("eu-2003", "blend:mix", "P2O5", 5.0, 1.1),
        ("eu-2003", "iron-dtpa-11", "Fe", 11.0, 0.4), ("eu-2003", "blend:mix", "Fe", 0.1, None),
        ("eu-2003", "magnesium-sulfate-heptahydrate", "Mg", 9.8, 0.55), ("eu-2003", "blend:mix", "Mg", 1.0, 0.25),
    ],
)  # fmt: skip
def test_the_other_laws(law: str, product: str, printed: str, guarantee: float, points: float | None) -> None:
    assert shortfall_points(law, product, printed, guarantee) == (None if points is None else pytest.approx(points))


@given(law=st.sampled_from(["us", "virginia", "eu-2003"]), guarantee=st.floats(1e-4, 100))
@settings(max_examples=60)
def test_nothing_falls_short_by_more_than_all_of_it(law: str, guarantee: float) -> None:
    for allowance in label_laws()[law]:
        assert 0.0 <= allowance.points_at(guarantee) <= guarantee


def test_what_was_only_recalled_is_not_in_it() -> None:
    assert {one.known.how_known for law in label_laws().values() for one in law} <= {"READ", "READ-2", "DERIVED"}


def test_between_rows_the_table_never_steps() -> None:
    for one in label_laws()["us"]:
        for (low, below), (high, above) in zip(one.rows, one.rows[1:], strict=False):
            assert one.points_at((low + high) / 2) == pytest.approx((below + above) / 2)
            assert below <= above
