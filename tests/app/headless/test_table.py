"""Text in columns."""

from __future__ import annotations

import pytest

from app.headless.table import aligned, at_the_point


def test_columns_line_up() -> None:
    rows = [("1.5 g", "salt", ""), ("120 g", "a longer name", "= 3 mL")]
    assert aligned(rows, right=frozenset({0}), indent="  ") == [
        "  1.5 g  salt",
        "  120 g  a longer name  = 3 mL",
    ]


def test_rows_of_different_length_are_refused() -> None:
    with pytest.raises(ValueError, match="zip"):
        aligned([("a", "b"), ("a",)])


def test_decimal_marks_stand_below_each_other() -> None:
    assert at_the_point(["4210 g", "7.69 g", "0.5 g"]) == ["4210    g", "   7.69 g", "   0.5  g"]
    assert at_the_point(["61.0", "", "9.20", "0"]) == ["61.0", "", " 9.20", " 0"]
    assert at_the_point([]) == []
