"""The weights as CSV."""

import csv
import io

import pytest

from app.paper.csv import HEAD, guarded, to_csv
from tests.helpers.recipes import recipe


def rows(job):
    return list(csv.DictReader(io.StringIO(to_csv(job))))


def test_every_weight_is_a_plain_number(job, name):
    printed = job(name)
    weighed = [content for tank in printed.plan.tanks for content in tank.contents]
    found = [row for row in rows(printed) if row["tank"]]
    assert [row["entry_id"] for row in found] == [content.entry_id for content in weighed]
    for row, content in zip(found, weighed, strict=True):
        assert float(row["grams_to_weigh"]) == pytest.approx(content.grams_to_weigh, rel=1e-9)
        assert float(row["grams"]) == pytest.approx(content.grams, rel=1e-9)
        assert float(row["ml_per_l_of_feed"]) * float(row["ratio"]) == pytest.approx(1000.0)


def test_acid_into_the_water_is_for_the_whole_batch(job):
    printed = job("strawberry")
    (acid,) = [row for row in rows(printed) if row["place"] == "water"]
    assert acid["salt"] == "nitric-acid"
    assert float(acid["makes_feed_l"]) == 6000.0
    assert float(acid["millilitres"]) == pytest.approx(6000.0 * float(acid["ml_per_l_of_feed"]))
    assert acid["scale_readability_g"] == ""


def test_as_many_cells_as_the_head_has(job, name):
    assert {len(row) for row in csv.reader(io.StringIO(to_csv(job(name))))} == {len(HEAD)}


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@x", "  =1", "\uff1d1", "\t=1"])
def test_nothing_is_taken_for_a_formula(text):
    assert guarded(text) == f"'{text}"


@pytest.mark.parametrize("text", ["potassium nitrate", "iron(II) sulfate", "1-hydrate", ""])
def test_ordinary_names_stay(text):
    assert guarded(text) == text


def test_a_hostile_name_is_text(printing):
    shelf = [{"salt": "potassium-nitrate", "entry_id": '=HYPERLINK("x"),"', "exactly_mg_per_l": 100}]
    (row,) = rows(printing(recipe({}, shelf)))
    assert row["entry_id"] == '\'=HYPERLINK("x"),"'
    assert row["product"] == 'Potassium nitrate (=HYPERLINK("x"),")'
