"""The sentences of printing: what to print, on which paper, and what became of it."""

from __future__ import annotations

from app.wording.language import gettext as _
from app.wording.language import marked

PARTS = {
    "sheet": marked("Weigh-out sheet"),
    "labels": marked("Labels"),
    "card": marked("Dosing card"),
    "summary": marked("Recipe summary"),
}

FILTERS = {
    "pdf": marked("PDF (*.pdf)"),
    "html": marked("Web page (*.html)"),
    "csv": marked("Weights as a table (*.csv)"),
}


def title() -> str:
    """Return the title of the dialog."""
    return _("Print or export")


def title_of_batch(date: str) -> str:
    """Return the title of the dialog for the paper of a made batch."""
    return _("Labels of the batch of {date}").format(date=date)


def part(name: str) -> str:
    """Return what a part of the paper is called."""
    return _(PARTS[name])


def paper_name() -> str:
    """Return what the choice of paper is called."""
    return _("Paper")


def papers() -> list[tuple[str, str]]:
    """Return the sizes of paper, by key."""
    return [("a4", _("A4")), ("letter", _("US Letter"))]


def mark_name() -> str:
    """Return what the choice of the decimal mark is called."""
    return _("Numbers")


def marks() -> list[tuple[str, str]]:
    """Return the decimal marks, by key."""
    return [(".", _("12.5, with a point")), (",", _("12,5, with a comma"))]


def preview_name() -> str:
    """Return what the preview is called."""
    return _("Preview")


def pages(number: int, count: int) -> str:
    """Return which page is shown."""
    return _("Page {number} of {count}").format(number=number, count=count)


def no_pages() -> str:
    """Return what stands there where nothing is chosen or there is nothing to print."""
    return _("Nothing to print: choose a part above.")


def buttons() -> dict[str, str]:
    """Return what the buttons say."""
    return {
        "print": _("Print…"),
        "pdf": _("PDF…"),
        "html": _("Web page…"),
        "csv": _("Table (CSV)…"),
        "close": _("Close"),
        "back": _("Previous page"),
        "on": _("Next page"),
    }


def export_dialog() -> str:
    """Return the title of the dialog that asks where to write."""
    return _("Export to")


def export_filter(kind: str) -> str:
    """Return the kind of file the dialog shows."""
    return _(FILTERS[kind])


def written(name: str) -> str:
    """Return that a file was written."""
    return _("Written: {name}.").format(name=name)


def open_file() -> str:
    """Return what opens the written file."""
    return _("Open it")


def sent(printer: str) -> str:
    """Return that the paper went to a printer."""
    return _("Sent to {printer}.").format(printer=printer) if printer else _("Sent to the printer.")


def not_printed() -> str:
    """Return that the printer took nothing."""
    return _("The printer took nothing. A PDF can be printed from any viewer instead.")


def no_printing() -> str:
    """Return that this computer cannot print from here."""
    return _("Printing is not to be had here; the PDF was opened in the viewer, which can print it.")


def no_viewer(name: str) -> str:
    """Return that no viewer opened a file."""
    return _("Printing is not to be had here, and no viewer opened the PDF: it lies at {name}.").format(name=name)


def nothing_planned() -> str:
    """Return why there is nothing to print."""
    return _("There is no plan to print yet.")
