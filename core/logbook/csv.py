"""A diary as a table for spreadsheets, both ways: text in, text out; what is written comes back just so."""

from __future__ import annotations

import csv
import io
import os
import re
from collections.abc import Iterable, Sequence
from typing import Any

from core.logbook.checks import check_entry
from core.logbook.csv_columns import TEXTS, TRUTHS, Column, column_of, columns_for
from core.logbook.kind import TABLE
from core.logbook.merge import in_order
from core.logbook.records import Entry
from core.phrase import Phrase
from core.recipe.errors import RecipeError, quoted
from core.recipe.reader import read_whole
from core.recipe.strict_json import too_large
from core.units import AmbiguousText, refuse_thousands

SIGNS = "=+-@\t\r\N{FULLWIDTH EQUALS SIGN}\N{FULLWIDTH PLUS SIGN}\N{FULLWIDTH HYPHEN-MINUS}\N{FULLWIDTH COMMERCIAL AT}"
"""A text that begins with one of these is a formula to a spreadsheet."""

GUARD = "'"
_NUMBER = re.compile(r"[-+]?\d+(?:(?P<mark>[.,])\d+)?(?:[eE][-+]?\d+)?", re.ASCII)


def to_csv(entries: Sequence[Entry]) -> str:
    """Return a line per entry below one of headings; commas, points as decimal marks, empty where nothing is noted.

    Texts a spreadsheet would take for a formula begin with an apostrophe, which reading takes off again.
    """
    columns, written = columns_for(tuple(entries)), io.StringIO()
    writer = csv.writer(written)
    writer.writerow([column.name for column in columns])
    for entry in entries:
        writer.writerow([_cell(entry, column) for column in columns])
    return written.getvalue()


def read(path: str | os.PathLike[str]) -> str:
    """Return the text of a table's file, UTF-8 or what spreadsheets of the western world write.

    Raises
    ------
    RecipeError : it cannot be read, or is too large.
    """
    data = read_whole(os.fspath(path), TABLE)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def from_csv(text: str) -> tuple[Entry, ...]:
    """Return the entries of a table, in order of time.

    Commas, semicolons or tabs part the cells, as in its first line. Where that is no comma, numbers may have a decimal
    comma, if all of them do.

    Raises
    ------
    RecipeError : one sentence that names line and column.
    """
    if len(text) > TABLE.most_bytes:
        raise too_large(len(text), TABLE)
    rows = _rows(text.removeprefix("\N{ZERO WIDTH NO-BREAK SPACE}"))
    if not rows:
        raise RecipeError("is empty", "choose a table with a line of headings")
    columns = _columns(rows[0][1])
    marks = _Marks()
    return in_order([_entry(line, cells, columns, marks) for line, cells in rows[1:]])


def new_ones(entries: Iterable[Entry], there: Sequence[Entry]) -> tuple[Entry, ...]:
    """Return the entries that are not there yet, so that a table may be read in twice."""
    left = list(there)
    found = []
    for entry in entries:
        if entry in left:
            left.remove(entry)
        else:
            found.append(entry)
    return tuple(found)


class _Marks:
    """The decimal mark of a table: the first one met holds for all of it."""

    def __init__(self) -> None:
        self.seen = ""

    def agree(self, mark: str) -> bool:
        """Take a mark, and return whether it is the table's own."""
        self.seen = self.seen or mark
        return mark == self.seen


