"""The command `log`: a reservoir's diary on the command line; read, added to, written out, and what follows from it."""

from __future__ import annotations

from math import isclose
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from msgspec import structs

from app.headless.input import STANDARD_INPUT, read
from app.headless.output import BadInput, only_our_answer, write
from app.wording.language import gettext as _

if TYPE_CHECKING:
    from core.logbook.records import Entry, Logbook, Reservoir

QUANTITIES = {
    "drained": ("drained_l", "volume", "L"), "water": ("water_l", "volume", "L"), "level": ("level_l", "volume", "L"),
    "ec": ("ec_ms_per_cm", "ec", "mS/cm"), "temperature": ("temperature_c", "temperature", "°C"),
}  # fmt: skip
"""Option -> field of the entry, kind of quantity, unit of a number alone."""


SAME_VOLUME = 1e-3
"""Two volumes of a reservoir this near are one: gallons are typed to three or four digits."""


class Wanted(NamedTuple):
    """What was typed behind the command; quantities still as text."""

    reservoir: str | None = None
    holds: str | None = None
    add: bool = False
    at: str | None = None
    fresh: bool = False
    drained: str | None = None
    water: str | None = None
    batch: str | None = None
    part: tuple[str, ...] = ()
    acid: tuple[str, ...] = ()
    level: str | None = None
    ec: str | None = None
    ph: str | None = None
    temperature: str | None = None
    analysis: tuple[str, ...] = ()
    hco3: str | None = None
    meter: str = ""
    note: str = ""
    csv: str | None = None
    read_in: str | None = None
    uptake: bool = False
    why: bool = False


def log_command(file: str, wanted: Wanted, *, as_json: bool = False) -> int:
    """Do what was asked with a logbook and return the exit status.

    Raises
    ------
    BadInput : the logbook, the table or a quantity cannot be read, or the logbook cannot be written.
    """
    from core.recipe import RecipeError

    if as_json and wanted.csv is not None:
        raise BadInput("--csv writes a table, so leave --json out, or give --json without --csv")
    try:
        logbook = _opened(file, wanted)
        changed, remark = _changed(logbook, wanted)
        reservoir = _reservoir(changed, wanted)
        if changed != logbook:
            _write(Path(file), logbook, changed)
            changed = _opened(file, wanted)
            reservoir = _reservoir(changed, wanted)
    except RecipeError as error:
        raise BadInput(str(error)) from None
    if wanted.csv is not None:
        _write_table(wanted.csv, reservoir)
        return 0
    with only_our_answer():
        answer = _answer(changed, reservoir, wanted, remark, as_json=as_json)
    write(answer)
    return 0


def _answer(logbook: Logbook, reservoir: Reservoir | None, wanted: Wanted, remark: str, *, as_json: bool) -> str:
    from app.headless.log_text import log_json, log_text

    shown = (log_json if as_json else log_text)(logbook, reservoir, uptake=wanted.uptake, why=wanted.why)
    return shown if as_json or not remark else f"{remark}\n\n{shown}"


def _opened(file: str, wanted: Wanted) -> Logbook:
    """Open the logbook; one that is to be begun need not be there."""
    from core.logbook.file import load, loads
    from core.logbook.kind import LOGBOOK
    from core.logbook.records import Logbook

    if file == STANDARD_INPUT:
        if wanted.add or wanted.read_in or wanted.holds:
            raise BadInput("a logbook from standard input cannot be added to; name its file")
        return loads(read(file, LOGBOOK.most_bytes), file)
    if wanted.holds is not None and not Path(file).exists():
        return Logbook()
    return load(file)


def _reservoir(logbook: Logbook, wanted: Wanted) -> Reservoir | None:
    """The reservoir asked for, or the only one; None where all are to be listed."""
    names = [one.name for one in logbook.reservoirs]
    if wanted.reservoir is None:
        if len(names) == 1:
            return logbook.reservoirs[0]
        needed = wanted.csv or wanted.uptake or wanted.why or wanted.add or wanted.read_in
        if needed:
            raise BadInput(
                f"say which reservoir with --reservoir: {', '.join(names)}" if names else "it has no reservoir"
            )
        return None
    for one in logbook.reservoirs:
        if one.name == wanted.reservoir:
            return one
    raise BadInput(f"there is no reservoir {wanted.reservoir!r}; there are {', '.join(names) or 'none'}")


def _changed(logbook: Logbook, wanted: Wanted) -> tuple[Logbook, str]:
    """The logbook with what is to be added, and what is to be said of that."""
    from core.logbook.checks import check
    from core.logbook.csv import from_csv, new_ones
    from core.logbook.csv import read as read_table
    from core.logbook.merge import in_order
    from core.recipe import RecipeError

    made, remark = _with_reservoir(logbook, wanted), ""
    fresh: tuple[Entry, ...] = ()
    if wanted.read_in is not None or wanted.add:
        reservoir = _reservoir(made, wanted)
        assert reservoir is not None
        if wanted.read_in is not None:
            try:
                found = from_csv(read_table(wanted.read_in))
            except RecipeError as error:
                error.where = error.where or wanted.read_in
                raise
            fresh = new_ones(found, reservoir.entries)
            from app.wording.logbook_file import read_in

            remark = read_in(len(fresh), len(found) - len(fresh))
        if wanted.add:
            fresh = (*fresh, _entry(made, reservoir, wanted))
        grown = structs.replace(reservoir, entries=in_order((*reservoir.entries, *fresh)))
        made = structs.replace(
            made, reservoirs=tuple(grown if one.name == grown.name else one for one in made.reservoirs)
        )
    check(made, logbook)
    return made, remark


