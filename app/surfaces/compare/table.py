"""The variants side by side: a column each; arrows walk the cells, Ctrl+C copies the columns chosen."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    QRect,
    QRectF,
    Qt,
    Signal,
)
from PySide6.QtGui import QFontMetrics, QKeyEvent, QKeySequence, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QFrame,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from app.session.side_by_side import Column
from app.surfaces.compare.frozen import Frozen
from app.surfaces.compare.place_mark import paint_place
from app.surfaces.compare.rows import Cell, Row, copied_text, head_of, rows_of, word_of
from app.widgets import paint, theme
from app.widgets.slim_bar import SlimBar
from app.wording import comparing as say
from app.wording import verdict_word

Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole
Hint = QAbstractItemView.ScrollHint

ROW, HEAD, BAR, NUMBER, GAP = 23, 30, 44, 54, 8
LEAST_COLUMN = 148
PAD = 8


class CompareModel(QAbstractTableModel):
    """A column per variant, a row per amount, nutrient and figure."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: tuple[Row, ...] = ()
        self.heads: list[tuple[str, str]] = []
        self.chosen = 0

    def show(self, columns: tuple[Column, ...]) -> None:
        """Show these variants."""
        rows = rows_of(columns)
        heads = [head_of(column.held, column.recipe.title, column.recipe.goal) for column in columns]
        if [row[:2] for row in rows] == [row[:2] for row in self.rows] and len(heads) == len(self.heads):
            self.rows, self.heads = rows, heads
            self.dataChanged.emit(self.index(0, 0), self.index(len(rows) - 1, len(heads) - 1))
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(heads) - 1)
        else:
            self.beginResetModel()
            self.rows, self.heads = rows, heads
            self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008  # Qt's own signature
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.heads)

    def cell(self, index: Index) -> Cell:
        """Return what stands at a place; a section's line holds nothing."""
        row = self.rows[index.row()]
        return Cell() if row.is_section else row.cells[index.column()]

    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:
        if not index.isValid():
            return None
        cell = self.cell(index)
        if role == Role.DisplayRole:
            return cell.text
        if role == Role.AccessibleTextRole:
            return ", ".join(filter(None, (cell.text, cell.told)))
        if role == Role.ToolTipRole:
            return cell.told or None
        return None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> Any:
        if orientation == Qt.Orientation.Horizontal:
            if role in (Role.DisplayRole, Role.ToolTipRole, Role.AccessibleTextRole) and section < len(self.heads):
                return ", ".join(self.heads[section])
            return None
        known = section < len(self.rows)
        return self.rows[section].name if role in (Role.DisplayRole, Role.AccessibleTextRole) and known else None


class _Names(QHeaderView):
    """The names of the rows at the left."""

    def __init__(self, parent: QWidget, model: CompareModel) -> None:
        super().__init__(Qt.Orientation.Vertical, parent)
        self._rows = model

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:  # noqa: N803  # Qt's own name
        colours, row = theme.colours(), self._rows.rows[logicalIndex]
        painter.fillRect(rect, colours.card)
        place = QRectF(rect).adjusted(theme.px(PAD), 0, -theme.px(4), 0)
        if row.is_section:
            place.translate(0, theme.px(3))
        else:
            painter.fillRect(QRectF(rect.left() + theme.px(PAD), rect.bottom(), rect.width(), 1), colours.line)
        face = theme.font(12.5, strong=row.is_section)
        paint.text(painter, place, row.name, face, colours.text)


class _Heads(QHeaderView):
    """The names of the variants on top, each with what it is."""

    def __init__(self, parent: QWidget, model: CompareModel) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self._model = model

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:  # noqa: N803  # Qt's own name
        colours = theme.colours()
        name, kind = self._model.heads[logicalIndex]
        chosen = logicalIndex == self._model.chosen
        painter.fillRect(rect, colours.rail_chosen if chosen else colours.card)
        if chosen:
            painter.fillRect(QRectF(rect.left(), rect.top(), rect.width(), theme.px(3)), colours.accent)
        place = QRectF(rect).adjusted(theme.px(PAD), theme.px(6), -theme.px(PAD), -theme.px(20))
        face = theme.font(12.5, strong=True)
        painter.save()
        painter.setClipRect(place)
        paint.paragraph(painter, place, name, face, colours.text, paint.TOP)
        painter.restore()
        below = QRectF(place.left(), rect.bottom() - theme.px(20), place.width(), theme.px(18))
        paint.text(painter, below, kind, theme.font(11.5), colours.muted)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter, used = QPainter(self.viewport()), self.length() - self.offset()
        painter.fillRect(used, 0, max(0, self.viewport().width() - used), self.height(), theme.colours().card)


class _Cells(QStyledItemDelegate):
    """Paints a cell: its text, and for a nutrient its place and the word for it."""

    def __init__(self, parent: QWidget, model: CompareModel) -> None:
        super().__init__(parent)
        self._model = model

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        colours, cell, place = theme.colours(), self._model.cell(index), QRectF(option.rect)
        chosen = index.column() == self._model.chosen
        painter.fillRect(place, colours.rail_chosen if chosen else colours.card)
        if not self._model.rows[index.row()].is_section:
            painter.fillRect(QRectF(place.left(), place.bottom() - 1, place.width(), 1), colours.line)
        inner = place.adjusted(theme.px(PAD), 0, -theme.px(PAD), 0)
        if inner.left() + theme.px(NUMBER) < 0.0:
            return  # the tail of a variant scrolled away tells nothing without its number
        ink = colours.check if cell.off else colours.text
        face = theme.font(12.5, strong=cell.off)
        number = QRectF(inner.left(), inner.top(), theme.px(NUMBER), inner.height())
        short = face.width(cell.text) <= number.width()
        paint.text(painter, number if short else inner, cell.text, face, ink, paint.RIGHT if short else paint.LEFT)
        if cell.row is not None:
            bar = QRectF(number.right() + theme.px(GAP), inner.top(), theme.px(BAR), inner.height())
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            paint_place(painter, bar, cell.row)
            word = inner.adjusted(bar.right() - inner.left() + theme.px(6), 0, 0, 0)
            paint.text(painter, word, word_of(cell), theme.small(), ink if cell.off else colours.muted)
        view = self.parent()
        if isinstance(view, QTableView) and view.hasFocus() and view.currentIndex() == index:
            paint.focus_ring(painter, place.adjusted(1, 1, -1, -2), colours.focus, theme.px(3))


