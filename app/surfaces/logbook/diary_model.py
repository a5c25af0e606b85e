"""The diary as a table's model: the newest entry first, readings and notes to be changed in place."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from msgspec import structs
from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt, Signal

from app.widgets import theme
from app.widgets.ec_reading import EC_READING
from app.widgets.measure import NUMBER, TEMPERATURE, VOLUME
from app.widgets.reading import shortest
from app.wording import logbook as say
from app.wording.refusals import refusal

if TYPE_CHECKING:
    from core.logbook.forecast import Foretold
    from core.logbook.records import Entry

COLUMNS = ("at", "did", "level_l", "ec_ms_per_cm", "foretold", "off", "ph", "temperature_c", "note")
MEASURES = {
    "level_l": VOLUME,
    "ec_ms_per_cm": EC_READING,
    "ph": NUMBER,
    "temperature_c": TEMPERATURE._replace(signed=True),
}
EDITABLE = frozenset({"at", "note", *MEASURES})
Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole


class DiaryModel(QAbstractTableModel):
    """Shows entries; a change in place is handed on and comes back from the logbook.

    Signals
    -------
    changed : the place of an entry in the diary, and what it is to be.
    refused : why what was typed is not taken.
    """

    changed = Signal(int, object)
    refused = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self._entries: tuple[Entry, ...] = ()
        self._foretold: tuple[Foretold, ...] = ()
        self._did: Callable[[Entry], str] = lambda _entry: ""
        self._odd: frozenset[int] = frozenset()

    def show(
        self,
        entries: tuple[Entry, ...],
        foretold: tuple[Foretold, ...],
        did: Callable[[Entry], str],
        odd: frozenset[int] = frozenset(),
    ) -> None:
        """Show these entries, given oldest first; nothing is foretold of them where the lengths differ.

        odd : places of the entries whose reading is marked
        """
        self.beginResetModel()
        self._entries = entries
        self._foretold = foretold if len(foretold) == len(entries) else ()
        self._did = did
        self._odd = odd if self._foretold else frozenset()
        self.endResetModel()

    def place(self, row: int) -> int:
        """Return the place in the diary of a row of the table, and the other way round."""
        return len(self._entries) - 1 - row

    def entry(self, row: int) -> Entry:
        """Return the entry in a row."""
        return self._entries[self.place(row)]

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self._entries)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(COLUMNS)

    def flags(self, index: Index) -> Qt.ItemFlag:
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        if index.isValid() and COLUMNS[index.column()] in EDITABLE:
            flags |= Qt.ItemFlag.ItemIsEditable
        return flags if index.isValid() else Qt.ItemFlag.NoItemFlags

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> Any:
        if orientation is Qt.Orientation.Horizontal and 0 <= section < len(COLUMNS):
            if role == Role.DisplayRole:
                return say.column(COLUMNS[section])
            if role == Role.ToolTipRole:
                return say.column_meaning(COLUMNS[section])
            if role == Role.TextAlignmentRole:
                return _alignment(COLUMNS[section])
        return None

    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:
        if not index.isValid():
            return None
        entry, name = self.entry(index.row()), COLUMNS[index.column()]
        told = self._foretold[self.place(index.row())] if self._foretold else None
        if role == Role.DisplayRole:
            return _shown(entry, name, told, self._did)
        if role == Role.EditRole:
            return _typed(entry, name)
        if role == Role.TextAlignmentRole:
            return _alignment(name)
        if role == Role.ToolTipRole:
            doubts = [] if told is None else [say.doubt(code) for code in told.doubts]
            return "\n".join(filter(None, [_shown(entry, name, told, self._did), *doubts]))
        odd = name == "off" and self.place(index.row()) in self._odd
        if role == Role.FontRole and odd:
            return theme.font(strong=True)
        if role == Role.ForegroundRole and odd:
            return theme.colours().check
        return None

    def setData(self, index: Index, value: Any, role: int = Role.EditRole) -> bool:
        if role != Role.EditRole or not index.isValid():
            return False
        entry, name = self.entry(index.row()), COLUMNS[index.column()]
        try:
            given = _understood(name, str(value).strip())
        except ValueError as error:
            self.refused.emit(say.refused(refusal(error)))
            return False
        changed = structs.replace(entry, **{name: given})
        if changed == entry:
            return True
        self.changed.emit(self.place(index.row()), changed)
        return True


def _understood(name: str, text: str) -> str | float | None:
    """Return what was typed into a cell; raises ValueError where it is nothing of the kind."""
    if name == "at":
        from core.units import read_moment

        return read_moment(text)
    if name == "note":
        return text
    return MEASURES[name].hear(text, MEASURES[name].unit).value if text else None


def _shown(entry: Entry, name: str, told: Foretold | None, did: Callable[[Entry], str]) -> str:
    match name:
        case "at":
            return say.when_text(entry.at)
        case "did":
            return did(entry)
        case "foretold":
            return say.ec_text(None if told is None else told.step_ec_ms_per_cm)
        case "off":
            return say.off_text(None if told is None else told.step_residual_percent)
        case "ec_ms_per_cm":
            return say.ec_text(entry.ec_ms_per_cm)
        case "ph":
            return say.ph_text(entry.ph)
        case "note":
            return entry.note
    return say.number_text(getattr(entry, name))


def _typed(entry: Entry, name: str) -> str:
    if name == "at":
        return say.when_text(entry.at)
    if name in MEASURES:
        value = getattr(entry, name)
        return "" if value is None else shortest(value)
    return entry.note if name == "note" else ""


def _alignment(name: str) -> Qt.AlignmentFlag:
    side = Qt.AlignmentFlag.AlignLeft if name in ("at", "did", "note") else Qt.AlignmentFlag.AlignRight
    return side | Qt.AlignmentFlag.AlignVCenter
