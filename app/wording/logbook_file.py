"""The sentences about the logbook's file: opening, copies, tables, and what stands in the way of writing."""

from __future__ import annotations

from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.refusals import what_is_wrong

ENDING, TABLE = "saltwright-log", "csv"

ACTIONS = {
    "log_new": (marked("&New logbook…"), marked("Begin an empty logbook in a file of its own")),
    "log_open": (marked("&Open a logbook…"), marked("Go on in another logbook")),
    "log_copy": (marked("&Save a copy…"), marked("Write the logbook to another file as well")),
    "log_import": (marked("&Read in a table…"), marked("Add the lines of a spreadsheet to this diary")),
    "log_export": (marked("Write as a &table…"), marked("Write this diary for a spreadsheet")),
}


def action(name: str) -> tuple[str, str]:
    """Return an action's text and its status tip."""
    text, tip = ACTIONS[name]
    return _(text), _(tip)


def dialog(name: str) -> str:
    """Return the title of the dialog of an action."""
    titles = {
        "log_new": _("A new logbook"),
        "log_open": _("Open a logbook"),
        "log_copy": _("Save a copy of the logbook"),
        "log_import": _("Read in a table"),
        "log_export": _("Write the diary as a table"),
    }
    return titles[name]


def logbook_filter() -> str:
    """Return the kinds of file a logbook is looked for among."""
    return _("Logbooks (*.saltwright-log);;All files (*)")


def table_filter() -> str:
    """Return the kinds of file a table is looked for among."""
    return _("Tables (*.csv *.txt *.tsv);;All files (*)")


def logbook_name() -> str:
    """Return the name proposed for a logbook."""
    return _("logbook") + f".{ENDING}"


def table_name(reservoir: str) -> str:
    """Return the name proposed for a table: without what some systems forbid in names."""
    kept = "".join(letter if letter.isprintable() and letter not in '<>:"/\\|?*' else " " for letter in reservoir)
    return f"{' '.join(kept.split()).strip('. ')[:80] or _('diary')}.{TABLE}"


def left_alone(reason: str, name: str) -> str:
    """Return that a logbook could not be read, stays as it is, and where the window writes instead."""
    return _("{reason}. It is left as it is; what you write goes into {name} from now on.").format(
        reason=reason.rstrip("."), name=name
    )


def conflict(thing: str) -> str:
    """Return that another window changed the same thing."""
    return _(
        "Another window changed the same thing, {thing}; yours is not written. Take it back with Ctrl+Z, or save a "
        "copy."
    ).format(thing=what_is_wrong(thing))


def not_written(reason: str) -> str:
    """Return why the logbook is not written; what is in the window stays."""
    return _("The logbook is not written: {reason}. Your changes are in this window.").format(reason=reason.rstrip("."))


def not_opened(reason: str) -> str:
    """Return why a file was not taken."""
    return _("Not opened: {reason}. The logbook in the window is unchanged.").format(reason=reason.rstrip("."))


def not_read_in(reason: str) -> str:
    """Return why a table was not taken."""
    return _("Nothing was read in: {reason}.").format(reason=reason.rstrip("."))


def read_in(new: int, there: int) -> str:
    """Return how many lines of a table were new."""
    added = _("1 line was added") if new == 1 else _("{new} lines were added").format(new=new)
    if not there:
        return _("{added}.").format(added=added)
    known = (
        _("1 was in the diary already") if there == 1 else _("{there} were in the diary already").format(there=there)
    )
    return _("{added}; {known}.").format(added=added, known=known)


def no_reservoir() -> str:
    """Return why there is no diary to read into or write out."""
    return _("There is no reservoir yet.")


def file_line(name: str) -> str:
    """Return which file the logbook lies in."""
    return _("in {name}").format(name=name)


def retry_button() -> str:
    """Return the button that writes the logbook once more."""
    return _("Try again")


def copy_button() -> str:
    """Return the button that saves a copy elsewhere."""
    return _("Save a copy…")


def ask_unwritten() -> tuple[str, str]:
    """Return the question before a logbook that could not be written is given up."""
    return _("Close without the last changes of the logbook?"), _("They could not be written to its file.")


def unwritten_buttons() -> tuple[str, str, str]:
    """Return the answers: save a copy, close all the same, stay."""
    return _("&Save a copy…"), _("&Close without them"), _("S&tay")
