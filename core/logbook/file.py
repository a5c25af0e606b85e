"""The logbook's file: UTF-8 JSON, strict, at most 20 MB; refused in one clear sentence like a recipe."""

from __future__ import annotations

import msgspec

from core.logbook.records import Logbook
from core.recipe import RecipeError

MAX_BYTES = 20_000_000
ENDING = ".saltwright-log"


def loads(data: bytes, where: str = "") -> Logbook:
    """Return the logbook these bytes hold.

    Raises
    ------
    RecipeError : one sentence that says what, where and how to mend it.
    """
    if len(data) > MAX_BYTES:
        raise RecipeError(
            f"is {len(data) / 1e6:.0f} MB, and a logbook is at most 20 MB", "choose a logbook", where=where
        )
    try:
        return msgspec.json.decode(data, type=Logbook)
    except msgspec.MsgspecError as error:
        raise RecipeError(f"is no logbook: {error}", "choose a logbook file", where=where) from None


def dumps(logbook: Logbook) -> bytes:
    """Return the logbook as a file's bytes, the same for the same logbook every time."""
    plain = {"format": logbook.format, "schema": logbook.schema, **msgspec.to_builtins(logbook)}
    return msgspec.json.format(msgspec.json.encode(plain), indent=1) + b"\n"
