"""Printing and exporting from the window: the dialog, the printer, the files; what became of it is said."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QMarginsF, QStandardPaths, QUrl
from PySide6.QtGui import QDesktopServices, QPageLayout, QPageSize
from PySide6.QtWidgets import QDialog, QFileDialog, QWidget

from app.session.saving import SaveError, write_whole
from app.widgets.notice import Notice
from app.wording import files as file_words
from app.wording import printing as say

if TYPE_CHECKING:
    from app.paper.blocks import Document
    from app.paper.document import PartName
    from app.paper.job import Job
    from app.session.session import Session
    from app.window.print_dialog import PrintDialog
    from core.logbook.records import MadeBatch

TOPIC = "printing"
ENDINGS = {"pdf": ".pdf", "html": ".html", "csv": ".csv"}


class Printing:
    """Everything that leads to paper or to a file of it."""

    def __init__(self, window: QWidget, session: Session, notice: Notice) -> None:
        self._window = window
        self._session = session
        self._notice = notice
        self.dialog: PrintDialog | None = None

    def open(self, made: MadeBatch | None = None) -> None:
        """Open the preview of the recipe's paper, or of the labels of a made batch."""
        from app.window.print_dialog import PrintDialog  # loads the paper, which the first window does without

        job = self._job(made)
        if job is None:
            return
        parts: tuple[PartName, ...] = ("sheet", "labels") if made is None else ("labels",)
        self.dialog = PrintDialog(self._window.window(), job, self._session.weighing, parts)
        self.dialog.wanted.connect(self._do)
        self.dialog.open_link.clicked.connect(self._open_written)
        self.dialog.finished.connect(self._put_away)
        self.dialog.open()

    def print_all(self) -> None:
        """Print sheet and labels after the system's own dialog."""
        job = self._job(None)
        if job is not None:
            self._tell(self._print(self._document(job, ("sheet", "labels"))))

    def export(self, kind: str) -> None:
        """Write everything to a "pdf", "html" or "csv" file that is asked for."""
        from app.paper.document import PARTS

        job = self._job(None)
        if job is not None:
            self._export(kind, job, self._document(job, PARTS))

    def _job(self, made: MadeBatch | None) -> Job | None:
        from app.paper.bench import on_the_bench
        from app.paper.job import job_for, job_for_batch
        from core.plan import derive, solve

        units = self._session.weighing.habits.units
        if made is not None:
            return job_for_batch(made, units)
        recipe = self._session.recipe
        if recipe is None or not recipe.shelf:
            self._notice.say(say.nothing_planned(), (), TOPIC)
            return None
        blend = solve(recipe)
        return on_the_bench(job_for(recipe, blend, derive(recipe, blend), units), self._session.weighing.progress)

    def _document(self, job: Job, parts: tuple[PartName, ...]) -> Document:
        from app.paper.document import document

        return document(job, parts, self._session.weighing.habits.decimal_mark)

    def _do(self, kind: str) -> None:
        if self.dialog is None:
            return
        if kind == "print":
            self._tell(self._print(self.dialog.document()))
        else:
            self._export(kind, self.dialog.job, self.dialog.document())

    def _print(self, document: Document) -> str:
        """Print a document, or where that is not to be had open it as PDF; return what became of it."""
        from app.paper.pdf import draw_on
        from app.paper.pdf_pages import lay_out

        try:
            from PySide6.QtPrintSupport import QPrintDialog, QPrinter
        except ImportError:
            return self._print_elsewhere(document)
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setPageLayout(_bare(self._session.weighing.habits.paper))
        printer.setFullPage(True)
        printer.setDocName(document.title)
        asked = QPrintDialog(printer, self._window.window())
        accepted = asked.exec()
        asked.deleteLater()
        if accepted != QDialog.DialogCode.Accepted:
            return ""
        is_letter = printer.pageLayout().pageSize().id() == QPageSize.PageSizeId.Letter
        printer.setPageLayout(_bare("letter" if is_letter else "a4"))
        pages = lay_out(document, "letter" if is_letter else "a4")
        first, last = printer.fromPage() or 1, printer.toPage() or len(pages)
        return say.sent(printer.printerName()) if draw_on(printer, pages[first - 1 : last]) else say.not_printed()

    def _print_elsewhere(self, document: Document) -> str:
        from app.paper.pdf import to_pdf

        folder = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.TempLocation)
        path = Path(folder) / file_words.file_name(document.title).replace(f".{file_words.ENDING}", ".pdf")
        try:
            write_whole(path, to_pdf(document, self._session.weighing.habits.paper))
        except SaveError as error:
            return file_words.not_saved(path.name, error.why.value, error.detail)
        opened = QDesktopServices.openUrl(QUrl.fromLocalFile(str(path)))
        return say.no_printing() if opened else say.no_viewer(str(path))

    def _export(self, kind: str, job: Job, document: Document) -> None:
        path = self._ask_where(kind)
        if path is None:
            return
        try:
            write_whole(path, self._data(kind, job, document))
        except SaveError as error:
            self._tell(file_words.not_saved(path.name, error.why.value, error.detail))
            return
        self._written = path
        self._tell(say.written(path.name), to_open=True)

    def _data(self, kind: str, job: Job, document: Document) -> bytes:
        paper = self._session.weighing.habits.paper
        if kind == "csv":
            from app.paper.csv import to_csv

            return to_csv(job).encode()
        if kind == "html":
            from app.paper.html import to_html

            return to_html(document, paper).encode()
        from app.paper.pdf import to_pdf

        return to_pdf(document, paper)

    def _ask_where(self, kind: str) -> Path | None:
        path, recipe = self._session.path, self._session.recipe
        name = path.name if path is not None else file_words.file_name("" if recipe is None else recipe.title)
        documents = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
        folder = Path(documents) if path is None else path.parent
        proposed = folder / Path(name).with_suffix(ENDINGS[kind]).name
        parent: QWidget = self.dialog or self._window.window()
        chosen, _filter = QFileDialog.getSaveFileName(
            parent, say.export_dialog(), str(proposed), say.export_filter(kind)
        )
        if not chosen:
            return None
        return Path(chosen) if Path(chosen).suffix else Path(chosen).with_suffix(ENDINGS[kind])

    def _tell(self, words: str, *, to_open: bool = False) -> None:
        if not words:
            return
        if self.dialog is not None:
            self.dialog.tell(words, to_open=to_open)
            return
        offers: tuple[Any, ...] = ((say.open_file(), self._open_written),) if to_open else ()
        self._notice.say(words, offers, TOPIC, calm=to_open)

    _written: Path | None = None

    def _open_written(self) -> None:
        if self._written is not None:
            QDesktopServices.openUrl(QUrl.fromLocalFile(str(self._written)))

    def _put_away(self) -> None:
        if self.dialog is not None:
            self.dialog.deleteLater()
            self.dialog = None


def _bare(paper: str) -> QPageLayout:
    """The paper without margins, which the pages have themselves."""
    from app.paper.pdf import SIZES

    return QPageLayout(QPageSize(SIZES[paper]), QPageLayout.Orientation.Portrait, QMarginsF(0, 0, 0, 0))
