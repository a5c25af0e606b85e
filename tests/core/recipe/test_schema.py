"""The published schema: equal to what the records say, and in agreement with the reader."""

from __future__ import annotations

import json
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from msgspec import inspect, structs

from core.recipe.meanings import MEANINGS
from core.recipe.ranges import RANGES
from core.recipe.records import Recipe
from core.recipe.schema import FILE_NAME, schema_text

GOLDEN = Path(__file__).parent / "golden" / "recipe-1.saltwright"


@pytest.fixture(scope="module")
def published() -> dict[str, Any]:
    return json.loads(files("resources.schema").joinpath(FILE_NAME).read_text("utf-8"))


def records_of(kind: inspect.Type) -> set[type]:
    """Return every record class met below a type."""
    match kind:
        case inspect.StructType(cls=cls, fields=fields):
            return {cls}.union(*(records_of(field.type) for field in fields))
        case inspect.VarTupleType(item_type=member) | inspect.DictType(value_type=member):
            return records_of(member)
        case inspect.UnionType(types=members):
            return set().union(*map(records_of, members))
    return set()


RECORDS = sorted(records_of(inspect.type_info(Recipe)), key=lambda record: record.__name__)


def test_file_equals_the_records() -> None:
    """Regenerate with: write core.recipe.schema.schema_text() to resources/schema/recipe-1.schema.json."""
    assert files("resources.schema").joinpath(FILE_NAME).read_text("utf-8") == schema_text()


def test_is_a_schema_and_takes_the_golden_file(published: dict[str, Any]) -> None:
    Draft202012Validator.check_schema(published)
    Draft202012Validator(published).validate(json.loads(GOLDEN.read_bytes()))


@pytest.mark.parametrize("record", RECORDS)
def test_every_field_has_a_meaning_and_a_default_or_is_required(record: type, published: dict[str, Any]) -> None:
    shape = published["$defs"][record.__name__]
    assert set(shape["properties"]) == set(MEANINGS[record])
    for name, declared in shape["properties"].items():
        assert declared["description"]
        assert ("default" in declared) != (name in shape.get("required", []))
    assert shape["additionalProperties"] is False


def test_only_three_fields_are_required(published: dict[str, Any]) -> None:
    assert published["$defs"]["Recipe"]["required"] == ["format", "schema", "shelf"]


@pytest.mark.parametrize("record", RECORDS)
def test_every_number_has_a_range(record: type) -> None:
    numbers = {info.name for info in structs.fields(record) if info.type in (float, int, float | None)}
    assert set(RANGES.get(record, {})) == numbers


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
