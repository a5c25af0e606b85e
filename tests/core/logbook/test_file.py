"""The logbook's file: what is written comes back, and everything else is refused in one sentence."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from core.logbook import kind
from core.logbook.checks import check
from core.logbook.file import dumps, load, loads
from core.logbook.merge import in_order
from core.logbook.records import Entry, Logbook, MadeBatch, Reservoir
from core.recipe import RecipeError
from core.recipe.migrations import lifted
from tests.helpers.recipes import recipe

GOLDEN = Path(__file__).parent / "golden" / "log-1.saltwright-log"
PLAIN = recipe({"N": 150.0}, ["potassium-nitrate", "nitric-acid"])
BATCH = MadeBatch("1", "2026-03-01", PLAIN)
HEAD: dict[str, Any] = {"format": "saltwright-log", "schema": 1}


def refused(document: Any) -> str:
    with pytest.raises(RecipeError) as caught:
        loads(json.dumps(document).encode(), "my.saltwright-log")
    sentence = str(caught.value)
    assert sentence.startswith("my.saltwright-log")
    assert sentence.isprintable()
    return sentence


def with_entry(**fields: Any) -> dict[str, Any]:
    batch = json.loads(dumps(Logbook(batches=(BATCH,))))["batches"]
    entry = {"at": "2026-03-01T08:30", **fields}
    return {**HEAD, "batches": batch, "reservoirs": [{"name": "one", "volume_l": 300, "entries": [entry]}]}


def test_the_golden_file_is_read_and_written_byte_for_byte() -> None:
    logbook = load(GOLDEN)
    assert [entry.ec_ms_per_cm for entry in logbook.reservoirs[0].entries] == [1.84, 1.9, 1.62, None]
    assert logbook.batches[0].recipe.title == "Küche, 日本"
    assert dumps(logbook) == GOLDEN.read_bytes()


def test_an_empty_logbook_says_what_it_is() -> None:
    assert json.loads(dumps(Logbook())) == {**HEAD, "batches": [], "reservoirs": []}
    assert loads(json.dumps(HEAD).encode()) == Logbook()


numbers = st.none() | st.floats(0.001, 90, allow_nan=False)
entries = st.builds(
    Entry,
    at=st.datetimes().map(lambda moment: moment.isoformat(timespec="minutes")[:16]).filter(lambda text: text > "1000"),
    fresh=st.booleans(),
    drained_l=numbers,
    water_l=numbers,
    batch_id=st.just("1"),
    parts_ml=st.dictionaries(st.sampled_from("AB"), st.floats(0.001, 1e6)),
    acid_ml=st.dictionaries(st.just("nitric-acid"), st.floats(0.001, 1e3)),
    level_l=numbers,
    ec_ms_per_cm=numbers,
    temperature_c=st.none() | st.floats(-5, 60).map(lambda number: round(number, 2)),
    analysis_mg_per_l=st.dictionaries(st.sampled_from(["N", "K", "urea-N"]), st.floats(0.001, 900)),
    note=st.text(st.characters(categories=["L", "N", "P", "S"]), max_size=50),
)


@settings(max_examples=60)
@given(st.lists(entries, max_size=6))
def test_what_is_written_comes_back(lines: list[Entry]) -> None:
    logbook = Logbook(batches=(BATCH,), reservoirs=(Reservoir("one", 300, entries=in_order(lines)),))
    check(logbook)
    assert loads(dumps(logbook)) == logbook


@pytest.mark.parametrize(
    ("document", "said"),
    [
        ({"format": "saltwright-recipe", "schema": 1}, "is JSON but no logbook, it names another format"),
        ({"schema": 1}, "is JSON but no logbook, it names no format"),
        ([], "is JSON but no logbook"),
        ({**HEAD, "schema": 2}, "was written by a newer Saltwright (schema 2); this one reads up to 1"),
        ({**HEAD, "schema": "1"}, "schema must be a whole number from 1"),
        ({**HEAD, "reservoir": []}, 'holds the unknown name "reservoir"; did you mean "reservoirs"?'),
        (
            with_entry(leval_l=3),
            'reservoir 1, entry 1 (reservoirs[0].entries[0]) holds the unknown name "leval_l"; did',
        ),
        (with_entry(ec_ms_per_cm=1800), "ec_ms_per_cm) is 1800, outside 0 to 100 mS/cm"),
        (with_entry(ec_ms_per_cm="1.8"), 'must be a number, not the text "1.8"'),
        (with_entry(at="1 March"), 'is "1 March", no date or time; write it as 2026-06-01T08:30'),
        (with_entry(at="2026-02-30"), 'is "2026-02-30", no date or time'),
        (with_entry(at="2026-03-01T08:30:00"), "no date or time"),
        (with_entry(analysis_mg_per_l={"NO3": 5}), 'holds the unknown name "NO3"; did you mean "NO3-N"?'),
        (with_entry(analysis_mg_per_l={"N": 30000}), "outside 0 to 20000 mg/L"),
        (with_entry(parts_ml={"A": 5}), "pours of no batch; name a batch"),
        (with_entry(batch_id="2", parts_ml={"A": 5}), 'names the batch "2", which is not in this logbook'),
        (with_entry(batch_id="1", parts_ml={"C": 5}), 'holds the unknown name "C"; known are A, B'),
        (with_entry(batch_id="1", acid_ml={"nitric-acids": 5}), 'did you mean "nitric-acid"?'),
        (with_entry(batch_id="1", parts_ml={"A": -1}), "parts_ml.A) is -1, outside 0 to 1000000000 mL"),
        ({**HEAD, "reservoirs": [{"name": " ", "volume_l": 3}]}, "name) is empty; give the reservoir a name"),
        ({**HEAD, "reservoirs": [{"name": "a"}]}, 'lacks "volume_l"; add it'),
        ({**HEAD, "reservoirs": [{"name": "a", "volume_l": 3}] * 2}, 'name) repeats "a"; give each its own'),
    ],
)
def test_refusals(document: Any, said: str) -> None:
    assert said in refused(document)


def test_a_recipe_inside_is_checked_like_any_other() -> None:
    document = with_entry()
    document["batches"][0]["recipe"]["shelf"] = []
    assert "batch 1 (batches[0].recipe.shelf) is empty" in refused(document)
    document["batches"][0]["recipe"]["shelf"] = [{"salt": "nitric-acids"}]
    assert 'did you mean "nitric-acid"?' in refused(document)


def test_entries_stand_in_order_of_time() -> None:
    document = with_entry()
    document["reservoirs"][0]["entries"].append({"at": "2026-02-28"})
    assert "entry 2 (reservoirs[0].entries[1]) is earlier than the entry before it" in refused(document)


def test_names_given_twice_and_files_too_large() -> None:
    with pytest.raises(RecipeError, match='holds the name "title" twice'):
        loads(b'{"format": "saltwright-log", "schema": 1, "title": "a", "title": "b"}')
    with pytest.raises(RecipeError, match="is 21 MB, and a logbook is at most 20 MB; choose a logbook file"):
        loads(b" " * 21_000_000)
    with pytest.raises(RecipeError, match="is empty; choose a logbook file, or go back to an older copy"):
        loads(b"\n")


def test_no_number_that_no_file_can_hold() -> None:
    endless = Logbook(reservoirs=(Reservoir("a", float("inf")),))
    with pytest.raises(RecipeError, match="holds a number that is not finite"):
        dumps(endless)
    with pytest.raises(RecipeError, match="is not a finite number"):
        check(endless)


def test_thousands_of_entries_are_read() -> None:
    lines = tuple(Entry(f"20{year:02d}-{month:02d}-{day:02d}", ec_ms_per_cm=1.8)
                  for year in range(10, 26) for month in range(1, 13) for day in range(1, 28))  # fmt: skip
    logbook = Logbook(reservoirs=(Reservoir("one", 300, entries=lines),))
    assert len(lines) > 5000
    assert loads(dumps(logbook)) == logbook


def test_only_what_is_new_is_looked_at_again() -> None:
    old = Logbook(reservoirs=(Reservoir("one", 300, entries=(Entry("2026-03-01", ph=99.0),)),))
    more = (*old.reservoirs[0].entries, Entry("2026-03-02"))
    newer = Logbook(reservoirs=(structs.replace(old.reservoirs[0], entries=more),))
    check(newer, old)
    with pytest.raises(RecipeError, match="outside 0 to 14"):
        check(newer)


def test_an_older_schema_is_lifted_step_by_step() -> None:
    steps = {1: lambda old: {**old, "seen": 1}, 2: lambda old: {**old, "seen": 2}}
    document = {**HEAD}
    assert lifted(document, kind.LOGBOOK, 3, steps) == {"format": "saltwright-log", "schema": 3, "seen": 2}
    assert sorted(kind.STEPS) == list(range(1, kind.SCHEMA))
