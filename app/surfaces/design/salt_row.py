"""One product on the shelf: how much of it for a tank, how much in the feed, where it goes, what it brings."""

from __future__ import annotations

from typing import NamedTuple

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QRegion
from PySide6.QtWidgets import QWidget

from app.surfaces.tank_marks import place_colour
from app.widgets import paint, theme
from app.widgets.afterwards import afterwards
from app.widgets.card import PAD
from app.widgets.quantity_field import QuantityField
from app.widgets.reading import Reader, read_plain
from app.widgets.stripe import Stripe
from app.wording import surfaces as say

BRINGS_FROM, ONE_LINE_FROM = 600, 470
"""Narrower cards first leave out what a salt brings, then put where it goes on a second line: no name is cut."""


WIDEST_NAMES = 770
"""In wider cards the names stop growing, so that the eye need not travel from a name to its weight."""


class SaltLine(NamedTuple):
    """What one row shows, already in words."""

    entry_id: str
    name: str
    grade: str
    weight: str
    solved: str
    fixed_mg_per_l: float | None
    place: str
    place_number: int | None
    brings: str
    used: bool
    total: str = ""
    """The weight of all tanks, for where those of each do not fit."""


class SaltColumns(NamedTuple):
    """Where the columns of the salts begin and how wide they are, from the card's left edge [px]."""

    name: tuple[int, int]
    weight: tuple[int, int]
    field: tuple[int, int]
    place: tuple[int, int]
    brings: tuple[int, int]
    one_line: bool


def salt_columns(width: int, name_px: int = 0, place_px: int = 0) -> SaltColumns:
    """Return the columns of a salts card this wide; names take what is left.

    Parameters
    ----------
    name_px : what the longest name takes [px]; where it would be cut, what a salt brings is left out first.
    place_px : what the longest name of a tank takes [px].
    """
    left, right, gap = theme.px(PAD), width - theme.px(PAD), theme.px(12)
    weight, field, place = theme.px(74), theme.px(68), max(theme.px(112), place_px)
    spare = width - 2 * left - 2 * gap - weight - field - place - name_px
    one_line = width >= theme.px(ONE_LINE_FROM) and spare >= 0
    if not one_line:
        field_left = right - field
        weight_left = field_left - gap - weight
        name = (left, weight_left - left - gap)
        below = (left, weight_left - left)
        return SaltColumns(name, (weight_left, weight), (field_left, field), below, below, one_line)
    brings = theme.px(146) if width >= theme.px(BRINGS_FROM) and spare >= theme.px(146) else 0
    brings += max(0, width - theme.px(WIDEST_NAMES)) if brings else 0
    brings_left = right - brings
    place_left = brings_left - place
    field_left = place_left - gap - field
    weight_left = field_left - gap - weight
    return SaltColumns(
        (left, weight_left - left),
        (weight_left, weight),
        (field_left, field),
        (place_left, place),
        (brings_left, brings),
        one_line,
    )


