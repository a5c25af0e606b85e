"""Text in columns."""

from __future__ import annotations

from collections.abc import Sequence

GAP = "  "


def aligned(rows: Sequence[Sequence[str]], right: frozenset[int] = frozenset(), indent: str = "") -> list[str]:
    """Return one line per row with its cells in columns, those of the columns in `right` flush right.

    Raises
    ------
    ValueError : the rows are not all of one length.
    """
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return [
        indent + GAP.join(_cell(row[i], widths[i], i in right) for i in range(len(widths))).rstrip() for row in rows
    ]


def at_the_point(amounts: Sequence[str]) -> list[str]:
    """Return amounts such as "4210 g", "7.69 g", padded so that decimal marks and units stand below each other."""
    parts = [_parts(amount) for amount in amounts]
    left = max((len(whole) for whole, _fraction, _unit in parts), default=0)
    right = max((len(fraction) for _whole, fraction, _unit in parts), default=0)
    return [f"{whole:>{left}}{fraction:<{right}} {unit}".rstrip() for whole, fraction, unit in parts]


def _parts(amount: str) -> tuple[str, str, str]:
    number, _space, unit = amount.partition(" ")
    whole = number.partition(".")[0]
    return whole, number.removeprefix(whole), unit


def _cell(text: str, width: int, is_right: bool) -> str:
    return text.rjust(width) if is_right else text.ljust(width)
