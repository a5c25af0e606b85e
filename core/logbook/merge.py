"""Two changes of one logbook made apart, brought together: nothing either side wrote is lost."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from typing import TypeVar

import msgspec
from msgspec import structs

from core.logbook.records import Entry, Logbook, MadeBatch, Reservoir
from core.phrase import Phrase

Member = TypeVar("Member", MadeBatch, Reservoir)
Value = TypeVar("Value")


class Conflict(ValueError):
    """Both sides changed the same thing in two ways; `str()` is a phrase that names it."""


def merged(base: Logbook, mine: Logbook, theirs: Logbook) -> Logbook:
    """Return their logbook with what I changed since the base.

    Entries are added and taken out one by one, so that two people who write into one diary both find their lines
    in it; an entry both changed stays in both versions.

    Parameters
    ----------
    base : what both started from
    mine, theirs : what became of it

    Raises
    ------
    Conflict : a title, a batch or a reservoir's own fields were changed in two ways.
    """
    if theirs == base:
        return mine
    if mine == base:
        return theirs
    return structs.replace(
        theirs,
        title=_chosen(base.title, mine.title, theirs.title, Phrase("title")),
        batches=_members(base.batches, mine.batches, theirs.batches, lambda batch: batch.batch_id, _batch),
        reservoirs=_members(base.reservoirs, mine.reservoirs, theirs.reservoirs, lambda one: one.name, _reservoir),
    )


def with_entry(reservoir: Reservoir, entry: Entry) -> Reservoir:
    """Return the reservoir with an entry in its place by time, after those of the same time."""
    return structs.replace(reservoir, entries=in_order((*reservoir.entries, entry)))


def in_order(entries: Sequence[Entry]) -> tuple[Entry, ...]:
    """Return entries in order of time; those of the same time stay as they stood."""
    return tuple(sorted(entries, key=lambda entry: entry.at))


def _members(
    base: tuple[Member, ...],
    mine: tuple[Member, ...],
    theirs: tuple[Member, ...],
    name_of: Callable[[Member], str],
    both: Callable[[Member | None, Member | None, Member | None, str], Member | None],
) -> tuple[Member, ...]:
    """Every member under its name, in their order and then in mine."""
    sides = [{name_of(member): member for member in side} for side in (base, mine, theirs)]
    names = dict.fromkeys((*map(name_of, theirs), *map(name_of, mine)))
    found = (both(sides[0].get(name), sides[1].get(name), sides[2].get(name), name) for name in names)
    return tuple(member for member in found if member is not None)


def _batch(base: MadeBatch | None, mine: MadeBatch | None, theirs: MadeBatch | None, name: str) -> MadeBatch | None:
    return _chosen(base, mine, theirs, name)


def _reservoir(base: Reservoir | None, mine: Reservoir | None, theirs: Reservoir | None, name: str) -> Reservoir | None:
    if base is None or mine is None or theirs is None:
        return _chosen(base, mine, theirs, name)
    bare = [structs.replace(one, entries=()) for one in (base, mine, theirs)]
    entries = _entries(base.entries, mine.entries, theirs.entries)
    return structs.replace(_chosen(bare[0], bare[1], bare[2], name), entries=entries)


def _entries(base: tuple[Entry, ...], mine: tuple[Entry, ...], theirs: tuple[Entry, ...]) -> tuple[Entry, ...]:
    if mine == base:
        return theirs
    before, after = Counter(map(_key, base)), Counter(map(_key, mine))
    removed, added = before - after, after - before
    kept = []
    for entry in theirs:
        if removed[_key(entry)] > 0:
            removed[_key(entry)] -= 1
        else:
            kept.append(entry)
    for entry in mine:
        if added[_key(entry)] > 0:
            added[_key(entry)] -= 1
            kept.append(entry)
    return in_order(kept)


def _key(entry: Entry) -> bytes:
    return msgspec.json.encode(entry)


def _chosen(base: Value, mine: Value, theirs: Value, name: str) -> Value:
    """The side that changed; both may have changed it in the same way."""
    if mine in (base, theirs):
        return theirs
    if theirs == base:
        return mine
    raise Conflict(name)