def _rows(text: str) -> list[tuple[int, list[str]]]:
    """The cells of every line that holds something, with the number of the line."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    parted_by = next((mark for mark in "\t;" if mark in first), ",")
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=parted_by, strict=True)
    rows = []
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                rows.append((reader.line_num, cells))
            if len(rows) > TABLE.most_members:
                what = Phrase("has more than {most} lines", most=TABLE.most_members)
                raise RecipeError(what, "read it in parts")
    except csv.Error as error:
        what = Phrase("is no table from line {line} on: {reason}", line=reader.line_num, reason=str(error))
        raise RecipeError(what, "look there for a missing quotation mark") from None
    return rows


def _columns(headings: list[str]) -> list[Column]:
    columns = [column_of(heading) for heading in headings]
    places = [(column.field, column.key) for column in columns]
    for number, place in enumerate(places):
        if place in places[:number]:
            first, second = quoted(columns[places.index(place)].name), quoted(columns[number].name)
            what = Phrase("has two columns for one thing, {first} and {second}", first=first, second=second)
            raise RecipeError(what, "keep one of the two")
    if ("at", "") not in places:
        raise RecipeError(
            Phrase("lacks the column {name}", name=quoted("at")), "add it, with dates as 2026-06-01 08:30"
        )
    return columns


def _entry(line: int, cells: list[str], columns: Sequence[Column], marks: _Marks) -> Entry:
    if len(cells) != len(columns):
        what = Phrase(
            "has {count} cells in line {line} where there are {columns} columns",
            count=len(cells),
            line=line,
            columns=len(columns),
        )
        raise RecipeError(what, "give every line as many cells as there are headings")
    fields: dict[str, Any] = {}
    for column, cell in zip(columns, cells, strict=True):
        _put(fields, column, cell.strip(), line, marks)
    entry = Entry(**fields)
    try:
        check_entry(entry)
    except RecipeError as error:
        raise _refused(line, _place(error, columns), error.what, error.mend) from None
    return entry


def _put(fields: dict[str, Any], column: Column, cell: str, line: int, marks: _Marks) -> None:
    """Put a cell into the fields of an entry; an empty one is nothing noted."""
    if column.field == "at":
        fields["at"] = cell.replace(" ", "T", 1)
    elif column.field in TEXTS:
        fields[column.field] = _unguarded(cell)
    elif column.field == "fresh":
        if cell.casefold() not in TRUTHS:
            raise _refused(line, column.name, Phrase("is {text}", text=quoted(cell)), "write yes or no")
        fields["fresh"] = TRUTHS[cell.casefold()]
    elif cell:
        number = _number(cell, column, line, marks)
        if column.key:
            fields.setdefault(column.field, {})[column.key] = number
        else:
            fields[column.field] = number


def _number(cell: str, column: Column, line: int, marks: _Marks) -> float:
    found = _NUMBER.fullmatch(cell)
    if found is None:
        what = Phrase("is {text}, no plain number", text=quoted(cell))
        raise _refused(line, column.name, what, "write digits with one decimal mark and no grouping")
    _refuse_thousands(cell, column, line, marks)
    mark = found["mark"]
    if mark is not None and not marks.agree(mark):
        what = Phrase("is {text}, with another decimal mark than the numbers before", text=quoted(cell))
        raise _refused(line, column.name, what, "use one decimal mark in the whole table")
    value = float(cell.replace(",", "."))
    return value if column.divisor == 1.0 else float(f"{value / column.divisor:.12g}")


def _refuse_thousands(cell: str, column: Column, line: int, marks: _Marks) -> None:
    """Refuse a cell that may be meant a thousand times as large, such as "1,000"."""
    try:
        refuse_thousands(cell, decimal_comma=marks.seen == ",")
    except AmbiguousText as error:
        whole, decimals = error.readings
        what = Phrase("is {text}, which can be read as thousands and as decimals", text=quoted(cell))
        mend = Phrase("write {whole} or {decimals}", whole=whole, decimals=decimals)
        raise _refused(line, column.name, what, mend) from None


def _refused(line: int, column: str, what: str, mend: str) -> RecipeError:
    told = Phrase("has in line {line}, column {column}, what {what}", line=line, column=quoted(column), what=what)
    return RecipeError(told, mend)


def _place(error: RecipeError, columns: Sequence[Column]) -> str:
    """The column a refused entry's field stands in."""
    names = [str(step) for step in error.path]
    for column in columns:
        if names[:2] == [column.field, column.key] or (names[:1] == [column.field] and not column.key):
            return column.name
    return ".".join(names)


def _cell(entry: Entry, column: Column) -> str:
    value = getattr(entry, column.field)
    if column.key:
        value = value.get(column.key)
    if value is None or value is False:
        return ""
    if value is True:
        return "yes"
    return (
        value.replace("T", " ", 1)
        if column.field == "at"
        else _guarded(value)
        if isinstance(value, str)
        else _plain(value)
    )


def _plain(value: float) -> str:
    """The shortest text that reads back as the same number."""
    return str(int(value)) if float(value).is_integer() and abs(value) < 1e15 else repr(float(value))


def _needs_guard(text: str) -> bool:
    return text.lstrip(f"{GUARD} ")[:1] in tuple(SIGNS)


def _guarded(text: str) -> str:
    return GUARD + text if text and _needs_guard(text) else text


def _unguarded(cell: str) -> str:
    return cell[1:] if cell.startswith(GUARD) and _needs_guard(cell[1:]) and len(cell) > 1 else cell
