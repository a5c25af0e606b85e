"""What the command `log` answers: the diary, balances and causes as text and as JSON."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from msgspec import to_builtins

from app.headless.output import visible
from app.headless.table import aligned
from app.wording import logbook as say
from app.wording import logbook_causes as causes
from app.wording import logbook_told as told_words
from app.wording.language import gettext as _
from app.wording.phrases import product_name
from app.wording.words import salt_in_sentence

if TYPE_CHECKING:
    from core.logbook.forecast import Foretold
    from core.logbook.records import Entry, Logbook, Reservoir
    from core.logbook.triage_records import Triage

COLUMNS = ("at", "did", "level_l", "ec_ms_per_cm", "foretold", "off", "ph", "note")
RIGHT = frozenset({2, 3, 4, 5, 6})
Names = dict[str, dict[str, str]]


def log_text(logbook: Logbook, reservoir: Reservoir | None, *, uptake: bool, why: bool) -> str:
    """Return a reservoir's diary with what was asked for, or the list of reservoirs."""
    lines = _overview(logbook) if reservoir is None else _diary(logbook, reservoir)
    if reservoir is not None and uptake:
        lines += ["", *_uptakes(logbook, reservoir)]
    if reservoir is not None and why:
        lines += ["", *_causes(logbook, reservoir)]
    return "\n".join(visible(line) for line in lines) + "\n"


