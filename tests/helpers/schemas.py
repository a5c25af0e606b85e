"""What holds for every published schema: it is the records', and it says all of every field."""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any

from jsonschema import Draft202012Validator
from msgspec import inspect, structs


def published(file_name: str) -> dict[str, Any]:
    """Return a published schema."""
    return json.loads(published_text(file_name))


def published_text(file_name: str) -> str:
    """Return a published schema as it is written."""
    return files("resources.schema").joinpath(file_name).read_text("utf-8")


def takes(schema: dict[str, Any], document: bytes) -> bool:
    """Return whether a schema, which must be one, takes a file."""
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema).is_valid(json.loads(document))


def records_below(record: type) -> list[type]:
    """Return every record class met below one, by name."""
    return sorted(_records_of(inspect.type_info(record)), key=lambda found: found.__name__)


def _records_of(kind: inspect.Type) -> set[type]:
    match kind:
        case inspect.StructType(cls=cls, fields=fields):
            return {cls}.union(*(_records_of(field.type) for field in fields))
        case inspect.VarTupleType(item_type=member) | inspect.DictType(value_type=member):
            return _records_of(member)
        case inspect.UnionType(types=members):
            return set().union(*map(_records_of, members))
    return set()


def numbers_of(record: type) -> set[str]:
    """Return the names of a record's numbers, tables of numbers among them."""
    return {info.name for info in structs.fields(record) if "float" in str(info.type) or info.type is int}


def assert_says_all(shape: dict[str, Any], meanings: dict[str, str]) -> None:
    """Assert that every field has its meaning, is required or has a default, and that there are no others."""
    assert set(shape["properties"]) == set(meanings)
    for name, declared in shape["properties"].items():
        assert declared["description"]
        assert ("default" in declared) != (name in shape.get("required", []))
    assert shape["additionalProperties"] is False
