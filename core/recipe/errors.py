"""The one error of this room: a recipe that cannot be opened, told in a single clear sentence."""

from __future__ import annotations

import re

Path = tuple[str | int, ...]
"""Where in the document: names and 0-based list positions from the top, such as ("shelf", 2, "salt")."""

LONGEST_QUOTE = 60
_MEMBER_WORDS = {
    "shelf": "shelf entry", "targets": "target", "limits": "limit", "scales": "scale",
    "batches": "batch", "reservoirs": "reservoir", "entries": "entry", "weighed": "weighed product",
}  # fmt: skip
_PLAIN_NAME = re.compile(r"[A-Za-z0-9_-]{1,40}")


class RecipeError(ValueError):
    """A recipe is refused; `str()` is one sentence without a line break: where, what is wrong, how to mend it.

    Parameters
    ----------
    what : what is wrong, as a verb phrase whose subject is the place ("is empty", "must be a number").
    mend : what to do about it, in the imperative; may be empty.
    path : where in the document; () is the whole file.
    where : the file's name, if there is one.
    """

    def __init__(self, what: str, mend: str = "", path: Path = (), where: str = "") -> None:
        super().__init__(what, mend, path, where)
        self.what = what
        self.mend = mend
        self.path = path
        self.where = where

    def __str__(self) -> str:
        file = escaped(self.where)
        place = in_words(self.path)
        subject = f"{file}: {place}" if file and place else place or file or "this file"
        sentence = f"{subject} {self.what}"
        return f"{sentence}; {self.mend}" if self.mend else sentence


class DamagedFile(RecipeError):
    """The bytes are no document at all: empty, cut short, overwritten, or of another kind of file."""


def escaped(text: str) -> str:
    """Return the text with control, bidirectional and other unprintable characters in escaped form."""
    return "".join(letter if letter.isprintable() else f"\\u{ord(letter):04x}" for letter in text)


def quoted(text: str) -> str:
    """Return foreign text fit for a one-line message: escaped, shortened and in quotation marks."""
    short = text if len(text) <= LONGEST_QUOTE else text[:LONGEST_QUOTE] + "…"
    return f'"{escaped(short)}"'


def path_text(path: Path) -> str:
    """Return the path as people who know JSON write it, such as ``shelf[2].label_percent.N``."""
    text = ""
    for step in path:
        if isinstance(step, int):
            text += f"[{step}]"
        elif _PLAIN_NAME.fullmatch(step):
            text += f".{step}" if text else step
        else:
            text += f"[{quoted(step)}]"
    return text


def in_words(path: Path) -> str:
    """Return the path for people: "shelf entry 3 (shelf[2].salt)", counted from 1, or the bare path without a list."""
    words = [
        f"{_MEMBER_WORDS[name]} {index + 1}"
        for name, index in zip(path, path[1:], strict=False)
        if isinstance(index, int) and name in _MEMBER_WORDS
    ]
    return f"{', '.join(words)} ({path_text(path)})" if words else path_text(path)
