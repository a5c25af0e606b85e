"""One row of a card: paints its own ground, so that only what changed is painted anew."""

from __future__ import annotations

from PySide6.QtCore import QRect, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QRegion
from PySide6.QtWidgets import QWidget

from app.widgets import theme
from app.widgets.quantity_field import QuantityField

MARK = 3
EDGE = 1
"""The card's hairline at either side, which the row leaves uncovered [px]."""


class Stripe(QWidget):
    """An opaque row across a card; subclasses paint on with `paint_row`, in coordinates of the card."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._striped = False
        self._marked = False
        self._fields: list[QuantityField] = []
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def place(self, top: int, width: int, height: int, striped: bool) -> None:
        """Lie across a card this wide at this height, every other row on a ground of its own."""
        across = QRect(EDGE, top, width - 2 * EDGE, height)
        if across != self.geometry():
            self.setGeometry(across)
        if striped != self._striped:
            self._striped = striped
            self.update()
            for field in self._fields:
                field.update()

    def mark(self, marked: bool) -> None:
        """Mark the row at its left edge as one that the last edit changed, or not."""
        if marked != self._marked:
            self._marked = marked
            self.update(0, 0, theme.px(MARK), self.height())

    def hold(self, field: QuantityField) -> QuantityField:
        """Take in a field, whose corners show the row's ground."""
        self._fields.append(field)
        field.lie_on(self.ground)
        return field

    def ground(self) -> QColor:
        """Return the colour the row lies on."""
        colours = theme.colours()
        return colours.zebra if self._striped else colours.card

    def put(self, part: QWidget, left: int, width: int, height: int) -> None:
        """Place a part of the row, centred in its height, at card coordinates."""
        home = QRect(left - EDGE, (self.height() - height) // 2, width, height)
        if isinstance(part, QuantityField):
            part.put(home)
        else:
            part.setGeometry(home)

    def paint_row(self, painter: QPainter, dirty: QRegion) -> None:
        """Paint the row's text, at least where the dirty region is."""

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, dirty = QPainter(self), event.rect()
        painter.fillRect(dirty, self.ground())
        if self._marked and dirty.left() < theme.px(MARK):
            painter.fillRect(0, theme.px(4), theme.px(MARK), self.height() - 2 * theme.px(4), theme.colours().added)
        painter.translate(-EDGE, 0)
        self.paint_row(painter, event.region().translated(EDGE, 0))

    def cell(self, column: tuple[int, int]) -> QRectF:
        """Return a column's place in this row."""
        return QRectF(column[0], 0, column[1], self.height())

    def touches(self, dirty: QRegion, column: tuple[int, int]) -> bool:
        """Return whether a column has to be painted anew."""
        return column[1] > 0 and dirty.intersects(QRect(column[0], 0, column[1], self.height()))

    def update_cell(self, column: tuple[int, int]) -> None:
        """Have one column painted anew."""
        self.update(column[0] - EDGE, 0, column[1], self.height())

    def update_from(self, first: tuple[int, int], last: tuple[int, int]) -> None:
        """Have neighbouring columns painted anew."""
        self.update(first[0] - EDGE, 0, last[0] + last[1] - first[0], self.height())
