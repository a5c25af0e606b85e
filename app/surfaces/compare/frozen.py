"""The first column of the table, kept in view over those that were scrolled away."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRect, QRectF
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QStyleOptionViewItem, QWidget

from app.widgets import theme

if TYPE_CHECKING:
    from app.surfaces.compare.table import CompareTable


class Frozen(QWidget):
    """Paints what everything is compared with, at the left; a click chooses it.

    It covers the column that lies at the left, so that scrolling by one hides one more of the others.
    """

    def __init__(self, table: CompareTable) -> None:
        super().__init__(table)
        self._table = table
        table.horizontalScrollBar().valueChanged.connect(lambda _value: self.place())
        table.verticalScrollBar().valueChanged.connect(lambda _value: self.update())
        self.hide()

    def place(self) -> None:
        """Lie where the first column would, as long as that is scrolled away."""
        table = self._table
        head = table.horizontalHeader()
        left = table.viewport().x()
        tall = head.height() + table.viewport().height()
        away = table.horizontalScrollBar().value()
        next_at = table.columnViewportPosition(away + 1) if away + 1 < table.compared.columnCount() else 0
        wide = max(table.columnWidth(0), next_at)  # at the far end the column it covers does not begin at the left
        self.setGeometry(left, table.viewport().y() - head.height(), wide, tall)
        self.setVisible(away > 0)
        self.raise_()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        row = self._table.rowAt(round(event.position().y()) - self._table.horizontalHeader().height())
        self._table.choose(0, max(row, 1))
        self._table.setFocus()

    def paintEvent(self, _event: QPaintEvent) -> None:
        table, painter = self._table, QPainter(self)
        head = table.horizontalHeader()
        painter.fillRect(self.rect(), theme.colours().card)
        painter.save()
        painter.setClipRect(0, head.height(), self.width(), self.height() - head.height())
        for row in range(table.compared.rowCount()):
            option = QStyleOptionViewItem()
            top = head.height() + table.rowViewportPosition(row)
            option.rect = QRect(0, top, self.width(), table.rowHeight(row))
            if top + option.rect.height() > head.height() and top < self.height():
                table.itemDelegate().paint(painter, option, table.compared.index(row, 0))
        painter.restore()
        head.paintSection(painter, QRect(0, 0, self.width(), head.height()), 0)
        painter.fillRect(QRectF(self.width() - 1, 0, 1, self.height()), theme.colours().field_line)