def _with_reservoir(logbook: Logbook, wanted: Wanted) -> Logbook:
    from core.logbook.records import Reservoir

    if wanted.holds is None:
        return logbook
    if wanted.reservoir is None:
        raise BadInput("name the new reservoir with --reservoir")
    volume = _quantity(wanted.holds, "volume", "L", "--holds")
    there = next((one for one in logbook.reservoirs if one.name == wanted.reservoir), None)
    if there is None:
        return structs.replace(logbook, reservoirs=(*logbook.reservoirs, Reservoir(wanted.reservoir, volume)))
    if not isclose(there.volume_l, volume, rel_tol=SAME_VOLUME):
        held = f"{there.volume_l:g} L"
        raise BadInput(f"--holds is for a new reservoir; {wanted.reservoir!r} is there already and holds {held}")
    return logbook


def _entry(logbook: Logbook, reservoir: Reservoir, wanted: Wanted) -> Entry:
    from app.session.clock import now_text
    from core.logbook.records import Entry

    parts, acid = _pairs("--part", wanted.part, "volume", "mL"), _pairs("--acid", wanted.acid, "volume", "mL")
    fields: dict[str, Any] = {
        field: _quantity(text, kind, unit, f"--{option}")
        for option, (field, kind, unit) in QUANTITIES.items()
        if (text := getattr(wanted, option)) is not None
    }
    if wanted.ph is not None:
        fields["ph"] = _number(wanted.ph, "--ph")
    if wanted.hco3 is not None:
        fields["hco3_mg_per_l"] = _content("HCO3", wanted.hco3, "--hco3")
    analysis = {name: _content(name, text, "--analysis") for name, text in _split("--analysis", wanted.analysis)}
    entry = Entry(
        at=_moment(wanted.at or now_text()),
        fresh=wanted.fresh,
        batch_id=_batch(logbook, reservoir, wanted) if parts or acid else "",
        parts_ml=parts,
        acid_ml=acid,
        analysis_mg_per_l=analysis,  # type: ignore[arg-type]  # the check refuses other names
        meter=wanted.meter,
        note=wanted.note,
        **fields,
    )
    if entry == Entry(at=entry.at):
        raise BadInput("there is nothing to add; give a level, a reading, what was poured or a note")
    return entry


def _moment(text: str) -> str:
    from core.units import UnitError, read_moment

    try:
        return read_moment(text)
    except UnitError as error:
        raise BadInput(f"--at: {error}") from None


def _batch(logbook: Logbook, reservoir: Reservoir, wanted: Wanted) -> str:
    """The batch named, or the one poured last, or the one mixed last."""
    if wanted.batch is not None:
        return wanted.batch
    poured = [entry.batch_id for entry in reservoir.entries if entry.batch_id]
    made = [batch.batch_id for batch in logbook.batches]
    if not (poured or made):
        raise BadInput("the logbook holds no batch yet, so parts and acid cannot be counted")
    return poured[-1] if poured else made[-1]


def _pairs(option: str, given: tuple[str, ...], kind: Any, unit: str) -> dict[str, float]:
    """Named amounts; a volume comes back in litres and is kept in millilitres."""
    return {name: 1000.0 * _quantity(text, kind, unit, option) for name, text in _split(option, given)}


def _split(option: str, given: tuple[str, ...]) -> list[tuple[str, str]]:
    for one in given:
        if "=" not in one:
            raise BadInput(f"{option} {one!r} has no equals sign; write it as NAME=NUMBER")
    return [(name.strip(), text) for name, _equals, text in (one.rpartition("=") for one in given)]


def _quantity(text: str, kind: Any, unit: str, option: str, of: str | None = None) -> float:
    from core.bench.meter import check_reading
    from core.units import read_quantity

    try:
        read = read_quantity(text, kind, unit, of=of)
        if kind == "ec":
            check_reading(read.value, read.unit)
        return float(f"{read.value:.12g}")
    except ValueError as error:
        raise BadInput(f"{option}: {error}") from None


def _content(name: str, text: str, option: str) -> float:
    """What a laboratory found of a nutrient or of bicarbonate; of what is none, the check says so."""
    from core.recipe.records import NUTRIENTS

    if name not in (*NUTRIENTS, "HCO3"):
        return _number(text, option)
    return _quantity(text, "concentration", "mg/L", option, of=name)


def _number(text: str, option: str) -> float:
    from core.units import read_number

    try:
        return read_number(text)
    except ValueError as error:
        raise BadInput(f"{option}: {error}") from None


def _write(path: Path, before: Logbook, after: Logbook) -> None:
    """Put the logbook in place whole; what somebody else wrote meanwhile is kept, and a link stays a link."""
    from app.headless.sheet import save
    from core.logbook.checks import check
    from core.logbook.file import dumps, load
    from core.logbook.merge import Conflict, merged

    try:
        whole = merged(before, after, load(path)) if path.exists() else after
        check(whole, after)
    except Conflict as error:
        raise BadInput(f"{path}: somebody else changed the same thing meanwhile: {error}") from None
    save(path, dumps(whole))


def _write_table(output: str, reservoir: Reservoir | None) -> None:
    """Write a diary as a table; a file that exists is never replaced."""
    from core.logbook.csv import to_csv

    assert reservoir is not None
    text = to_csv(reservoir.entries)
    if output == STANDARD_INPUT:
        write(text)
        return
    try:
        with Path(output).open("x", encoding="utf-8", newline="") as file:
            file.write(text)
    except FileExistsError:
        raise BadInput(f"{output}: exists already; give another name") from None
    except (OSError, ValueError) as error:
        raise BadInput(f"{output}: cannot be written: {error}") from None
    write(_("{count} entries are in {name}.").format(count=len(reservoir.entries), name=output) + "\n")