class SaltRow(Stripe):
    """Shows one `SaltLine`; its field fixes the amount, emptied it leaves the choice to the program."""

    def __init__(self, parent: QWidget, entry_id: str, reader: Reader = read_plain) -> None:
        super().__init__(parent)
        self.entry_id = entry_id
        self.product = ""
        self._line: SaltLine | None = None
        self._columns = salt_columns(640)
        self.field = self.hold(QuantityField(self, reader, quiet=True))

    def show_line(self, line: SaltLine) -> None:
        """Show this line."""
        self.field.set_quantity(line.fixed_mg_per_l)
        if line == self._line:
            return
        self._update_changes(line)
        self._line = line
        fixed = line.fixed_mg_per_l is not None
        self.product = f"{line.name} {line.grade}".strip()
        self.field.set_hint(line.solved)
        self.field.set_strong(fixed)
        afterwards(self, self._tell)

    def _tell(self) -> None:
        line = self._line
        if line is not None:
            self.field.setAccessibleName(say.amount_name(self.product))
            self.field.setAccessibleDescription(say.amount_help(line.fixed_mg_per_l is not None, line.solved))
            words = say.salt_row_text(self.product, line.weight, line.place, line.brings) if line.used else self.product
            self.setAccessibleName(words)
            self.setToolTip(words)

    def _update_changes(self, line: SaltLine) -> None:
        """Have painted anew only what differs: while one types that is mostly the weight."""
        old = self._line
        if old is None or old[:3] != line[:3] or old[6:8] != line[6:8] or old.used != line.used:
            self.update()
            return
        if old.weight != line.weight:
            self.update_cell(self._columns.weight)
        if old.brings != line.brings and self._columns.brings[1]:
            self.update_cell(self._columns.brings)

    def name_width(self) -> int:
        """Return how wide the product's name and grade are at the least [px]."""
        if self._line is None:
            return 0
        grade = theme.small().smaller().width(self._line.grade) + theme.px(6) if self._line.grade else 0
        return theme.font().width(self._line.name) + grade

    def place_width(self) -> int:
        """Return how wide the name of the tank it goes into is with its dot [px]."""
        return 0 if self._line is None else theme.small().width(self._line.place) + theme.px(12)

    def arrange(self, columns: SaltColumns) -> None:
        """Place the parts in the card's columns."""
        if columns != self._columns:
            self._columns = columns
            self.update()
        self.put(self.field, *columns.field, self.field.height())

    def paint_row(self, painter: QPainter, dirty: QRegion) -> None:
        line, columns, colours = self._line, self._columns, theme.colours()
        if line is None:
            return
        if self.touches(dirty, columns.weight):
            ink = colours.text if line.used else colours.muted
            weight = self.cell(columns.weight)
            face = theme.font(strong=line.used)
            each = not line.total or face.width(line.weight) <= weight.width()
            paint.text(painter, weight, line.weight if each else line.total, face, ink, paint.RIGHT)
        if not columns.one_line:
            first, second = self._lines_of_text()
            self._paint_name(painter, _cell(columns.name, first), line)
            self._paint_second_line(painter, _cell(columns.place, second), line)
            return
        if self.touches(dirty, columns.name):
            self._paint_name(painter, self.cell(columns.name), line)
        if self.touches(dirty, columns.place):
            self._paint_place(painter, self.cell(columns.place), line)
        if self.touches(dirty, columns.brings):
            paint.text(painter, self.cell(columns.brings), line.brings, theme.small(), colours.muted)

    def _lines_of_text(self) -> tuple[QRectF, QRectF]:
        whole = QRectF(0, 0, self.width(), self.height())
        if self._columns.one_line:
            return whole, whole
        middle, each = self.height() / 2, theme.px(17)
        return QRectF(0, middle - each, 0, each), QRectF(0, middle, 0, each)

    def _paint_name(self, painter: QPainter, cell: QRectF, line: SaltLine) -> None:
        colours, font = theme.colours(), theme.font()
        paint.text(painter, cell, line.name, font, colours.text if line.used else colours.muted)
        used = font.width(line.name) + theme.px(6)
        paint.text(painter, cell.adjusted(used, 0, 0, 0), line.grade, theme.small(), colours.muted)

    def _paint_second_line(self, painter: QPainter, cell: QRectF, line: SaltLine) -> None:
        used = self._paint_place(painter, cell, line)
        paint.text(painter, cell.adjusted(used, 0, 0, 0), line.brings, theme.small(), theme.colours().muted)

    def _paint_place(self, painter: QPainter, cell: QRectF, line: SaltLine) -> int:
        """Paint where the salt goes and return how much of the cell that took."""
        if not line.place:
            return 0
        face, colour, dot = theme.small(), place_colour(line.place_number), theme.px(6)
        paint.panel(painter, QRectF(cell.left(), cell.center().y() - dot / 2, dot, dot), colour, None, theme.px(2))
        paint.text(painter, cell.adjusted(theme.px(12), 0, 0, 0), line.place, face, colour)
        return face.width(line.place) + theme.px(22)


def _cell(column: tuple[int, int], line: QRectF) -> QRectF:
    return QRectF(column[0], line.top(), column[1], line.height())
