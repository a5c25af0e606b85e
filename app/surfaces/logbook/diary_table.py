"""The table of the diary: arrows walk it, Enter or a double click changes, Delete takes entries out."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHeaderView,
    QLineEdit,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from app.surfaces.logbook.diary_model import COLUMNS, DiaryModel
from app.widgets import paint, theme
from app.widgets.slim_bar import SlimBar
from app.wording import logbook as say

ROW, HEAD, ROWS_AT_MOST = 28, 30, 14
WIDTHS = {"at": 130, "level_l": 66, "ec_ms_per_cm": 68, "foretold": 72, "off": 60, "ph": 48, "temperature_c": 52}
PAD = 7
"""Room at either side of a cell, so that a figure at the right end keeps off the words that begin at the left."""

NOTE_SHARE, LEAST_WORDS = 0.34, 260


class _Head(QHeaderView):
    """The words alone, on the card, over the cells' own edge."""

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:  # noqa: N803  # Qt's own name
        colours, model = theme.colours(), self.model()
        painter.fillRect(rect, colours.card)
        painter.fillRect(QRect(rect.left(), rect.bottom(), rect.width(), 1), colours.line)
        words = str(model.headerData(logicalIndex, Qt.Orientation.Horizontal))
        aligned = model.headerData(logicalIndex, Qt.Orientation.Horizontal, Qt.ItemDataRole.TextAlignmentRole)
        align = paint.RIGHT if Qt.AlignmentFlag(aligned) & Qt.AlignmentFlag.AlignRight else paint.LEFT
        place = QRectF(rect).adjusted(theme.px(PAD), 0, -theme.px(PAD), 0)
        paint.text(painter, place, words, theme.small(), colours.muted, align)


class _PlainText(QStyledItemDelegate):
    """Edits every cell as text: what was typed reaches the model as it is."""

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        inner = QStyleOptionViewItem(option)
        style = inner.widget.style()
        style.drawPrimitive(QStyle.PrimitiveElement.PE_PanelItemViewItem, inner, painter, inner.widget)
        inner.rect = option.rect.adjusted(theme.px(PAD) - 3, 0, 3 - theme.px(PAD), 0)
        super().paint(painter, inner, index)

    def createEditor(
        self, parent: QWidget, _option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QWidget:
        editor = QLineEdit(parent)
        editor.setFrame(False)
        editor.setFont(theme.font())
        editor.setAccessibleName(say.column(COLUMNS[index.column()]))
        editor.setAlignment(Qt.AlignmentFlag(index.data(Qt.ItemDataRole.TextAlignmentRole)))
        return editor


class DiaryTable(QTableView):
    """Shows the model.

    Signals
    -------
    deleted : places of entries in the diary that are to be taken out.
    wanted : the place of an entry that is to be changed as a whole.
    """

    deleted = Signal(object)
    wanted = Signal(int)

    def __init__(self, parent: QWidget, model: DiaryModel) -> None:
        super().__init__(parent)
        self._model = model
        self._scrolls = False
        self.setModel(model)
        self.setItemDelegate(_PlainText(self))
        self.setAccessibleName(say.column("did"))
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setShowGrid(False)
        self.setAlternatingRowColors(True)
        self.setFont(theme.font(12.5))
        self.setTabKeyNavigation(False)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setEditTriggers(QAbstractItemView.EditTrigger.EditKeyPressed | QAbstractItemView.EditTrigger.AnyKeyPressed)
        self.setVerticalScrollBar(SlimBar())
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(theme.px(ROW))
        head = _Head(Qt.Orientation.Horizontal, self)
        head.setFixedHeight(theme.px(HEAD))
        self.setHorizontalHeader(head)
        head.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.doubleClicked.connect(self._open)

    def wanted_height(self) -> int:
        """Return the height that shows all entries, or as many as are shown at once [px]."""
        rows = max(1, min(self._model.rowCount(), ROWS_AT_MOST))
        bar = self.horizontalScrollBar().sizeHint().height() if self._scrolls else 0
        return theme.px(HEAD) + rows * theme.px(ROW) + bar + theme.px(2)

    def fit(self, width: int) -> None:
        """Share the width out among the columns."""
        bar = self.verticalScrollBar().sizeHint().width() if self._model.rowCount() > ROWS_AT_MOST else 0
        fixed = {name: max(theme.px(wide), self._head_width(name)) for name, wide in WIDTHS.items()}
        rest = max(theme.px(LEAST_WORDS), width - bar - sum(fixed.values()))
        self._scrolls = rest + sum(fixed.values()) > width - bar
        policy = Qt.ScrollBarPolicy.ScrollBarAlwaysOn if self._scrolls else Qt.ScrollBarPolicy.ScrollBarAlwaysOff
        self.setHorizontalScrollBarPolicy(policy)
        fixed |= {"note": round(NOTE_SHARE * rest), "did": rest - round(NOTE_SHARE * rest)}
        for number, name in enumerate(COLUMNS):
            self.setColumnWidth(number, fixed[name])

    def _head_width(self, name: str) -> int:
        return theme.small().width(say.column(name)) + theme.px(2 * PAD + 2)

    def _open(self, index: QModelIndex) -> None:
        if index.flags() & Qt.ItemFlag.ItemIsEditable:
            self.edit(index)
        else:
            self.wanted.emit(self._model.place(index.row()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        editing = self.state() is QAbstractItemView.State.EditingState
        if not editing and event.key() == Qt.Key.Key_Delete:
            rows = {index.row() for index in self.selectionModel().selectedRows()}
            if rows:
                self.deleted.emit(sorted(self._model.place(row) for row in rows))
        elif not editing and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.currentIndex().isValid():
            self._open(self.currentIndex())
        else:
            super().keyPressEvent(event)

    def sizeHint(self) -> QSize:
        return QSize(theme.px(600), self.wanted_height())
