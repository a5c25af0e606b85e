"""The command `sheet`: weigh-out sheet, labels, dosing card and recipe summary into a file."""

from __future__ import annotations

import contextlib
import os
import stat
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

from app.headless.output import BadInput, only_our_answer, visible, write
from app.headless.plan import open_recipe
from app.wording.language import gettext as _

if TYPE_CHECKING:
    from app.paper.amounts import Units
    from app.paper.document import PartName
    from app.paper.job import Job

ENDINGS = (".pdf", ".html", ".htm", ".csv")
DECIMAL_MARKS = {"point": ".", "comma": ","}


def sheet_command(
    file: str,
    output: str,
    *,
    paper: str = "a4",
    units: Units = "auto",
    decimal: str = "point",
    parts: tuple[PartName, ...] = (),
) -> int:
    """Write the paper of a recipe to a file, whole or not at all, and return the exit status: 1 with a caution to stop.

    Parameters
    ----------
    output : a name that ends in .pdf, .html or .csv; a file of that name is replaced, and that is said
    paper : "a4" or "letter"
    units : "metric", "us", or "auto": US where a scale shows ounces
    decimal : "point" or "comma"; CSV always has points
    parts : what to print, all of it where empty; CSV is always the weights

    Raises
    ------
    BadInput : the recipe is refused, the ending is unknown, or the file cannot be written.
    """
    ending = Path(output).suffix.lower()
    if ending not in ENDINGS:
        raise BadInput(f"{output}: a sheet is written as .pdf, .html or .csv")
    if Path(output).exists() and Path(file).exists() and os.path.samefile(file, output):
        raise BadInput(f"{output}: is the recipe itself; give the sheet another name")
    from app.paper.job import job_for
    from core.plan import derive, solve

    recipe = open_recipe(file)
    with only_our_answer():
        blend = solve(recipe)
        job = job_for(recipe, blend, derive(recipe, blend), units)
        data = _made(job, ending, paper, DECIMAL_MARKS[decimal], parts)
    replaced = save(Path(output), data)
    said = _("{name}: replaced.") if replaced else _("{name}: written.")
    write(said.format(name=visible(output)) + "\n")
    return 1 if any(caution.level == "stop" for caution in job.plan.cautions) else 0


def _made(job: Job, ending: str, paper: str, decimal_mark: str, parts: tuple[PartName, ...]) -> bytes:
    if ending == ".csv":
        from app.paper.csv import to_csv

        return to_csv(job).encode()
    from app.paper.document import PARTS, document

    printed = document(job, parts or PARTS, decimal_mark)
    if ending in (".html", ".htm"):
        from app.paper.html import to_html

        return to_html(printed, paper).encode()
    _ready_for_qt()
    from app.paper.pdf import to_pdf

    return to_pdf(printed, paper)


def _ready_for_qt() -> None:
    """Let Qt draw without a display, or say what it lacks: it would end the process without a word.

    Raises
    ------
    BadInput : system libraries are missing.
    """
    from app.headless.libraries import how_to_install, missing_libraries

    os.environ["QT_QPA_PLATFORM"] = "offscreen"  # a PDF needs no display even where there is one
    missing = missing_libraries("offscreen")
    if missing:
        raise BadInput(how_to_install(missing, "a PDF"))


def save(target: Path, data: bytes) -> bool:
    """Write a file whole or not at all, and tell whether one of that name was replaced.

    Raises
    ------
    BadInput : it cannot be written, or the name is that of something other than a file.
    """
    temporary = None
    try:
        path = Path(os.path.realpath(target))  # a link stays a link, what it points to is replaced
        existed = path.exists()
        if existed and not stat.S_ISREG(path.stat().st_mode):
            raise BadInput(f"{target}: is not an ordinary file")
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:40]}.")
        with os.fdopen(handle, "wb") as opened:
            opened.write(data)
            opened.flush()
            os.fsync(opened.fileno())
        os.chmod(temporary, stat.S_IMODE(path.stat().st_mode) if existed else _usual_mode())
        os.replace(temporary, path)
    except (OSError, ValueError) as error:
        if temporary is not None:
            with contextlib.suppress(OSError):
                os.unlink(temporary)
        reason = error.strerror if isinstance(error, OSError) else None
        raise BadInput(f"{target}: cannot be written: {reason or error}") from None
    return existed


def _usual_mode() -> int:
    """What a new file's permissions are for this user; only asked by setting and restoring it."""
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
