"""Writing answers to standard output and single lines to standard error, whatever terminal is at the other end."""

from __future__ import annotations

import codecs
import ctypes
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager

STANDARD_OUTPUT = 1
"""Its number, as the system and C know it."""

PLAIN = {
    "\N{MINUS SIGN}": "-", "\N{EN DASH}": "-", "\N{PLUS-MINUS SIGN}": "+-", "\N{MULTIPLICATION SIGN}": "x",
    "\N{MIDDLE DOT}": ".", "\N{DEGREE SIGN}": "deg ", "\N{MICRO SIGN}": "u", "\N{SUPERSCRIPT TWO}": "2",
    "\N{HORIZONTAL ELLIPSIS}": "...",
    "\N{LESS-THAN OR EQUAL TO}": "at most ", "\N{GREATER-THAN OR EQUAL TO}": "at least ",
    **dict(zip("₀₁₂₃₄₅₆₇₈₉", "0123456789", strict=True)),
}  # fmt: skip
"""What stands for a character on a terminal that has no such character."""


class BadInput(Exception):
    """What was asked for cannot be done; the text is one sentence for the person who asked."""


def write(text: str) -> None:
    """Write an answer to standard output, in the characters its encoding has.

    Raises
    ------
    BadInput : the output cannot be written, such as on a full disk. A reader that went away is no error.
    """
    if sys.stdout is None:
        return
    encoding = sys.stdout.encoding or "utf-8"
    try:
        sys.stdout.write(text.encode(encoding, "saltwright-plain").decode(encoding))
        sys.stdout.flush()
    except BrokenPipeError:
        _drop_output()
    except OSError as error:
        _drop_output()
        raise BadInput(f"the answer could not be written: {error.strerror}") from None


def complain(sentence: str) -> None:
    """Write exactly one line to standard error, headed by the program's name."""
    if sys.stderr is not None:
        encoding = sys.stderr.encoding or "utf-8"
        line = f"saltwright: {visible(sentence)}\n"
        sys.stderr.write(line.encode(encoding, "saltwright-plain").decode(encoding))


@contextmanager
def only_our_answer() -> Iterator[None]:
    """Send to nowhere what libraries write to standard output behind Python's back; a solver may print a banner."""
    try:
        ours = os.dup(STANDARD_OUTPUT)
    except OSError:  # it is closed: nothing can reach it
        yield
        return
    with open(os.devnull, "wb") as nowhere:
        os.dup2(nowhere.fileno(), STANDARD_OUTPUT)
    try:
        yield
    finally:
        if os.name == "posix":
            ctypes.CDLL(None).fflush(None)  # what C has buffered must not come out later
        os.dup2(ours, STANDARD_OUTPUT)
        os.close(ours)


def visible(text: str) -> str:
    """Return foreign text with control, bidirectional and other unprintable characters written as escapes."""
    return "".join(letter if letter.isprintable() else _escape(letter) for letter in text)


def _escape(letter: str) -> str:
    return letter.encode("unicode_escape").decode("ascii")


def _drop_output() -> None:
    """Send what Python still wants to flush at its end to nowhere, so that it does not complain."""
    with open(os.devnull, "w", encoding="utf-8") as nowhere:
        os.dup2(nowhere.fileno(), sys.stdout.fileno())


def _plain(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    wanted = error.object[error.start : error.end]
    return "".join(PLAIN.get(letter) or _escape(letter) for letter in wanted), error.end


codecs.register_error("saltwright-plain", _plain)
