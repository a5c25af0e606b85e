"""Names and types of plain JSON values against the records, with a sentence that names the slip."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from functools import cache
from typing import Any

from msgspec import Struct, inspect, structs

from core.phrase import Phrase
from core.recipe.errors import Path, RecipeError, quoted
from core.recipe.records import Recipe

_KINDS = {
    dict: Phrase("a group of fields"),
    list: Phrase("a list"),
    str: Phrase("text"),
    bool: Phrase("true or false"),
    type(None): Phrase("null"),
}


@cache
def recipe_type() -> inspect.Type:
    """Return the recipe's type as a tree that can be walked beside a document."""
    return inspect.type_info(Recipe)


@cache
def fields_of(record: type[Struct]) -> tuple[structs.FieldInfo, ...]:
    """Return a record's fields; kept, because msgspec works them out anew at every call (about 0.2 ms)."""
    return structs.fields(record)


def check_shape(value: Any, kind: inspect.Type, path: Path = ()) -> None:
    """Refuse unknown and missing names, wrong types and words outside a closed list.

    Raises
    ------
    RecipeError : naming the place, what stands there and, where one is near, the name that was meant.
    """
    match kind:
        case inspect.UnionType():
            _check_optional(value, kind, path)
        case inspect.StructType():
            _check_struct(value, kind, path)
        case inspect.VarTupleType(item_type=member_type):
            _expect(isinstance(value, list), Phrase("a list in [ ]"), value, path)
            for index, member in enumerate(value):
                check_shape(member, member_type, (*path, index))
        case inspect.DictType(key_type=name_type, value_type=member_type):
            _expect(isinstance(value, dict), Phrase("a group of fields in { }"), value, path)
            for name, member in value.items():
                _check_name(name, name_type, path)
                check_shape(member, member_type, (*path, name))
        case inspect.LiteralType(values=words):
            _check_word(value, words, path)
        case _:
            _check_scalar(value, kind, path)


def close_match(word: str, known: Iterable[str]) -> str:
    """Return the mending hint "did you mean ...?" for a misspelt word, or an empty text where nothing is near."""
    by_folded = {name.casefold(): name for name in known}
    near = difflib.get_close_matches(word.casefold(), by_folded, n=1, cutoff=0.6)
    return Phrase('did you mean "{word}"?', word=by_folded[near[0]]) if near else ""


def _check_optional(value: Any, kind: inspect.UnionType, path: Path) -> None:
    if value is not None:
        (stated,) = (member for member in kind.types if not isinstance(member, inspect.NoneType))
        check_shape(value, stated, path)


def _check_struct(value: Any, kind: inspect.StructType, path: Path) -> None:
    _expect(isinstance(value, dict), Phrase("a group of fields in { }"), value, path)
    fields = {field.encode_name: field for field in kind.fields}
    for name in value:
        if name not in fields:
            raise RecipeError(
                Phrase("holds the unknown name {name}", name=quoted(name)), _name_hint(name, fields), path
            )
    for name, field in fields.items():
        if name in value:
            check_shape(value[name], field.type, (*path, name))
        elif field.required:
            raise RecipeError(Phrase('lacks "{name}"', name=name), "add it", path)


def _check_name(name: str, kind: inspect.Type, path: Path) -> None:
    """Refuse a name outside a closed list of names."""
    if isinstance(kind, inspect.LiteralType) and name not in kind.values:
        known = tuple(map(str, kind.values))
        raise RecipeError(Phrase("holds the unknown name {name}", name=quoted(name)), _name_hint(name, known), path)


def _name_hint(name: str, fields: Iterable[str]) -> str:
    return close_match(name, fields) or Phrase("known are {names}", names=", ".join(fields))


def _check_word(value: Any, words: tuple[Any, ...], path: Path) -> None:
    if any(type(value) is type(word) and value == word for word in words):
        return
    shown = quoted(value) if isinstance(value, str) else _kind_of(value)
    hint = close_match(value, words) if isinstance(value, str) else ""
    raise RecipeError(
        Phrase("must be one of {words}, not {found}", words=_listed(words), found=shown),
        hint or Phrase("use one of these"),
        path,
    )


def _listed(words: tuple[Any, ...]) -> str:
    return ", ".join(f'"{word}"' if isinstance(word, str) else str(word) for word in words)


def _check_scalar(value: Any, kind: inspect.Type, path: Path) -> None:
    match kind:
        case inspect.FloatType():
            _expect(isinstance(value, int | float) and not isinstance(value, bool), Phrase("a number"), value, path)
        case inspect.IntType():
            _expect(type(value) is int, Phrase("a whole number"), value, path)
        case inspect.BoolType():
            _expect(isinstance(value, bool), Phrase("true or false"), value, path)
        case _:
            _expect(isinstance(value, str), Phrase("text"), value, path)


def _expect(fits: bool, wanted: str, value: Any, path: Path) -> None:
    if not fits:
        raise RecipeError(
            Phrase("must be {wanted}, not {found}", wanted=wanted, found=_kind_of(value)),
            Phrase("write {wanted}", wanted=wanted),
            path,
        )


def _kind_of(value: Any) -> str:
    if isinstance(value, str):
        return Phrase("the text {text}", text=quoted(value))
    if isinstance(value, int | float) and not isinstance(value, bool):
        return Phrase("the number {number:g}", number=value)
    return next(words for kind, words in _KINDS.items() if isinstance(value, kind))
