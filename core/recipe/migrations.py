"""Older files made new: one function per schema step, and newer files refused by name."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from core.phrase import Phrase
from core.recipe.errors import RecipeError
from core.recipe.kinds import RECIPE, FileKind

SCHEMA = 1
"""The newest schema this program reads, and the only one it writes."""

Document = dict[str, Any]
Step = Callable[[Document], Document]
STEPS: dict[int, Step] = {}
"""Schema number -> the step that lifts a document from it to the next."""


def migrates(old: int, new: int) -> Callable[[Step], Step]:
    """Register a function that turns a document of schema `old` into one of `new` (always old + 1)."""
    if new != old + 1 or old in STEPS:
        raise ValueError(f"no step from schema {old} to {new}: steps go up by one and each stands once")

    def register(step: Step) -> Step:
        STEPS[old] = step
        return step

    return register


def migrated(document: Document) -> Document:
    """Return the recipe's document lifted to `SCHEMA`; its format and schema are checked first.

    Raises
    ------
    RecipeError : not a recipe, no usable schema number, or a newer schema than this program reads.
    """
    return lifted(document, RECIPE, SCHEMA, STEPS)


def lifted(document: Document, kind: FileKind, newest: int, steps: dict[int, Step]) -> Document:
    """Return a document of any kind of file lifted to the newest schema, step by step.

    Raises
    ------
    RecipeError : not of this kind, no usable schema number, or a newer schema than this program reads.
    """
    _check_format(document, kind)
    schema = _schema(document, newest)
    while schema < newest:
        document = {**steps[schema](document), "schema": schema + 1}
        schema += 1
    return document


def _check_format(document: Document, kind: FileKind) -> None:
    if not isinstance(document, dict):
        raise RecipeError(kind.no_such, kind.choose_format)
    if document.get("format") != kind.format:
        raise RecipeError(kind.another_format if "format" in document else kind.no_format, kind.choose_format)


def _schema(document: Document, newest: int) -> int:
    schema = document.get("schema")
    if type(schema) is not int or schema < 1:
        raise RecipeError("must be a whole number from 1", Phrase("write {wanted}", wanted=newest), ("schema",))
    if schema > newest:
        raise RecipeError(
            Phrase(
                "was written by a newer Saltwright (schema {schema}); this one reads up to {newest}",
                schema=schema,
                newest=newest,
            ),
            "open it with that one",
        )
    return schema
