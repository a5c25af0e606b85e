"""The published schema: equal to what the records say, and in agreement with the reader."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from core.recipe.meanings import MEANINGS
from core.recipe.ranges import RANGES
from core.recipe.records import Recipe
from core.recipe.schema import FILE_NAME, schema_text
from tests.helpers import schemas

GOLDEN = Path(__file__).parent / "golden" / "recipe-1.saltwright"
RECORDS = pytest.mark.parametrize("record", schemas.records_below(Recipe))


@pytest.fixture(scope="module")
def published() -> dict[str, Any]:
    return schemas.published(FILE_NAME)


def test_file_equals_the_records() -> None:
    """Regenerate with: write core.recipe.schema.schema_text() to resources/schema/recipe-1.schema.json."""
    assert schemas.published_text(FILE_NAME) == schema_text()


def test_is_a_schema_and_takes_the_golden_file(published: dict[str, Any]) -> None:
    assert schemas.takes(published, GOLDEN.read_bytes())


@RECORDS
def test_every_field_has_a_meaning_and_a_default_or_is_required(record: type, published: dict[str, Any]) -> None:
    schemas.assert_says_all(published["$defs"][record.__name__], MEANINGS[record])


def test_only_three_fields_are_required(published: dict[str, Any]) -> None:
    assert published["$defs"]["Recipe"]["required"] == ["format", "schema", "shelf"]


@RECORDS
def test_every_number_has_a_range(record: type) -> None:
    assert set(RANGES.get(record, {})) == schemas.numbers_of(record)


@pytest.mark.parametrize(
    "change",
    [
        {"shelf": []},
        {"schema": 2},
        {"odd": 1},
        {"aim": {"ph": 15}},
        {"title": "x" * 201},
        {"tanks": {"count": 5}},
        {"water": {"mg_per_l": {"Ca": -1}}},
    ],
)
def test_refuses_what_the_reader_refuses(change: dict[str, Any], published: dict[str, Any]) -> None:
    document = {"format": "saltwright-recipe", "schema": 1, "shelf": [{"salt": "urea"}], **change}
    assert not Draft202012Validator(published).is_valid(document)
