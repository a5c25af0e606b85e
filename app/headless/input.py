"""Reading a file or standard input, never more than asked for and never something that does not end."""

from __future__ import annotations

import stat
import sys
from pathlib import Path

from app.headless.output import BadInput

STANDARD_INPUT = "-"


def read(file: str, most_bytes: int) -> bytes:
    """Return the contents of a file, or of standard input for "-"; at most one byte more than `most_bytes`.

    Raises
    ------
    BadInput : there is nothing to read, or it cannot be read.
    """
    try:
        if file == STANDARD_INPUT:
            return b"" if sys.stdin is None else sys.stdin.buffer.read(most_bytes + 1)
        if not stat.S_ISREG(Path(file).stat().st_mode):  # a pipe or a device could block or never end
            raise BadInput(f"{file}: is not an ordinary file")
        with open(file, "rb") as opened:
            return opened.read(most_bytes + 1)
    except OSError as error:
        raise BadInput(f"{_name(file)}: cannot be read: {error.strerror}") from None
    except ValueError:
        raise BadInput(f"{_name(file)}: is not a usable file name") from None


def _name(file: str) -> str:
    return "standard input" if file == STANDARD_INPUT else file
