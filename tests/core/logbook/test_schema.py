"""The published schema of the logbook: equal to what the records say, and in agreement with the reader."""

from __future__ import annotations

import json
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from msgspec import inspect, structs

from core.logbook.ranges import LOG_RANGES
from core.logbook.records import Logbook
from core.logbook.schema import FILE_NAME, LOG_MEANINGS, schema_text
from tests.core.recipe.test_schema import records_of

GOLDEN = Path(__file__).parent / "golden" / "log-1.saltwright-log"
RECORDS = sorted(records_of(inspect.type_info(Logbook)), key=lambda record: record.__name__)


@pytest.fixture(scope="module")
def published() -> dict[str, Any]:
    return json.loads(files("resources.schema").joinpath(FILE_NAME).read_text("utf-8"))


def test_file_equals_the_records() -> None:
    """Regenerate with: write core.logbook.schema.schema_text() to resources/schema/log-1.schema.json."""
    assert files("resources.schema").joinpath(FILE_NAME).read_text("utf-8") == schema_text()


def test_is_a_schema_and_takes_the_golden_file(published: dict[str, Any]) -> None:
    Draft202012Validator.check_schema(published)
    Draft202012Validator(published).validate(json.loads(GOLDEN.read_bytes()))


@pytest.mark.parametrize("record", RECORDS)
def test_every_field_has_a_meaning_and_a_default_or_is_required(record: type, published: dict[str, Any]) -> None:
    shape = published["$defs"][record.__name__]
    assert set(shape["properties"]) == set(LOG_MEANINGS[record])
    for name, declared in shape["properties"].items():
        assert declared["description"]
        assert ("default" in declared) != (name in shape.get("required", []))


@pytest.mark.parametrize("record", RECORDS)
def test_every_number_has_a_range(record: type) -> None:
    numbers = {info.name for info in structs.fields(record) if "float" in str(info.type) or info.type is int}
    assert set(LOG_RANGES.get(record, {})) == numbers


@pytest.mark.parametrize(
    "change",
    [
        {"schema": 2},
        {"odd": 1},
        {"title": "x" * 201},
        {"reservoirs": [{"name": "a"}]},
        {"reservoirs": [{"name": "a", "volume_l": 1, "entries": [{"at": "2026-01-01", "ph": 15}]}]},
        {"reservoirs": [{"name": "a", "volume_l": 1, "entries": [{"at": "2026-01-01", "parts_ml": {"A": -1}}]}]},
        {
            "reservoirs": [
                {"name": "a", "volume_l": 1, "entries": [{"at": "2026-01-01", "analysis_mg_per_l": {"X": 1}}]}
            ]
        },
    ],
)
def test_refuses_what_the_reader_refuses(change: dict[str, Any], published: dict[str, Any]) -> None:
    assert not Draft202012Validator(published).is_valid({"format": "saltwright-log", "schema": 1, **change})
