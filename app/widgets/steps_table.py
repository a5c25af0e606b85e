"""What one step of a bound or a target does, as a small table: the step, the money, the fit."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from app.widgets import paint, theme
from app.wording.figures import DASH

RIGHT = (1, 2)
"""Columns of figures."""

Row = tuple[str, ...]


class StepsTable(QWidget):
    """A line per step; the keyboard stops at the whole, so that a screen reader says it. No rows take no room."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._rows: list[Row] = []
        self._cells: list[QLabel] = []
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(theme.px(4), theme.px(2), theme.px(4), theme.px(2))
        self._grid.setHorizontalSpacing(theme.px(14))
        self._grid.setVerticalSpacing(theme.px(2))
        self._grid.setColumnStretch(0, 2)
        self._grid.setColumnStretch(3, 3)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.hide()

    def show_rows(self, head: Row, rows: list[Row], spoken: str) -> None:
        """Show these rows below their headings, without a column in which none holds anything.

        spoken : the same in sentences
        """
        self._rows = [head, *rows] if rows else []
        held = [n for n in range(len(head)) if any(row[n] not in ("", DASH) for row in rows)]
        for old in self._cells:
            old.hide()
            self._grid.removeWidget(old)
            old.deleteLater()
        self._cells = [self._cell(line, column) for line in range(len(self._rows)) for column in held]
        self.setAccessibleName(spoken)
        self.setVisible(bool(rows))

    def rows(self) -> list[Row]:
        """Return what is shown, without the headings."""
        return self._rows[1:]

    def _cell(self, line: int, column: int) -> QLabel:
        cell = QLabel(self._rows[line][column], self)
        cell.setTextFormat(Qt.TextFormat.PlainText)
        cell.setFont(theme.small() if line == 0 else theme.font(12.5, strong=column == 2))
        side = Qt.AlignmentFlag.AlignRight if column in RIGHT else Qt.AlignmentFlag.AlignLeft
        cell.setAlignment(side | Qt.AlignmentFlag.AlignTop)
        cell.setWordWrap(column in (0, 3))
        if line == 0 or column == 3:
            cell.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        self._grid.addWidget(cell, line, column)
        cell.show()
        return cell

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self.hasFocus():
            paint.focus_ring(QPainter(self), QRectF(self.rect()), theme.colours().focus, theme.px(4))
