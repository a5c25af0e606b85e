"""The published schema of the logbook: equal to what the records say, and in agreement with the reader."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from core.logbook.ranges import LOG_RANGES
from core.logbook.records import Logbook
from core.logbook.schema import FILE_NAME, LOG_MEANINGS, schema_text
from tests.helpers import schemas

GOLDEN = Path(__file__).parent / "golden" / "log-1.saltwright-log"
RECORDS = pytest.mark.parametrize("record", schemas.records_below(Logbook))


@pytest.fixture(scope="module")
def published() -> dict[str, Any]:
    return schemas.published(FILE_NAME)


def test_file_equals_the_records() -> None:
    """Regenerate with: write core.logbook.schema.schema_text() to resources/schema/log-1.schema.json."""
    assert schemas.published_text(FILE_NAME) == schema_text()


def test_is_a_schema_and_takes_the_golden_file(published: dict[str, Any]) -> None:
    assert schemas.takes(published, GOLDEN.read_bytes())


@RECORDS
def test_every_field_has_a_meaning_and_a_default_or_is_required(record: type, published: dict[str, Any]) -> None:
    schemas.assert_says_all(published["$defs"][record.__name__], LOG_MEANINGS[record])


@RECORDS
def test_every_number_has_a_range(record: type) -> None:
    assert set(LOG_RANGES.get(record, {})) == schemas.numbers_of(record)


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
