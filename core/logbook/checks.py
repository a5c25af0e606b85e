"""What a well-formed logbook must also obey: dates, order, names that are unique, and batches that are there."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import datetime
from typing import Any

from msgspec import Struct, to_builtins

from core.logbook.kind import LOGBOOK
from core.logbook.ranges import LOG_RANGES
from core.logbook.records import Entry, Logbook, MadeBatch, Reservoir
from core.phrase import Phrase
from core.recipe.checks import RULES, TANK_LETTERS, Rule, check_record, first_repeated
from core.recipe.errors import Path, RecipeError, quoted
from core.recipe.records import NUTRIENTS
from core.recipe.shape import close_match
from core.recipe.strict_json import check_values

BEFORE_TANKS = ("water", "reservoir")
"""Where a weighed product may go that goes into no tank."""

_MOMENT = re.compile(r"\d{4}-\d\d-\d\d(T\d\d:\d\d)?")


def check(logbook: Logbook, known: Logbook | None = None) -> None:
    """Refuse a logbook that a file could not hold or the forecast could not mean.

    Parameters
    ----------
    logbook : Logbook
    known : a logbook that was checked already; the very records of it are not looked at again, so that one more
        entry in a diary of thousands costs nothing

    Raises
    ------
    RecipeError : the first thing found, with its place and how to mend it.
    """
    seen = set() if known is None else {id(record) for _path, record in _parts(known)}
    check_values(logbook.title, ("title",))
    for path, record in _parts(logbook):
        if id(record) not in seen:
            check_values(to_builtins(_own(record)), path, LOGBOOK.most_members)
            check_record(_own(record), path, LOG_RANGES, _RULES)
    _check_whole(logbook)


def check_entry(entry: Entry) -> None:
    """Refuse an entry by itself; whether its batch is there only the whole logbook tells.

    Raises
    ------
    RecipeError : the first thing found, with its field.
    """
    check_values(to_builtins(entry), (), LOGBOOK.most_members)
    check_record(entry, (), LOG_RANGES, _RULES)


def _parts(logbook: Logbook) -> Iterable[tuple[Path, Struct]]:
    """Every record that is exchanged as a whole, with its place."""
    for number, batch in enumerate(logbook.batches):
        yield ("batches", number), batch
    for number, reservoir in enumerate(logbook.reservoirs):
        yield ("reservoirs", number), reservoir
        for line, entry in enumerate(reservoir.entries):
            yield ("reservoirs", number, "entries", line), entry


def _own(record: Struct) -> Struct:
    """A reservoir without its entries, which are looked at one by one; anything else as it is."""
    if not isinstance(record, Reservoir):
        return record
    return Reservoir(record.name, record.volume_l, record.water)


def _check_whole(logbook: Logbook) -> None:
    _check_unique((batch.batch_id for batch in logbook.batches), "batches", "batch_id")
    _check_unique((reservoir.name for reservoir in logbook.reservoirs), "reservoirs", "name")
    batches = {batch.batch_id: batch for batch in logbook.batches}
    for number, reservoir in enumerate(logbook.reservoirs):
        before = ""
        for line, entry in enumerate(reservoir.entries):
            path: Path = ("reservoirs", number, "entries", line)
            if entry.at < before:
                raise RecipeError("is earlier than the entry before it", "put the entries in order of time", path)
            before = entry.at
            if entry.batch_id or entry.parts_ml or entry.acid_ml:
                _check_poured(entry, batches, path)


def _check_unique(names: Iterable[str], group: str, field: str) -> None:
    repeated = first_repeated(names)
    if repeated is not None:
        index, name = repeated
        raise RecipeError(Phrase("repeats {name}", name=quoted(name)), "give each its own", (group, index, field))


def _check_poured(entry: Entry, batches: dict[str, MadeBatch], path: Path) -> None:
    batch = batches.get(entry.batch_id)
    if batch is None:
        what = Phrase("names the batch {batch}, which is not in this logbook", batch=quoted(entry.batch_id))
        if not entry.batch_id:
            what = Phrase("pours of no batch")
        mend = close_match(entry.batch_id, batches) or Phrase("name a batch of this logbook by its batch_id")
        raise RecipeError(what, mend, (*path, "batch_id"))
    _check_names(entry.parts_ml, _letters(batch), (*path, "parts_ml"))
    _check_names(entry.acid_ml, [one.key for one in batch.recipe.shelf], (*path, "acid_ml"))


def _check_names(given: Iterable[str], known: Iterable[str], path: Path) -> None:
    known = tuple(known)
    for name in given:
        if name not in known:
            mend = close_match(name, known) or Phrase("known are {names}", names=", ".join(known))
            raise RecipeError(Phrase("holds the unknown name {name}", name=quoted(name)), mend, path)


def _letters(batch: MadeBatch) -> str:
    return TANK_LETTERS[: batch.recipe.tanks.count]


def _check_entry(entry: Entry, path: Path) -> None:
    _check_time(entry.at, (*path, "at"))
    _check_names(entry.analysis_mg_per_l, NUTRIENTS, (*path, "analysis_mg_per_l"))


def _check_reservoir(reservoir: Reservoir, path: Path) -> None:
    if not reservoir.name.strip():
        raise RecipeError("is empty", "give the reservoir a name", (*path, "name"))


def _check_batch(batch: MadeBatch, path: Path) -> None:
    if not batch.batch_id.strip():
        raise RecipeError("is empty", "give the batch a name of its own", (*path, "batch_id"))
    _check_time(batch.mixed_on, (*path, "mixed_on"))
    _check_names(batch.tank_volume_l, _letters(batch), (*path, "tank_volume_l"))
    tanks, shelf = (*_letters(batch), *BEFORE_TANKS), [one.key for one in batch.recipe.shelf]
    for number, weighed in enumerate(batch.weighed):
        _check_names([weighed.tank], tanks, (*path, "weighed", number, "tank"))
        _check_names([weighed.entry_id], shelf, (*path, "weighed", number, "entry_id"))


def _check_time(text: str, path: Path) -> None:
    try:
        if _MOMENT.fullmatch(text) is None or not text.isascii():
            raise ValueError(text)
        datetime.fromisoformat(text)
    except ValueError:
        what = Phrase("is {date}, no date or time", date=quoted(text))
        raise RecipeError(what, "write it as 2026-06-01T08:30", path) from None


_OWN: dict[type, Any] = {Entry: _check_entry, Reservoir: _check_reservoir, MadeBatch: _check_batch}
_RULES: dict[type, Rule] = RULES | _OWN
