"""Printing and exporting: the preview, the files, a printer that is a file, and what is said where there is none."""

from __future__ import annotations

import builtins
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QDesktopServices
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QApplication, QDialog, QFileDialog
from pytestqt.qtbot import QtBot

from app.paper.job import job_for_batch
from app.session.demo import demo_recipe
from app.window.frame import MainWindow
from app.window.print_dialog import PrintDialog
from core.logbook.records import MadeBatch, Weighed
from core.plan import plan


@pytest.fixture
def demo(window: MainWindow) -> MainWindow:
    window.room.session.start(demo_recipe(), plan=plan(demo_recipe()))
    return window


@pytest.fixture
def dialog(demo: MainWindow) -> Iterator[PrintDialog]:
    demo.room.printing.open()
    shown = demo.room.printing.dialog
    assert shown is not None
    yield shown
    shown.reject()


def action(window: MainWindow, text: str) -> QAction:
    return next(one for one in window.findChildren(QAction) if one.text().replace("&", "").startswith(text))


def answer(monkeypatch: pytest.MonkeyPatch, path: Path | None) -> None:
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_args: (str(path or ""), ""))


@pytest.fixture
def to_file(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Callable[[], bytes]:
    """A system print dialog that is accepted, with a file for a printer; returns what came out."""
    out = tmp_path / "printed.pdf"

    def accept(self: QPrintDialog) -> QDialog.DialogCode:
        self.printer().setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        self.printer().setOutputFileName(str(out))
        return QDialog.DialogCode.Accepted

    monkeypatch.setattr(QPrintDialog, "exec", accept)
    return out.read_bytes


def test_the_buttons_are_one_column_and_close_is_at_its_foot(dialog: PrintDialog) -> None:
    dialog.show()
    dialog.ensurePolished()
    QApplication.processEvents()
    buttons = list(dialog.buttons.values())
    assert len({(button.x(), button.width()) for button in buttons}) == 1
    close, csv = dialog.buttons["close"], dialog.buttons["csv"]
    holder = close.parentWidget()
    assert holder is not None
    assert close.y() > csv.geometry().bottom() + csv.height()
    assert close.geometry().bottom() >= holder.height() - 20


def test_the_last_page_has_no_next_and_the_first_none_before(qtbot: QtBot, dialog: PrintDialog) -> None:
    assert (dialog._back.isEnabled(), dialog._on.isEnabled()) == (False, True)
    while dialog._on.isEnabled():
        qtbot.mouseClick(dialog._on, Qt.MouseButton.LeftButton)
    assert dialog.view.number == len(dialog.view.pages) - 1
    assert dialog._back.isEnabled()


def test_the_preview_shows_the_pages_of_what_is_chosen(qtbot: QtBot, dialog: PrintDialog) -> None:
    view = dialog.view
    assert dialog.parts() == ("sheet", "labels")
    assert view.told() == f"Page 1 of {len(view.pages)}"
    before = len(view.pages)
    qtbot.keyClick(view, Qt.Key.Key_PageDown)
    assert view.told() == f"Page 2 of {before}"
    qtbot.mouseClick(dialog._back, Qt.MouseButton.LeftButton)
    assert view.number == 0
    dialog.boxes["summary"].click()
    assert len(view.pages) > before
    for box in dialog.boxes.values():
        box.setChecked(False)
    assert view.told().startswith("Nothing to print")
    assert not dialog.buttons["print"].isEnabled()
    dialog.boxes["card"].click()
    assert [round(page.width) for page in view.pages] == [5953]
    dialog.paper.setCurrentIndex(1)
    dialog.paper.activated.emit(1)
    assert [round(page.width) for page in view.pages] == [6120]


def test_paper_and_decimal_mark_are_remembered(demo: MainWindow, dialog: PrintDialog) -> None:
    dialog.paper.setCurrentIndex(1)
    dialog.paper.activated.emit(1)
    dialog.mark.setCurrentIndex(1)
    dialog.mark.activated.emit(1)
    assert dialog.document().decimal_mark == ","
    dialog.reject()
    demo.room.printing.open()
    again = demo.room.printing.dialog
    assert again is not None
    assert (again.paper.key(), again.mark.key()) == ("letter", ",")
    again.reject()


def test_it_is_printed(demo: MainWindow, dialog: PrintDialog, to_file: Callable[[], bytes]) -> None:
    dialog.buttons["print"].click()
    printed = to_file()
    assert printed.startswith(b"%PDF-")
    assert printed.count(b"/Type /Page\n") == len(dialog.view.pages)
    assert dialog.told.text().startswith("Sent to")


def test_print_by_its_keys(demo: MainWindow, to_file: Callable[[], bytes], settled: Callable[..., None]) -> None:
    assert action(demo, "Print…").shortcut().toString() == "Ctrl+P"
    action(demo, "Print…").trigger()
    assert to_file().startswith(b"%PDF-")
    assert demo.room.notice.text().startswith("Sent to")


def test_a_cancelled_print_says_nothing(demo: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(QPrintDialog, "exec", lambda _self: QDialog.DialogCode.Rejected)
    action(demo, "Print…").trigger()
    assert not demo.room.notice.text()


@pytest.mark.parametrize(("opens", "said"), [(True, "opened in the viewer"), (False, "no viewer opened the PDF")])
def test_without_print_support_the_pdf_is_opened_and_that_is_said(
    demo: MainWindow, monkeypatch: pytest.MonkeyPatch, opens: bool, said: str
) -> None:
    opened: list[str] = []
    genuine = builtins.__import__

    def without(name: str, *rest: Any, **more: Any) -> Any:
        if name == "PySide6.QtPrintSupport":
            raise ImportError(name)
        return genuine(name, *rest, **more)

    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: opened.append(url.toLocalFile()) or opens)
    monkeypatch.setattr(builtins, "__import__", without)
    demo.room.printing.print_all()
    monkeypatch.undo()
    assert said in demo.room.notice.text()
    assert Path(opened[0]).read_bytes().startswith(b"%PDF-")
    Path(opened[0]).unlink()


@pytest.mark.parametrize(
    ("kind", "begins"), [("pdf", b"%PDF-"), ("html", b"<!DOCTYPE html>"), ("csv", b"place,tank,entry_id")]
)
def test_export_from_the_menu(
    demo: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kind: str, begins: bytes
) -> None:
    answer(monkeypatch, tmp_path / "paper")  # without an ending it gets its own
    demo.room.printing.export(kind)
    assert (tmp_path / f"paper.{kind}").read_bytes().startswith(begins)
    assert demo.room.notice.text() == f"Written: paper.{kind}."


def test_export_from_the_preview_writes_what_is_seen(
    demo: MainWindow, dialog: PrintDialog, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[str] = []
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: bool(opened.append(url.toLocalFile())))
    answer(monkeypatch, tmp_path / "labels.html")
    dialog.boxes["sheet"].setChecked(False)
    dialog.buttons["html"].click()
    text = (tmp_path / "labels.html").read_text(encoding="utf-8")
    assert "CALCIUM SIDE" in text
    assert "Weigh-out:" not in text
    assert dialog.told.text() == "Written: labels.html."
    dialog.open_link.click()
    assert opened == [str(tmp_path / "labels.html")]


def test_an_export_that_fails_or_is_cancelled(
    demo: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    answer(monkeypatch, None)
    demo.room.printing.export("pdf")
    assert not demo.room.notice.text()
    answer(monkeypatch, tmp_path / "nowhere" / "paper.pdf")
    demo.room.printing.export("pdf")
    assert "paper.pdf is not saved" in demo.room.notice.text()


def test_labels_of_a_made_batch_carry_its_date_and_mark(demo: MainWindow, tmp_path: Path) -> None:
    recipe = demo_recipe()
    weighed = tuple(
        Weighed(tank.name, content.entry_id, content.grams, content.grams)
        for tank in plan(recipe).tanks
        for content in tank.contents
    )
    batch = MadeBatch("2026-03-14-2", "2026-03-14", recipe, "AAAA-BBBB", weighed)
    demo.room.printing.open(batch)
    shown = demo.room.printing.dialog
    assert shown is not None
    assert list(shown.boxes) == ["labels"]
    assert "csv" not in shown.buttons
    (part,) = shown.document().parts
    labels = [inner for block in part.blocks for inner in block.blocks]  # type: ignore[union-attr]
    assert len(labels) == 2
    assert all("mark AAAA-BBBB · mixed on 2026-03-14, batch 2026-03-14-2" in label.recipe for label in labels)
    assert labels[0].blanks == ("By",)
    assert job_for_batch(batch).mark == "AAAA-BBBB"
    shown.reject()


def test_nothing_to_print_without_a_recipe(demo: MainWindow) -> None:
    demo.room.opening.new()
    demo.room.printing.open()
    assert demo.room.printing.dialog is None
    assert "no plan to print" in demo.room.notice.text()