class CompareTable(QTableView):
    """Shows the model.

    Signals
    -------
    chosen : the column the keyboard or the mouse is in.
    open_wanted, remove_wanted : Enter, or Delete, was pressed on the column chosen.
    """

    chosen = Signal(int)
    open_wanted = Signal()
    remove_wanted = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.compared = CompareModel()
        self.compared.setParent(self)
        self.setVerticalHeader(_Names(self, self.compared))
        self.setHorizontalHeader(_Heads(self, self.compared))
        self.setItemDelegate(_Cells(self, self.compared))
        self.setModel(self.compared)
        self.setAccessibleName(say.table_name())
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setShowGrid(False)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectColumns)
        self.setTabKeyNavigation(False)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerItem)  # never half a variant at the left
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setVerticalScrollBar(SlimBar())
        self.setHorizontalScrollBar(SlimBar(Qt.Orientation.Horizontal))
        for corner in self.findChildren(QAbstractButton):
            corner.setMaximumSize(0, 0)
        rows, heads = self.verticalHeader(), self.horizontalHeader()
        rows.setDefaultSectionSize(theme.px(ROW))
        heads.setFixedHeight(theme.px(2 * HEAD))
        heads.setSectionsClickable(True)
        for header in (rows, heads):
            header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
            header.setHighlightSections(False)
        self.frozen = Frozen(self)
        self.selectionModel().currentChanged.connect(lambda now, _before: self._choose(now.column()))

    def show_columns(self, columns: tuple[Column, ...]) -> None:
        """Show these variants; the one chosen stays chosen as long as it is there."""
        chosen, row = self.compared.chosen, max(1, self.currentIndex().row())
        self.compared.show(columns)
        self._fit()
        self.choose(min(chosen, len(columns) - 1), row)

    def choose(self, column: int, row: int = 1) -> None:
        """Have this column chosen."""
        if 0 <= column < self.compared.columnCount() and self.compared.rows:
            index = self.compared.index(min(row, len(self.compared.rows) - 1), column)
            command = QItemSelectionModel.SelectionFlag.ClearAndSelect | QItemSelectionModel.SelectionFlag.Columns
            self.selectionModel().setCurrentIndex(index, command)
            self._choose(column)

    def copy(self) -> None:
        """Put the columns chosen on the clipboard, with the names of the rows before them."""
        picked = sorted({index.column() for index in self.selectionModel().selectedColumns()})
        heads = [name for name, _kind in self.compared.heads]
        QApplication.clipboard().setText(copied_text(self.compared.rows, heads, picked or [self.compared.chosen]))

    def _choose(self, column: int) -> None:
        if column >= 0:
            self.compared.chosen = column
            self.viewport().update()
            self.horizontalHeader().viewport().update()
            self.frozen.update()
            self.chosen.emit(column)

    def _fit(self) -> None:
        """Give names and columns the width of what stands in them."""
        plain, strong = theme.font(12.5), theme.font(12.5, strong=True)
        names = [(strong if row.is_section else plain).width(row.name) for row in self.compared.rows]
        self.verticalHeader().setFixedWidth(max(names, default=0) + theme.px(PAD + 10))
        words = max(theme.small().width(verdict_word(word)) for word in ("met", "fine", "short", "over"))
        least = max(theme.px(LEAST_COLUMN), theme.px(NUMBER + GAP + BAR + 6 + 2 * PAD) + words + 2)
        cells = [cell for row in self.compared.rows if not row.is_section for cell in row.cells if cell.row is None]
        texts = [strong.width(cell.text) for cell in cells]
        texts += [theme.font(11.5).width(kind) for _name, kind in self.compared.heads]
        wide = max(least, max(texts, default=0) + theme.px(2 * PAD + 4))  # one width for all: the first covers any
        for column in range(len(self.compared.heads)):
            self.setColumnWidth(column, wide)
        tall = max((wrapped_height(name, wide - theme.px(2 * PAD)) for name, _kind in self.compared.heads), default=0)
        self.horizontalHeader().setFixedHeight(tall + theme.px(HEAD))
        self.frozen.place()

    def scrollTo(self, index: Index, hint: Hint = Hint.EnsureVisible) -> None:
        """Scroll a cell into view, and out from under the first column."""
        bar = self.horizontalScrollBar()
        before = bar.value()
        super().scrollTo(index, hint)
        if index.column() == 0:
            bar.setValue(before)  # it is in view wherever the others are
        elif 0 < index.column() <= bar.value():
            bar.setValue(index.column() - 1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.frozen.place()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copy()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.open_wanted.emit()
        elif event.key() == Qt.Key.Key_Delete:
            self.remove_wanted.emit()
        else:
            super().keyPressEvent(event)


def wrapped_height(words: str, width: int) -> int:
    """Return how tall the name of a variant is when it is broken to this width [px]."""
    face = theme.font(12.5, strong=True)
    wrap = int(Qt.TextFlag.TextWordWrap)
    return QFontMetrics(face).boundingRect(QRect(0, 0, width, 10_000), wrap, words).height()
