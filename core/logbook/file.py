"""The logbook's file: UTF-8 JSON, strict, one line per entry and per batch; refused in one clear sentence."""

from __future__ import annotations

import os
from collections.abc import Sequence
from functools import cache
from typing import Any

import msgspec
from msgspec import Struct, inspect, structs

from core.logbook import kind
from core.logbook.checks import check
from core.logbook.records import Logbook, Reservoir
from core.recipe.errors import RecipeError
from core.recipe.migrations import lifted
from core.recipe.reader import read_whole
from core.recipe.shape import check_shape
from core.recipe.strict_json import parse

ENDING = ".saltwright-log"


@cache
def logbook_type() -> inspect.Type:
    """Return the logbook's type as a tree that can be walked beside a document."""
    return inspect.type_info(Logbook)


def load(path: str | os.PathLike[str]) -> Logbook:
    """Open the logbook at this path; the file is only read.

    Raises
    ------
    RecipeError : the file cannot be read, or is refused (see `loads`).
    """
    where = os.fspath(path)
    return loads(read_whole(where, kind.LOGBOOK), where)


def loads(data: bytes, where: str = "") -> Logbook:
    """Return the logbook these bytes hold, migrated to the newest schema and checked.

    Parameters
    ----------
    data : a UTF-8 JSON document, at most 20 MB; a byte order mark is skipped
    where : the file's name for the message, if there is one

    Raises
    ------
    RecipeError : one sentence that says what, where and how to mend it.
    """
    try:
        document = lifted(parse(data, kind.LOGBOOK), kind.LOGBOOK, kind.SCHEMA, kind.STEPS)
        check_shape(document, logbook_type())
        logbook = msgspec.convert(document, Logbook)
        check(logbook)
    except RecipeError as error:
        error.where = where
        raise
    return logbook


def dumps(logbook: Logbook) -> bytes:
    """Return the logbook as a file's bytes, the same for the same logbook every time.

    Fields left at their default are left out; the last byte is a newline.

    Raises
    ------
    RecipeError : a number is not finite, which no file can hold.
    """
    head = {"format": logbook.format, "schema": logbook.schema} | ({"title": logbook.title} if logbook.title else {})
    groups = [f"{_json(name)}: {_json(value)}" for name, value in head.items()]
    groups.append(f'"batches": {_lines(logbook.batches, " ")}')
    groups.append('"reservoirs": ' + _list([_reservoir(one) for one in logbook.reservoirs], " "))
    data = ("{\n" + ",\n".join(f" {group}" for group in groups) + "\n}\n").encode()
    if not _comes_back(data, logbook):
        raise RecipeError("holds a number that is not finite", "correct that number before saving")
    return data


def _comes_back(data: bytes, logbook: Logbook) -> bool:
    """Whether the bytes hold this very logbook; a number that is not finite is written as null."""
    try:
        return msgspec.json.decode(data, type=Logbook) == logbook
    except msgspec.ValidationError:
        return False


def _reservoir(reservoir: Reservoir) -> str:
    """A reservoir with its diary, a line per entry."""
    own = _json(structs.replace(reservoir, entries=()))
    if not reservoir.entries:
        return own
    return f'{own[:-1]},"entries":{_lines(reservoir.entries, "  ")}}}'


def _lines(records: Sequence[Struct], indent: str) -> str:
    return _list([_json(record) for record in records], indent)


def _list(texts: list[str], indent: str) -> str:
    if not texts:
        return "[]"
    return "[\n" + ",\n".join(f"{indent} {text}" for text in texts) + f"\n{indent}]"


def _json(value: Any) -> str:
    return msgspec.json.encode(value).decode()
