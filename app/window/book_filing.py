"""The logbook's file from the window: other logbooks, copies, tables, and what stands in the way of writing."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import structs
from PySide6.QtCore import QStandardPaths, Qt
from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from app.session.book_trouble import trouble_text
from app.session.saving import SaveError, write_whole
from app.wording import logbook as words
from app.wording import logbook_file as say
from app.wording.refusals import refusal
from core.recipe import RecipeError

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.session.book import Book
    from app.session.session import Session
    from app.widgets.notice import Notice
    from core.logbook.records import Reservoir

TOPIC = "logbook"


class BookFiling:
    """Everything that is asked or said about the logbook's file.

    Parameters
    ----------
    reservoir : returns the reservoir in view, whose diary is read in or written out.
    """

    def __init__(
        self, window: QWidget, session: Session, notice: Notice, reservoir: Callable[[], Reservoir | None]
    ) -> None:
        self._window = window
        self._session = session
        self._notice = notice
        self._reservoir = reservoir
        self._watching: Book | None = None

    def watch(self) -> None:
        """Say what happens to the logbook, once it is open; what went wrong at its opening is said now."""
        book = self._opened()
        if book is None or book is self._watching:
            return
        self._watching = book
        book.failed.connect(self._say_trouble)
        book.mended.connect(lambda: self._notice.clear(TOPIC))
        if book.trouble is not None:
            self._say_trouble(book.trouble)

    def look(self) -> None:
        """Take in what another program wrote while the window was out of view."""
        book = self._opened()
        if book is not None:
            book.look()

    def may_leave(self) -> bool:
        """Return whether the logbook may be given up: it is written, or the person said so."""
        book = self._opened()
        if book is None or not book.unwritten or book.write():
            return True
        question, about = say.ask_unwritten()
        box = QMessageBox(QMessageBox.Icon.Warning, "", question, parent=self._window.window())
        box.setWindowModality(Qt.WindowModality.WindowModal)
        box.setTextFormat(Qt.TextFormat.PlainText)
        box.setInformativeText(about)
        roles = (
            QMessageBox.ButtonRole.AcceptRole,
            QMessageBox.ButtonRole.DestructiveRole,
            QMessageBox.ButtonRole.RejectRole,
        )
        copy, leave, stay = (
            box.addButton(text, role) for text, role in zip(say.unwritten_buttons(), roles, strict=True)
        )
        box.setDefaultButton(copy)
        box.setEscapeButton(stay)
        box.exec()
        clicked = box.clickedButton()
        box.deleteLater()
        return self.save_copy() if clicked is copy else clicked is leave

    def new(self) -> None:
        """Begin an empty logbook in a file that is asked for."""
        path = self._ask_where("log_new", say.logbook_name(), say.logbook_filter(), say.ENDING)
        if path is not None and self.may_leave():
            self._try(lambda: self._session.book.new(path))

    def open(self) -> None:
        """Go on in another logbook."""
        path = self._ask_which("log_open", say.logbook_filter())
        if path is not None and self.may_leave():
            self._try(lambda: self._session.book.open(path))

    def save_copy(self) -> bool:
        """Write the logbook to another file as well, and return whether it was."""
        path = self._ask_where("log_copy", say.logbook_name(), say.logbook_filter(), say.ENDING)
        return path is not None and self._try(lambda: self._session.book.save_copy(path))

    def read_table(self) -> None:
        """Add the lines of a table to the diary in view."""
        reservoir = self._reservoir()
        path = None if reservoir is None else self._ask_which("log_import", say.table_filter())
        if reservoir is None:
            self._notice.say(say.no_reservoir(), topic=TOPIC)
        elif path is not None:
            self._read_table(reservoir, path)

    def _read_table(self, reservoir: Reservoir, path: Path) -> None:
        from core.logbook.csv import from_csv, new_ones
        from core.logbook.csv import read as read_text
        from core.logbook.merge import in_order

        book = self._session.book
        try:
            entries = from_csv(read_text(path))
            fresh = new_ones(entries, reservoir.entries)
            grown = structs.replace(reservoir, entries=in_order((*reservoir.entries, *fresh)))
            all_of = tuple(grown if one.name == reservoir.name else one for one in book.logbook.reservoirs)
            book.push(words.edit("import"), structs.replace(book.logbook, reservoirs=all_of))
        except RecipeError as error:
            error.where = error.where or path.name
            self._notice.say(say.not_read_in(refusal(error)), topic=TOPIC)
            return
        self._notice.say(say.read_in(len(fresh), len(entries) - len(fresh)), topic=TOPIC, calm=True)

    def write_table(self) -> None:
        """Write the diary in view for a spreadsheet."""
        from core.logbook.csv import to_csv

        reservoir = self._reservoir()
        if reservoir is None:
            self._notice.say(say.no_reservoir(), topic=TOPIC)
            return
        path = self._ask_where("log_export", say.table_name(reservoir.name), say.table_filter(), say.TABLE)
        if path is not None:
            self._try(lambda: write_whole(path, to_csv(reservoir.entries).encode()))

    def _opened(self) -> Book | None:
        """The logbook, where something has looked at it already."""
        found = self._session.__dict__.get("book")
        return found if found is not None else None

    def _say_trouble(self, error: Exception) -> None:
        book = self._session.book
        offers = ((say.retry_button(), book.write), (say.copy_button(), self.save_copy)) if book.unwritten else ()
        self._notice.say(trouble_text(error), offers, TOPIC)

    def _try(self, work: Callable[[], None]) -> bool:
        try:
            work()
        except RecipeError as error:
            self._notice.say(say.not_opened(refusal(error)), topic=TOPIC)
            return False
        except SaveError as error:
            self._notice.say(trouble_text(error), topic=TOPIC)
            return False
        self._notice.clear(TOPIC)
        return True

    def _folder(self) -> Path:
        beside = self._session.book.path.parent
        if beside.is_dir() and self._session.book.path != _own():
            return beside
        return Path(QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation))

    def _ask_which(self, name: str, filter_text: str) -> Path | None:
        chosen, _filter = QFileDialog.getOpenFileName(self._window, say.dialog(name), str(self._folder()), filter_text)
        return Path(chosen) if chosen else None

    def _ask_where(self, name: str, proposed: str, filter_text: str, ending: str) -> Path | None:
        chosen, _filter = QFileDialog.getSaveFileName(
            self._window, say.dialog(name), str(self._folder() / proposed), filter_text
        )
        if not chosen:
            return None
        path = Path(chosen)
        return path if path.suffix else path.with_name(f"{path.name}.{ending}")


def _own() -> Path:
    from app.session import book

    return book.own_logbook()
