"""Older files made new: one function per schema step, and newer files refused by name."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from core.recipe.errors import RecipeError

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
    """Return the document lifted to `SCHEMA`; its format and schema are checked first.

    Raises
    ------
    RecipeError : not a recipe, no usable schema number, or a newer schema than this program reads.
    """
    _check_format(document)
    schema = _schema(document)
    while schema < SCHEMA:
        document = {**STEPS[schema](document), "schema": schema + 1}
        schema += 1
    return document


def _check_format(document: Document) -> None:
    mend = 'choose a recipe file; it says "format": "saltwright-recipe" at its top'
    if not isinstance(document, dict):
        raise RecipeError("is JSON but no recipe", mend)
    if document.get("format") != "saltwright-recipe":
        what = "another" if "format" in document else "no"
        raise RecipeError(f"is JSON but no recipe, it names {what} format", mend)


def _schema(document: Document) -> int:
    schema = document.get("schema")
    if type(schema) is not int or schema < 1:
        raise RecipeError("must be a whole number from 1", f"write {SCHEMA}", ("schema",))
    if schema > SCHEMA:
        raise RecipeError(
            f"was written by a newer Saltwright (schema {schema}); this one reads up to {SCHEMA}",
            "open it with that one",
        )
    return schema
