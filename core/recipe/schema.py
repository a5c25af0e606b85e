"""The published JSON Schema of a recipe, generated from the records, their ranges and their meanings."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

import msgspec

from core.recipe.meanings import MEANINGS
from core.recipe.migrations import SCHEMA
from core.recipe.ranges import RANGES, Range
from core.recipe.records import Recipe
from core.recipe.strict_json import MAX_MEMBERS, MAX_TEXT

FILE_NAME = f"recipe-{SCHEMA}.schema.json"

Spans = Mapping[str, Range]
"""Field -> lowest and highest number, and the unit."""


def schema_text() -> str:
    """Return the text of resources/schema/recipe-<n>.schema.json; a test holds the file to it."""
    made = described(Recipe, MEANINGS, RANGES, MAX_MEMBERS)
    made["$defs"]["Recipe"]["properties"]["shelf"]["minItems"] = 1
    head = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"Saltwright recipe, schema {SCHEMA}",
        "description": "UTF-8 JSON, at most 1 MB. Names, types and ranges stand here; the program also refuses fields "
        "that contradict each other.",
    }
    return json.dumps({**head, **made}, indent=1, ensure_ascii=False) + "\n"


def described(
    document: type, meanings: Mapping[type, Mapping[str, str]], ranges: Mapping[type, Spans], most_members: int
) -> dict[str, Any]:
    """Return the JSON Schema of a document with the meaning and the range of every field of every record in it."""
    made = msgspec.json.schema(document)
    for record, of_fields in meanings.items():
        properties = made["$defs"][record.__name__]["properties"]
        _describe(record, of_fields, properties, ranges.get(record, {}), most_members)
    return made


def _describe(
    record: type, meanings: Mapping[str, str], properties: dict[str, Any], spans: Spans, most_members: int
) -> None:
    """Add meaning, range and greatest length to every property of one record."""
    names = {info.encode_name: info.name for info in msgspec.structs.fields(record)}
    for name, meaning in meanings.items():
        declared = properties[name]
        span = spans.get(names[name])
        for branch in declared.get("anyOf", [declared]):
            _bound(branch, span, most_members)
        properties[name] = {"description": f"{meaning} {_unit(span)}".strip(), **declared}


def _bound(branch: dict[str, Any], span: Range | None, most_members: int) -> None:
    match branch.get("type"):
        case "number" | "integer" if span is not None:
            branch["minimum"], branch["maximum"] = span[0], span[1]
        case "string":
            branch["maxLength"] = MAX_TEXT
        case "array":
            branch["maxItems"] = most_members
        case "object" if span is not None:
            _bound(branch["additionalProperties"], span, most_members)


def _unit(span: Range | None) -> str:
    return f"Unit: {span[2]}." if span is not None and span[2] else ""
