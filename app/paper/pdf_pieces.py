"""From blocks to pieces: bits of a page that are never split, each with its height and its marks."""

from __future__ import annotations

from dataclasses import dataclass, replace

from PySide6.QtCore import QRectF

from app.paper.blocks import (
    Block,
    Box,
    Bullets,
    Curve,
    Heading,
    Label,
    Line,
    Steps,
    Table,
    TankHead,
    WeightRow,
    Weights,
)
from app.paper.pdf_curve import curve_marks
from app.paper.pdf_label import label_marks
from app.paper.pdf_marks import Align, Frame, Mark, Rule, Text, pt, width_of
from app.paper.text import shown, unbroken
from app.wording import paper as say

WEIGHT_POINTS, DOSE_POINTS, SCALE_POINTS = 22.0, 13.5, 10.0
LINE_POINTS = {"normal": 11.5, "strong": 12.0, "small": 10.0}
"""Sizes for whoever reads at the bench with glasses: nothing under 8 points, what is weighed and dosed the largest."""


@dataclass(frozen=True)
class Piece:
    """What is drawn from a top of zero, and how much room it takes; `above` is left free unless it heads a page."""

    height: float
    marks: tuple[Mark, ...]
    above: float = 0.0
    keep_with_next: bool = False


class Pieces:
    """Makes pieces for a page's width [tenths of a point]."""

    def __init__(self, width: float, decimal_mark: str) -> None:
        self.width = width
        self._mark = decimal_mark

    def of(self, block: Block) -> tuple[Piece, ...]:
        """Return the pieces of one block, in order."""
        match block:
            case Heading(text=text):
                return (self._paragraph(text, 14.0, above=14.0, strong=True, keep=True),)
            case Line(text=text, size=size):
                strong = size == "strong"
                return (self._paragraph(text, LINE_POINTS[size], above=12.0 if strong else 4.0, strong=strong),)
            case Steps(lines=lines):
                return self._steps(lines)
            case Bullets(lines=lines):
                return tuple(self._item("\N{EN DASH}", line, 9.5, 10.0, 2.0) for line in lines)
            case Box():
                return self._box(block)
            case Table():
                return self._table(block)
            case TankHead():
                return (self._tank_head(block),)
            case Weights(rows=rows):
                return self._weights(rows)
            case Curve():
                height, curve = curve_marks(block, self.width, self.text)
                return (Piece(height, tuple(curve), pt(10)),)
            case Label():
                height, label = label_marks(block, self.width, self.text)
                return (Piece(height, tuple(label), pt(14)),)

    def text(self, text: str, width: float, points: float, *, strong: bool = False, align: Align = "left") -> Text:
        """Return a text as it is printed, within a width."""
        return Text(unbroken(shown(text, self._mark)), width, points, strong=strong, align=align)

    def _paragraph(self, text: str, points: float, *, above: float, strong: bool = False, keep: bool = False) -> Piece:
        made = self.text(text, self.width, points, strong=strong)
        return Piece(made.height, (made,), pt(above), keep_with_next=keep)

    def _item(self, sign: str, line: str, points: float, indent: float, above: float) -> Piece:
        head = self.text(sign, pt(indent), points, strong=sign != "\N{EN DASH}")
        body = self.text(line, self.width - pt(indent), points).at(pt(indent), 0.0)
        return Piece(body.height, (head, body), pt(above))

    def _steps(self, lines: tuple[str, ...]) -> tuple[Piece, ...]:
        made = [self._item(str(number), line, 12.5, 20.0, 4.0) for number, line in enumerate(lines, 1)]
        return tuple(replace(piece, above=pt(9.0)) if number == 0 else piece for number, piece in enumerate(made))

    def _box(self, box: Box) -> tuple[Piece, ...]:
        pad, frame = pt(11.0), 3.5 if box.loud else 1.0
        size = 12.0 if box.loud else 10.5
        texts = [self.text(box.title, self.width - 2 * pad, size + 1.5, strong=True)]
        texts += [self.text(line, self.width - 2 * pad, size) for line in box.lines]
        return tuple(self._box_line(text, frame, number, len(texts)) for number, text in enumerate(texts))

    def _box_line(self, text: Text, frame: float, number: int, count: int) -> Piece:
        """One line of a box with its part of the frame, so that a box longer than a page may be split."""
        top, bottom = pt(8.0 if number == 0 else 2.0), pt(8.0 if number == count - 1 else 1.0)
        height = top + text.height + bottom
        marks: list[Mark] = [text.at(pt(11.0), top)]
        marks += [Rule(x, 0.0, x, height, frame) for x in (0.0, self.width)]
        marks += [Rule(0.0, 0.0, self.width, 0.0, frame)] if number == 0 else []
        marks += [Rule(0.0, height, self.width, height, frame)] if number == count - 1 else []
        return Piece(height, tuple(marks), pt(12.0) if number == 0 else 0.0, keep_with_next=number == 0)

    def _table(self, table: Table) -> tuple[Piece, ...]:
        widths = self._column_widths(table)
        pieces = [self._table_row(table, table.head, widths, head=True)]
        for number, row in enumerate(table.rows):
            pieces.append(self._table_row(table, row, widths, strong=number in table.strong))
        return tuple(pieces)

    def _table_row(
        self, table: Table, row: tuple[str, ...], widths: list[float], *, head: bool = False, strong: bool = False
    ) -> Piece:
        marks: list[Mark] = []
        left = 0.0
        for column, (cell, width) in enumerate(zip(row, widths, strict=True)):
            align: Align = "right" if column in table.right else "left"
            inner = width - pt(10.0)
            marks.append(self.text(cell, inner, 10.0, strong=head or strong, align=align).at(left + pt(5.0), pt(2.0)))
            left += width
        height = max(mark.height for mark in marks if isinstance(mark, Text)) + pt(4.0)
        marks.append(Rule(0.0, height, self.width, height, 1.25 if head or strong else 0.5, grey=not (head or strong)))
        marks += [Rule(0.0, 0.0, self.width, 0.0, 1.25)] if strong else []
        return Piece(height, tuple(marks), pt(8.0) if head else 0.0, keep_with_next=head)

    def _column_widths(self, table: Table) -> list[float]:
        """Each column as wide as its longest cell; the widest give way where that is too much."""
        cells = zip(table.head, *table.rows, strict=True)
        wanted = [max(width_of(shown(t, self._mark), 10.0, strong=True) for t in column) + pt(12.0) for column in cells]
        cap = max(wanted)
        while sum(min(width, cap) for width in wanted) > self.width:
            cap *= 0.98
        kept = [min(width, cap) for width in wanted]
        spare = (self.width - sum(kept)) / len(kept)
        return [width + spare for width in kept]

    def _tank_head(self, head: TankHead) -> Piece:
        pad, half = pt(12.0), self.width * 0.52
        title = self.text(head.title, half - pad, 25.0, strong=True)
        room = self.width - half - pad
        beside = [
            self.text(head.volume, room, 11.5, align="right"),
            self.text(head.dose, room, DOSE_POINTS, strong=True, align="right"),
            self.text(head.also, room, SCALE_POINTS, align="right"),
        ]
        height = max(title.height, sum(text.height for text in beside)) + pt(16.0)
        marks: list[Mark] = [title.at(pad, (height - title.height) / 2)]
        top = (height - sum(text.height for text in beside)) / 2
        for text in beside:
            marks.append(text.at(half, top))
            top += text.height
        marks.append(Frame(QRectF(0.0, 0.0, self.width, height), 1.5))
        return Piece(height, tuple(marks), pt(18.0), keep_with_next=True)

    def _weights(self, rows: tuple[WeightRow, ...]) -> tuple[Piece, ...]:
        weights = [text for row in rows for text in (row.weight, *row.goes)]
        asides = [text for row in rows for text in (row.scale, row.also)]
        weight_width = min(self._widest(weights, WEIGHT_POINTS, strong=True), self.width * 0.4)
        scale_width = min(self._widest(asides, SCALE_POINTS), self.width * 0.24)
        return tuple(piece for row in rows for piece in self._weight(row, weight_width, scale_width))

    def _widest(self, texts: list[str], points: float, *, strong: bool = False) -> float:
        return max((width_of(shown(text, self._mark), points, strong=strong) for text in texts), default=0.0) + pt(2.0)

    def _weight(self, row: WeightRow, weight_width: float, scale_width: float) -> tuple[Piece, ...]:
        was = self.width - pt(76.0)
        scale = was - scale_width - pt(10.0)
        right = scale - pt(10.0)
        name_width = right - weight_width - pt(8.0) - pt(30.0)
        remarks = "; ".join(text for text in (row.remark, say.goes(len(row.goes)) if row.goes else "") if text)
        name = self.text(row.name, name_width, 13.5)
        left = [name, *([self.text(remarks, name_width, SCALE_POINTS)] if remarks else [])]
        middle = [self.text(row.weight, weight_width, WEIGHT_POINTS, strong=True, align="right")]
        aside = [self.text(text, scale_width, SCALE_POINTS) for text in (row.scale, row.also) if text]
        end = [self.text(say.was(), pt(20.0), SCALE_POINTS)]
        columns = ((pt(30.0), left), (right - weight_width, middle), (scale, aside), (was, end))
        height = max(sum(text.height for text in texts) for _, texts in columns) + pt(9.0)
        marks: list[Mark] = [mark for x, texts in columns for mark in _stacked(texts, x, height)]
        line = (height + end[0].height) / 2
        marks += [Rule(was + pt(22.0), line, self.width, line, 0.75), _row_rule(self.width, height)]
        marks += [] if row.goes else [_tick(height)]
        goes = [self._go(number, text, row, right, weight_width) for number, text in enumerate(row.goes, 1)]
        return (Piece(height, tuple(marks), keep_with_next=bool(row.goes)), *goes)

    def _go(self, number: int, weight: str, row: WeightRow, right: float, weight_width: float) -> Piece:
        name = self.text(say.go_of(number, len(row.goes)), pt(150.0), 11.0)
        load = self.text(weight, weight_width, 16.0, strong=True, align="right")
        height = load.height + pt(9.0)
        marks = (*_stacked([name], pt(30.0), height), *_stacked([load], right - weight_width, height))
        last = number == len(row.goes)
        return Piece(height, (*marks, _tick(height), _row_rule(self.width, height)), keep_with_next=not last)


def _stacked(texts: list[Text], x: float, height: float) -> list[Text]:
    """Texts below each other, centred in a row."""
    top = (height - sum(text.height for text in texts)) / 2
    placed = []
    for text in texts:
        placed.append(text.at(x, top))
        top += text.height
    return placed


def _tick(height: float) -> Frame:
    return Frame(QRectF(pt(1.0), (height - pt(19.0)) / 2, pt(19.0), pt(19.0)), 1.25)


def _row_rule(width: float, height: float) -> Rule:
    return Rule(0.0, height, width, height, 0.75, grey=True)
