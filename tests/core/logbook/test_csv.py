"""A diary as a table: what is written comes back just so, and nothing odd is read in silence."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.logbook.csv import from_csv, new_ones, to_csv
from core.logbook.file import load
from core.logbook.kind import TABLE
from core.logbook.merge import in_order
from core.logbook.records import Entry
from core.recipe import RecipeError
from tests.core.logbook.test_file import entries

GOLDEN = load(Path(__file__).parent / "golden" / "log-1.saltwright-log").reservoirs[0].entries
TRICKY = st.text(st.sampled_from("=+-@' \t,;\"a1＝＠."), max_size=8).map(str.strip).filter(str.isprintable)


@settings(max_examples=80)
@given(st.lists(entries, max_size=5), st.lists(TRICKY, min_size=5, max_size=5))
def test_what_is_written_comes_back(lines: list[Entry], notes: list[str]) -> None:
    noted = in_order(
        [Entry(**{name: getattr(one, name) for name in one.__struct_fields__} | {"note": note, "meter": note})
         for one, note in zip(lines, notes, strict=False)]
    )  # fmt: skip
    assert from_csv(to_csv(noted)) == noted


def test_the_golden_diary_comes_back_and_says_its_units() -> None:
    text = to_csv(GOLDEN)
    assert from_csv(text) == GOLDEN
    head = text.splitlines()[0].split(",")
    assert head[:7] == ["at", "fresh", "drained_l", "water_l", "batch_id", "A_ml", "B_ml"]
    assert {"acid_nitric-acid_ml", "ec_ms_per_cm", "N_mg_per_l", "HCO3_mg_per_l", "note"} <= set(head)
    assert to_csv(()) == "at,water_l,level_l,ec_ms_per_cm,ph,temperature_c\r\n"


@pytest.mark.parametrize("text", ["=1+1", "+44 123", "-cmd", "@SUM(A1)", "＝1", "'=1", "''+2", " =1"])
def test_no_cell_is_a_formula(text: str) -> None:
    lines = (Entry("2026-03-01", note=text.strip(), meter="pen", temperature_c=-3.0),)
    rows = list(csv.DictReader(io.StringIO(to_csv(lines))))
    assert rows[0]["note"].startswith("'")
    assert rows[0]["temperature_c"] == "-3"
    assert from_csv(to_csv(lines)) == lines


def test_an_apostrophe_of_ones_own_stays() -> None:
    assert from_csv("at,note\n2026-03-01,'tis cold\n")[0].note == "'tis cold"


def test_semicolons_and_decimal_commas_as_spreadsheets_write_them() -> None:
    (one,) = from_csv("\ufeffat;EC_mS_per_cm;pH;note\r\n2026-03-01 08:30;1,84;5,9;a, b\r\n\r\n")
    assert (one.at, one.ec_ms_per_cm, one.ph, one.note) == ("2026-03-01T08:30", 1.84, 5.9, "a, b")
    (two,) = from_csv("at\tlevel_l\n2026-03-01\t300,5\n")
    assert two.level_l == 300.5


@pytest.mark.parametrize(
    ("column", "shown"),
    [
        ("ec_us_per_cm", "1840"),
        ("ec_cf", "18.4"),
        ("ec_ppm_500", "920"),
        ("ec_ppm_640", "1177.6"),
        ("ec_ppm_700", "1288"),
    ],
)
def test_ec_on_any_scale(column: str, shown: str) -> None:
    assert from_csv(f"at,{column}\n2026-03-01,{shown}\n")[0].ec_ms_per_cm == 1.84


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "is empty; choose a table with a line of headings"),
        ("ph\n6\n", 'lacks the column "at"; add it, with dates as 2026-06-01 08:30'),
        ("at,levl_l\n", 'has a column "levl_l", which is none of a diary; did you mean "level_l"?'),
        ("at,ph,pH\n", 'has two columns for one thing, "ph" and "ph"; keep one'),
        ("at,ec_cf,ec_ms_per_cm\n", 'has two columns for one thing, "ec_cf" and "ec_ms_per_cm"'),
        ("at,ph\n2026-03-01\n", "has 1 cells in line 2 where there are 2 columns"),
        ("at,ph\n2026-03-01,5,9\n", "has 3 cells in line 2 where there are 2 columns"),
        ("at,ph\n2026-03-01,about 6\n", 'has in line 2, column "ph", what is "about 6", no plain number'),
        ("at,level_l\n2026-03-01,\"1,234.5\"\n", 'what is "1,234.5", no plain number; write digits with one decimal'),
        (
            "at,level_l\n2026-03-01,\"1,000\"\n",
            'column "level_l", what is "1,000", which can be read as thousands and as decimals; write 1000 or 1.0',
        ),
        ("at;level_l;ph\n2026-03-01;1.000;5,9\n", 'column "ph", what is "5,9", with another decimal mark than'),
        ("at;ph;level_l\n2026-03-01;5,9;1.000\n", 'what is "1.000", which can be read as thousands and as decimals'),
        ("at;ph;level_l\n2026-03-01;5,9;300.5\n", 'column "level_l", what is "300.5", with another decimal mark than'),
        ("at,ph\n\n2026-03-01,15\n", 'has in line 3, column "ph", what is 15, outside 0 to 14; correct the number'),
        ("at,ph\n01/03/2026,6\n", 'line 2, column "at", what is "01/03/2026", no date or time; write it as 2026-06-01'),
        ("at,A_ml\n2026-03-01,-5\n", 'column "A_ml", what is -5, outside 0 to'),
        ("at,fresh\n2026-03-01,perhaps\n", 'column "fresh", what is "perhaps"; write yes or no'),
        ('at,note\n2026-03-01,"open\n', "is no table from line"),
        (f"at,note\n2026-03-01,{'x' * 201}\n", 'column "note", what holds a text of 201 characters'),
    ],
)  # fmt: skip
def test_refusals_name_line_and_column(text: str, said: str) -> None:
    with pytest.raises(RecipeError) as caught:
        from_csv(text)
    assert said in str(caught.value)
    assert str(caught.value).isprintable()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("at\n" + "2026-03-01\n" * TABLE.most_members, f"has more than {TABLE.most_members} lines; read it in parts"),
        ("x" * (TABLE.most_bytes + 1), "a table is at most 20 MB; choose a table, a CSV file"),
    ],
    ids=["lines", "bytes"],
)
def test_a_table_beyond_all_bounds_is_refused(text: str, said: str) -> None:
    with pytest.raises(RecipeError) as caught:
        from_csv(text)
    assert said in str(caught.value)


def test_three_decimals_behind_a_point_or_a_nought_are_plain() -> None:
    (one,) = from_csv("at,level_l,ec_ms_per_cm\n2026-03-01,1.000,0.475\n")
    assert (one.level_l, one.ec_ms_per_cm) == (1.0, 0.475)
    assert from_csv("at;ec_ms_per_cm\n2026-03-01;0,475\n")[0].ec_ms_per_cm == 0.475


def test_lines_are_put_in_order_and_read_in_once() -> None:
    found = from_csv("at,ph\n2026-03-02,6\n2026-03-01,6\n")
    assert [one.at for one in found] == ["2026-03-01", "2026-03-02"]
    assert new_ones(found, found) == ()
    assert new_ones((*found, found[0]), found) == (found[0],)