def log_json(logbook: Logbook, reservoir: Reservoir | None, *, uptake: bool, why: bool) -> str:
    """Return the same as JSON."""
    document: dict[str, Any] = {
        "title": logbook.title,
        "batches": [
            {"batch_id": one.batch_id, "mixed_on": one.mixed_on, "title": one.recipe.title, "mark": one.mark}
            for one in logbook.batches
        ],
        "reservoirs": [
            {"name": one.name, "volume_l": one.volume_l, "entries": len(one.entries)} for one in logbook.reservoirs
        ],
    }
    if reservoir is not None:
        document["reservoir"] = reservoir.name
        document["entries"] = _entries_json(logbook, reservoir)
        if uptake:
            document["uptake"] = _uptakes_json(logbook, reservoir)
        if why:
            document["why"] = _why_json(logbook, reservoir)
    return json.dumps(document, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def _overview(logbook: Logbook) -> list[str]:
    lines = [say.diary_title(len(one.entries)) + f": {one.name}" for one in logbook.reservoirs]
    return [*(lines or [_("There is no reservoir yet.")]), *(say.batch_line(one) for one in logbook.batches)]


def _diary(logbook: Logbook, reservoir: Reservoir) -> list[str]:
    told, tanks = _from_the_last(logbook, reservoir), _tanks(logbook, reservoir)
    rows = [[say.column(name) for name in COLUMNS]]
    rows += [_row(entry, one, logbook, tanks) for entry, one in zip(reservoir.entries, told, strict=True)]
    doubts = [
        f"{say.when_text(entry.at)}: {say.doubt(code)}"
        for entry, one in zip(reservoir.entries, told, strict=True)
        for code in one.doubts
    ]
    return [reservoir.name, "", *aligned(rows, RIGHT), *(["", *doubts] if doubts else [])]


def _from_the_last(logbook: Logbook, reservoir: Reservoir) -> tuple[Foretold, ...]:
    """What is foretold from the reading before by water and salts alone, as the search for a cause has it."""
    from core.logbook.forecast import forecast

    return forecast(logbook, reservoir)


def _balance(logbook: Logbook, reservoir: Reservoir) -> tuple[Foretold, ...]:
    """The balance since the filling, with what the crop takes as its last two reports tell it."""
    from core.logbook.forecast import forecast
    from core.logbook.uptake import learned_uptake

    return forecast(logbook, reservoir, learned_uptake(logbook, reservoir))


def _row(entry: Entry, told: Foretold, logbook: Logbook, tanks: Names) -> list[str]:
    products = _products(logbook, entry.batch_id)
    return [
        say.when_text(entry.at),
        say.did_text(entry, tanks.get(entry.batch_id, {}), products),
        say.number_text(entry.level_l),
        say.ec_text(entry.ec_ms_per_cm),
        say.ec_text(told.step_ec_ms_per_cm),
        say.off_text(told.step_residual_percent),
        say.ph_text(entry.ph),
        entry.note,
    ]


def _tanks(logbook: Logbook, reservoir: Reservoir) -> Names:
    from core.plan import plan

    used = {entry.batch_id for entry in reservoir.entries}
    return {
        batch.batch_id: {tank.name: say.part_title(tank.content, tank.name) for tank in plan(batch.recipe).tanks}
        for batch in logbook.batches
        if batch.batch_id in used
    }


def _products(logbook: Logbook, batch_id: str) -> dict[str, str]:
    batch = next((one for one in logbook.batches if one.batch_id == batch_id), None)
    if batch is None:
        return {}
    return {
        one.key: salt_in_sentence(one.salt)
        if one.entry_id is None
        else product_name(one.salt, one.key, one.strength_percent)
        for one in batch.recipe.shelf
    }


def _uptakes(logbook: Logbook, reservoir: Reservoir) -> list[str]:
    from core.logbook.uptake import uptakes

    lines = [told_words.uptake_title()]
    for one in uptakes(logbook, reservoir):
        first, last = reservoir.entries[one.start].at, reservoir.entries[one.end].at
        lines.append(told_words.uptake_between(first, last))
        if one.missing:
            lines.append(told_words.uptake_missing(one.missing))
            continue
        lines.append(told_words.uptake_spent(one))
        rows = [["", *told_words.uptake_columns()], *(list(told_words.uptake_row(row)) for row in one.taken)]
        lines += aligned(rows, frozenset({1, 2, 3}), "  ")
        lines += [told_words.unseen(row) for row in one.unseen]
        if one.water_silent:
            lines.append(told_words.water_silent(one.water_silent))
    return lines if len(lines) > 1 else [*lines, told_words.uptake_empty()]


def _causes(logbook: Logbook, reservoir: Reservoir) -> list[str]:
    found = _triage(logbook, reservoir)
    if found is None:
        return [told_words.why_title(), told_words.as_foretold()]
    tanks, products = _names_at(logbook, reservoir, found)
    lines = [told_words.why_title(), causes.differs(found), causes.weighed_by(found.readings)]
    for cause in found.causes:
        sentence = causes.cause_text(cause, tanks, products)
        lines.append(f"{sentence} ({causes.likelihood(cause.weight_percent)})")
        lines.append("  " + told_words.next_test(causes.ask_text(cause.ask, tanks, products)))
    return lines


def _triage(logbook: Logbook, reservoir: Reservoir) -> Triage | None:
    from core.logbook.triage import triage

    return triage(logbook, reservoir)


def _names_at(logbook: Logbook, reservoir: Reservoir, found: Triage) -> tuple[dict[str, str], dict[str, str]]:
    named = [entry.batch_id for entry in reservoir.entries[: found.index + 1] if entry.batch_id]
    batch_id = named[-1] if named else ""
    return _tanks(logbook, reservoir).get(batch_id, {}), _products(logbook, batch_id)


def _entries_json(logbook: Logbook, reservoir: Reservoir) -> list[dict[str, Any]]:
    return [
        {
            **to_builtins(entry),
            "foretold": {
                "basis": one.basis,
                "volume_l": one.move.after_l,
                "used_l": one.move.used_l,
                "ec_ms_per_cm": one.ec_ms_per_cm,
                "step_ec_ms_per_cm": last.step_ec_ms_per_cm,
                "ph": one.ph,
                "ph_aired": one.ph_aired,
                "mg_per_l": one.mg_per_l,
                "residual_percent": one.residual_percent,
                "step_residual_percent": last.step_residual_percent,
                "doubts": list(one.doubts),
            },
        }
        for entry, one, last in zip(
            reservoir.entries, _balance(logbook, reservoir), _from_the_last(logbook, reservoir), strict=True
        )
    ]


def _uptakes_json(logbook: Logbook, reservoir: Reservoir) -> list[dict[str, Any]]:
    from dataclasses import asdict

    from core.logbook.uptake import uptakes

    entries = reservoir.entries
    return [
        {**asdict(one), "from": entries[one.start].at, "to": entries[one.end].at} for one in uptakes(logbook, reservoir)
    ]


def _why_json(logbook: Logbook, reservoir: Reservoir) -> dict[str, Any] | None:
    found = _triage(logbook, reservoir)
    if found is None:
        return None
    tanks, products = _names_at(logbook, reservoir, found)
    document: dict[str, Any] = to_builtins(found)
    for shown, cause in zip(document["causes"], found.causes, strict=True):
        shown["text"] = causes.cause_text(cause, tanks, products)
        shown["test"] = causes.ask_text(cause.ask, tanks, products)
    return {**document, "at": reservoir.entries[found.index].at}
