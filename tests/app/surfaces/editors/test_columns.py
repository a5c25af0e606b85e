"""Columns pasted from a spreadsheet: names and numbers however they are parted, and nothing guessed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.surfaces.editors.columns import column_text, is_column, read_column
from core.recipe.records import NUTRIENTS, Target


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("N\t130\nP\t42", {"N": 130, "P": 42}),
        ("Nitrogen: 130\npotassium = 172,5", {"N": 130, "K": 172.5}),
        ("NO3-N 120\nNH4-N 10", {"NO3-N": 120, "NH4-N": 10}),
        ("Ca;3 mmol/L", {"Ca": 120.234}),
        ("K2O\t120", {"K": 99.62}),
        ("SO4 (mg/L)\t48", {"S": 16.0207}),
        ("Mg (mmol/L)\t1", {"Mg": 24.305}),
        ("N-NO3\t120\nmg/L", {"NO3-N": 120}),
        ("Fe\t2.2\nMo\t0,0475", {"Fe": 2.2, "Mo": 0.0475}),
        ("P\t\nK\t10", {"K": 10}),
    ],
)
def test_names_and_numbers(text: str, wanted: dict[str, float]) -> None:
    assert read_column(text).mg_per_l == pytest.approx(wanted, rel=1e-4)


def test_numbers_alone_go_down_from_the_row() -> None:
    assert read_column("42\n172\n132", "P").mg_per_l == {"P": 42, "K": 172, "Ca": 132}


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        ("Xy\t12", "no nutrient"),
        ("K\t1.234,5", "decimal mark"),
        ("K\t1,000", "1000 or 1.0"),
        ("K\tmuch", "number"),
        ("P\t2 meq/L", "did you mean"),
    ],
)
def test_what_is_not_understood_is_told(line: str, reason: str) -> None:
    pasted = read_column(f"Ca\t100\n{line}")
    assert pasted.mg_per_l == {"Ca": 100}
    assert [told for told, _why in pasted.unread] == [line]
    assert reason in pasted.unread[0][1]


def test_a_point_beside_decimal_commas_may_part_thousands() -> None:
    pasted = read_column("K\t1.000\nP\t40,5")
    assert pasted.mg_per_l == {"P": 40.5}
    assert "did you mean 1000 or 1,0?" in pasted.unread[0][1]
    assert read_column("K\t1.000\nP\t40.5").mg_per_l == {"K": 1.0, "P": 40.5}


def test_a_number_of_a_bare_column_that_is_refused_keeps_its_row() -> None:
    pasted = read_column("42\n1,720\n132", "P")
    assert pasted.mg_per_l == {"P": 42, "Ca": 132}
    assert "did you mean 1720 or 1.72?" in pasted.unread[0][1]


def test_a_nutrient_twice_is_told_and_the_first_stands() -> None:
    pasted = read_column("K\t100\nK2O\t150")
    assert pasted.mg_per_l == {"K": 100}
    assert "twice" in pasted.unread[0][1]


def test_one_quantity_is_no_column() -> None:
    assert not is_column("3.2 meq/L\n")
    assert is_column("1\n2")


@given(st.dictionaries(st.sampled_from(NUTRIENTS), st.floats(1e-6, 5000).map(lambda x: float(f"{x:.6g}"))))
def test_copied_out_and_pasted_back(targets: dict[str, float]) -> None:
    text = column_text([Target(name, value) for name, value in targets.items()])  # type: ignore[arg-type]
    assert read_column(text).mg_per_l == targets
    assert read_column(text).unread == ()


@given(st.text(max_size=200))
def test_no_text_is_too_odd(text: str) -> None:
    pasted = read_column(text, "N")
    assert all(value >= 0 for value in pasted.mg_per_l.values())
