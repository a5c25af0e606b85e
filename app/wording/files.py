"""The sentences about files: saving, recovery, changes made elsewhere, and faults of the program itself."""

from __future__ import annotations

from app.wording.language import gettext as _
from app.wording.language import marked

ENDING = "saltwright"


def save_dialog() -> str:
    """Return the title of the dialog that asks where to save."""
    return _("Save the recipe as")


def save_filter() -> str:
    """Return the kind of file the save dialog writes."""
    return _("Recipes (*.saltwright)")


def file_name(title: str) -> str:
    """Return the name proposed for a recipe with this title: without what some systems forbid in names."""
    kept = "".join(letter if letter.isprintable() and letter not in '<>:"/\\|?*' else " " for letter in title)
    words = " ".join(kept.split()).strip(". ")[:80].strip()
    return f"{words or _('Recipe')}.{ENDING}"


def ask_unsaved(name: str) -> tuple[str, str]:
    """Return the question before unsaved changes are given up, and what it is about."""
    asked = _("Save the changes to {name}?").format(name=name) if name else _("Save the changes to this recipe?")
    return asked, _("Without saving, the changes since it was last saved are lost.")


def unsaved_buttons() -> tuple[str, str, str]:
    """Return the answers to that question: save, discard, cancel."""
    return _("&Save"), _("&Discard"), _("&Cancel")


_REASONS = {
    "not a recipe": marked(
        "as it stands it could not be opened again: {detail}. It is kept as a recovery copy until then"
    ),
    "read only": marked("the file or its folder may not be written to"),
    "no folder": marked("its folder is not there"),
    "full": marked("the disk is full"),
    "open elsewhere": marked("another window has that file open"),
    "other": marked("the disk did not take all of it"),
}


def not_saved(name: str, why: str, detail: str = "") -> str:
    """Return that a file was not saved, and why; what was there is unharmed."""
    reason = _(_REASONS[why]).format(detail=detail.rstrip("."))
    if why == "other" and detail:
        reason += f" ({detail.rstrip('.')})"
    said = _("{name} is not saved: {reason}.").format(name=name, reason=reason)
    return said + " " + _("What was in the file before is still there, and your changes are in this window.")


def save_as_button() -> str:
    """Return the button that saves to another place."""
    return _("Save as…")


def try_again_button() -> str:
    """Return the button that saves once more."""
    return _("Try again")


def changed_elsewhere(name: str) -> str:
    """Return that another program changed the file."""
    return _(
        "{name} was changed by another program. Reload it as it is now, or keep the recipe in this window?"
    ).format(name=name)


def changed_before_saving(name: str) -> str:
    """Return that a file was not saved because another program changed it."""
    return _(
        "{name} is not saved: another program changed it since it was opened here. "
        "Reload what it holds now, or write this window's recipe over it?"
    ).format(name=name)


def gone(name: str) -> str:
    """Return that the file is no longer where it was."""
    return _("{name} is no longer where it was. The recipe is still in this window; save it to keep it.").format(
        name=name
    )


def reload_button() -> str:
    """Return the button that opens the file as it is now."""
    return _("Reload")


def keep_button() -> str:
    """Return the button that keeps the recipe in the window."""
    return _("Keep mine")


def write_over_button() -> str:
    """Return the button that saves over another program's change."""
    return _("Write over it")


def save_button() -> str:
    """Return the button that saves."""
    return _("Save")


def open_twice(name: str) -> str:
    """Return that another window of the program has the file open."""
    return _(
        "{name} is also open in another window. What is saved there and here would overwrite each other: "
        "work in one of them, or save this one under another name."
    ).format(name=name)


def recovered(name: str, when: str, others: int, file_is_newer: bool) -> str:
    """Return that unsaved work was kept when the program ended, from when, and how many more there are."""
    of = name or _("a recipe without a title")
    said = _("Unsaved changes to {name} were kept from {when}, when the program ended early.").format(
        name=of, when=when
    )
    if file_is_newer:
        said += " " + _("The file itself was saved after that.")
    if others:
        said += " " + _("Kept besides: {count} more.").format(count=others)
    return said


def open_button() -> str:
    """Return the button that opens what was kept."""
    return _("Open")


def discard_button() -> str:
    """Return the button that gives up what was kept."""
    return _("Discard")


def cannot_recover(reason: str, path: str) -> str:
    """Return that a recovery copy cannot be opened, why, and where it lies."""
    return _("Unsaved work was kept, but cannot be opened: {reason}. It lies in {path}.").format(
        reason=reason.rstrip("."), path=path
    )


def no_recovery(reason: str) -> str:
    """Return that unsaved work is not being kept."""
    return _("Unsaved changes cannot be kept for the case of a breakdown: {reason}. Save often.").format(
        reason=reason.rstrip(".")
    )


def fault_title() -> str:
    """Return the title of the dialog that tells of a fault of the program."""
    return _("Something went wrong")


def fault_text() -> str:
    """Return what happened and what became of the work."""
    return _(
        "The program met a fault of its own. Unsaved work was put into a recovery copy, and you may be able to go on; "
        "saving now is a good idea. If you tell the makers of it, this report helps them. It stays on this computer "
        "unless you send it, and holds nothing beyond what is shown here."
    )


def fault_buttons() -> tuple[str, str, str]:
    """Return what can be done: copy the report, close the program, go on."""
    return _("&Copy the report"), _("C&lose the program"), _("&Go on")


def fault_report_name() -> str:
    """Return what a screen reader calls the report."""
    return _("Report of the fault")
