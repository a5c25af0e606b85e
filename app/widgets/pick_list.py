"""Find one of many by a few letters: a field and, below it, what fits; arrows choose, Enter takes."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from typing import NamedTuple

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPainter
from PySide6.QtWidgets import (
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from app.widgets import paint, theme
from app.widgets.form_text import FormText
from app.widgets.slim_bar import SlimBar

ROW, ROWS_AT_MOST = 26, 8
_SUBSCRIPTS = str.maketrans("₀₁₂₃₄₅₆₇₈₉·", "0123456789 ")


class Pick(NamedTuple):
    """One thing to find: its key, what is shown at the left and at the right, and what else it is found by."""

    key: str
    name: str
    aside: str = ""
    also: str = ""


def folded(text: str) -> str:
    """Return text as it is compared: no case, no accents, no lowered figures."""
    plain = unicodedata.normalize("NFKD", text.translate(_SUBSCRIPTS))
    return " ".join("".join(letter for letter in plain if not unicodedata.combining(letter)).casefold().split())


def found(picks: tuple[Pick, ...], text: str) -> list[Pick]:
    """Return the picks that hold every word typed: those that begin with it first, then in their own order."""
    words = folded(text).split()
    fitting = []
    for number, pick in enumerate(picks):
        hay = folded(f"{pick.name} {pick.aside} {pick.also}")
        if all(word in hay for word in words):
            starts = bool(words) and not any(part.startswith(words[0]) for part in hay.split())
            fitting.append((starts, number, pick))
    return [pick for _starts, _number, pick in sorted(fitting, key=lambda fit: fit[:2])]


class _Lines(QStyledItemDelegate):
    """Paints name and aside of a pick."""

    def sizeHint(self, _option: QStyleOptionViewItem, _index: QModelIndex | QPersistentModelIndex) -> QSize:
        return QSize(0, theme.px(ROW))

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        colours = theme.colours()
        pick: Pick = index.data(Qt.ItemDataRole.UserRole)
        place = QRectF(option.rect)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        if chosen:
            painter.fillRect(place, colours.selection)
        line = place.adjusted(theme.px(8), 0, -theme.px(8), 0)
        ink = colours.on_selection if chosen else colours.text
        paint.text(painter, line, pick.name, theme.font(), ink)
        line.setLeft(line.left() + min(line.width() * 0.62, theme.font().width(pick.name)) + theme.px(12))
        paint.text(painter, line, pick.aside, theme.small(), ink if chosen else colours.muted, paint.RIGHT)


class _Search(FormText):
    """The field: hands the keys that move about on to the list."""

    focused = Signal()
    keyed = Signal(object)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.focused.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        keys = (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Escape)
        if event.key() in keys:
            self.keyed.emit(event)
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.setModified(False)  # what is typed here is looked for, it is nothing to keep
        super().focusOutEvent(event)


class PickList(QWidget):
    """Search field over a list that is there only while something is looked for.

    Signals
    -------
    picked : the key taken, and what had been typed.
    height_changed : the list appeared, went, or is of another length.
    pointed : the key the choice rests on, "" for none.
    """

    picked = Signal(str, str)
    height_changed = Signal()
    pointed = Signal(str)

    def __init__(self, parent: QWidget, name: str, hint: str, *, opens_empty: bool = False) -> None:
        super().__init__(parent)
        self._picks: tuple[Pick, ...] = ()
        self._own: Callable[[str], Pick | None] = lambda _text: None
        self._opens_empty = opens_empty
        self.field = _Search(self, name)
        self.field.setPlaceholderText(hint)
        self.list = QListWidget(self)
        self.list.setAccessibleName(name)
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.list.setItemDelegate(_Lines(self.list))
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.hide()
        self.list.setVerticalScrollBar(SlimBar())
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(theme.px(2))
        self._column.addWidget(self.field)
        self._column.addWidget(self.list)
        self.field.textEdited.connect(self._look)
        self.field.focused.connect(self._begin)
        self.field.keyed.connect(self._take_key)
        self.list.itemClicked.connect(lambda _item: self._take())
        self.list.currentItemChanged.connect(lambda *_items: self._point())
        self.setFocusProxy(self.field)

    def set_picks(self, picks: tuple[Pick, ...], own: Callable[[str], Pick | None] | None = None) -> None:
        """Offer these, and at the end what `own` makes of the text typed."""
        self._picks = picks
        if own is not None:
            self._own = own

    def keys(self) -> tuple[str, ...]:
        """Return the keys of what the list shows, from the top."""
        if self.list.isHidden():
            return ()
        return tuple(self._pick(self.list.item(row)).key for row in range(self.list.count()))

    def fold(self) -> None:
        """Forget what was typed and hide the list."""
        self.field.clear()
        self.field.setModified(False)
        self._hide()

    def _begin(self) -> None:
        if self._opens_empty:
            self._look(self.field.text())

    def _look(self, text: str) -> None:
        fitting = found(self._picks, text) if text.strip() or self._opens_empty else []
        own = self._own(text.strip()) if text.strip() else None
        self._fill(fitting + ([own] if own else []))

    def _fill(self, picks: list[Pick]) -> None:
        self.list.clear()
        for pick in picks:
            item = QListWidgetItem(f"{pick.name}, {pick.aside}" if pick.aside else pick.name, self.list)
            item.setData(Qt.ItemDataRole.UserRole, pick)
        self.list.setFixedHeight(theme.px(ROW) * min(ROWS_AT_MOST, len(picks)) + theme.px(4))
        self.list.setVisible(bool(picks))
        if picks:
            self.list.setCurrentRow(0)
        self._tell_height()

    def _hide(self) -> None:
        self.list.hide()
        self.list.clear()
        self._tell_height()

    def _tell_height(self) -> None:
        self._column.invalidate()
        self.updateGeometry()
        self.height_changed.emit()

    def _point(self) -> None:
        row = self.list.currentRow()
        self.field.setAccessibleDescription("" if row < 0 else self.list.item(row).text())
        self.pointed.emit("" if row < 0 else self._pick(self.list.item(row)).key)

    def _take_key(self, event: QKeyEvent) -> None:
        key = event.key()
        if key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self._move(-1 if key == Qt.Key.Key_Up else 1)
        elif key != Qt.Key.Key_Escape:
            self._take()
        elif self.list.isHidden() and not self.field.text():
            event.ignore()
        else:
            self.fold()

    def _move(self, by: int) -> None:
        if self.list.isHidden():
            self._fill(found(self._picks, self.field.text()))
            return
        row = self.list.currentRow() + by
        self.list.setCurrentRow(max(0, min(self.list.count() - 1, row)))

    def _take(self) -> None:
        row = self.list.currentRow()
        if row >= 0 and not self.list.isHidden():
            key, typed = self._pick(self.list.item(row)).key, self.field.text().strip()
            self.fold()
            self.picked.emit(key, typed)

    def _pick(self, item: QListWidgetItem) -> Pick:
        pick: Pick = item.data(Qt.ItemDataRole.UserRole)
        return pick
