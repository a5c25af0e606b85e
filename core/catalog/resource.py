"""Reads the catalog's files, decoded strictly, and the list of their sources."""

from __future__ import annotations

from functools import cache
from pkgutil import get_data
from typing import Literal, TypeVar

import msgspec

T = TypeVar("T")

HowKnown = Literal["READ", "READ-2", "DERIVED", "MEMORY", "INVENTED"]
"""READ: seen in the source; READ-2: seen as quoted by another; DERIVED: worked out from values that were read;
MEMORY: recalled, the source itself not seen; INVENTED: made up as a typical case."""


class Source(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A source of catalog values; `where` is the journal, table or page within it."""

    author: str
    title: str
    year: int | None = None
    where: str = ""


class Known(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """Where a value comes from: the key of its source, how it is known, and what else to know about it."""

    source: str
    how_known: HowKnown
    note: str = ""


def read(name: str, shape: type[T]) -> T:
    """Decode the catalog file `name` into `shape`.

    Raises FileNotFoundError where it is not there, msgspec.ValidationError where it does not fit. pkgutil serves the
    purpose of importlib.resources, which alone takes 15 ms to import.
    """
    content = get_data("resources.catalog", name)
    if content is None:
        raise FileNotFoundError(name)
    return msgspec.json.decode(content, type=shape)


@cache
def sources() -> dict[str, Source]:
    """Return every source by its key. The dict is shared: do not change it."""
    return read("sources.json", dict[str, Source])
