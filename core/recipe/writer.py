"""Writing a recipe: UTF-8 JSON for people and programs, the same bytes for the same recipe every time."""

from __future__ import annotations

import json
from typing import Any

from msgspec import NODEFAULT, Struct, structs

from core.recipe.errors import RecipeError
from core.recipe.records import Recipe
from core.recipe.shape import fields_of

LINE_LENGTH = 100
LARGEST_PLAIN_INTEGER = 1e15
_INDENT = "  "
_FIRST_NAMES = (
    "format", "schema", "title", "parent", "currency", "aim", "water", "second_water", "second_water_share_percent",
)  # fmt: skip


def dumps(recipe: Recipe) -> bytes:
    """Return the recipe as a file's bytes: fields left at their default are left out, the last byte is a newline.

    Numbers are the shortest that read back as the same number; a group that fits stands on one line.

    Raises
    ------
    RecipeError : a number is not finite, which no file can hold.
    """
    document = plain(recipe)
    leading = {name: document.pop(name) for name in _FIRST_NAMES if name in document}
    try:
        text = _laid_out({**leading, **document}, 0, 0)
    except ValueError:
        raise RecipeError("holds a number that is not finite", "correct that number before saving") from None
    return (text + "\n").encode("utf-8", errors="backslashreplace")  # \udc80 is also JSON's own spelling of it


def plain(value: Any) -> Any:
    """Return records as plain JSON values without the fields that equal their default."""
    if isinstance(value, Struct):
        fields = [(info, getattr(value, info.name)) for info in fields_of(type(value))]
        return {info.encode_name: plain(member) for info, member in fields if member != _default(info)}
    if isinstance(value, dict):
        return {name: plain(member) for name, member in value.items()}
    if isinstance(value, tuple):
        return [plain(member) for member in value]
    if isinstance(value, float) and value.is_integer() and abs(value) < LARGEST_PLAIN_INTEGER:
        return int(value)  # 128.0 is written 128
    return value


def _default(info: structs.FieldInfo) -> Any:
    return info.default_factory() if info.default_factory is not NODEFAULT else info.default


def _laid_out(value: Any, depth: int, used: int) -> str:
    """Lay a value out as JSON; `used` is how much of the line stands before it."""
    line = _on_one_line(value)
    if not value or not isinstance(value, dict | list) or depth * len(_INDENT) + used + len(line) < LINE_LENGTH:
        return line
    inner = "\n" + _INDENT * (depth + 1)
    members = _members(value)
    body = ",".join(f"{inner}{name}{_laid_out(member, depth + 1, len(name))}" for name, member in members)
    opening, closing = "{}" if isinstance(value, dict) else "[]"
    return f"{opening}{body}\n{_INDENT * depth}{closing}"


def _members(value: Any) -> list[tuple[str, Any]]:
    if isinstance(value, dict):
        return [(f"{_on_one_line(name)}: ", member) for name, member in value.items()]
    return [("", member) for member in value]


def _on_one_line(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)
