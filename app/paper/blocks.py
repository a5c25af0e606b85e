"""What a page is made of, without saying how it is drawn: HTML and PDF are both made from these."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True)
class Heading:
    """The heading of a section."""

    text: str


@dataclass(frozen=True)
class Line:
    """A paragraph."""

    text: str
    size: Literal["normal", "strong", "small"] = "normal"


@dataclass(frozen=True)
class TankHead:
    """A tank's name in a frame, large, with how much and how to dose beside it."""

    title: str
    volume: str
    dose: str
    also: str


@dataclass(frozen=True)
class WeightRow:
    """One thing to weigh or measure; `goes` are its loads where one is not enough, `grams` the weight for programs."""

    name: str
    remark: str
    weight: str
    scale: str
    also: str = ""
    goes: tuple[str, ...] = ()
    grams: str = ""


@dataclass(frozen=True)
class Weights:
    """Rows with a box to tick each."""

    rows: tuple[WeightRow, ...]


@dataclass(frozen=True)
class Steps:
    """Numbered steps."""

    lines: tuple[str, ...]


@dataclass(frozen=True)
class Bullets:
    """Short lines, each with a dash."""

    lines: tuple[str, ...]


@dataclass(frozen=True)
class Box:
    """A framed box with a strong first line; a loud one has a heavy frame."""

    title: str
    lines: tuple[str, ...]
    loud: bool = False


@dataclass(frozen=True)
class Table:
    """A table; columns in `right` are numbers, rows in `strong` stand out."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: frozenset[int] = frozenset()
    strong: frozenset[int] = frozenset()


@dataclass(frozen=True)
class Curve:
    """A line through points, with ticks as (place, text) along both axes and one point marked."""

    points: tuple[tuple[float, float], ...]
    x_ticks: tuple[tuple[float, str], ...]
    y_ticks: tuple[tuple[float, str], ...]
    x_label: str
    y_label: str
    mark: tuple[float, float]
    mark_label: str


@dataclass(frozen=True)
class Label:
    """A label to cut out and stick on a jug; `title` is the largest thing on it."""

    title: str
    dose: str
    also: str
    recipe: str
    blanks: tuple[str, ...]
    holds: str
    signal: str
    hazards: tuple[str, ...]
    care: tuple[str, ...]


Block = Heading | Line | TankHead | Weights | Steps | Bullets | Box | Table | Curve | Label


@dataclass(frozen=True)
class Together:
    """Blocks that stay on one page where they fit on one."""

    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class Part:
    """A part of the paper, which begins on a page of its own."""

    name: Literal["sheet", "labels", "card", "summary"]
    title: str
    blocks: tuple[Block | Together, ...]


@dataclass(frozen=True)
class Document:
    """Everything that is printed at once."""

    title: str
    parts: tuple[Part, ...]
    decimal_mark: str = "."
