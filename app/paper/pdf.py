"""The paper as PDF; with its three helpers the only place of the paper that knows Qt."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QIODevice, QMarginsF
from PySide6.QtGui import QGuiApplication, QPageSize, QPainter, QPdfWriter

from app.paper.blocks import Document
from app.paper.pdf_marks import UNIT_PER_POINT
from app.paper.pdf_pages import Page, lay_out
from app.paper.text import shown

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

DOTS_PER_INCH = 1200
SIZES = {"a4": QPageSize.PageSizeId.A4, "letter": QPageSize.PageSizeId.Letter}


def to_pdf(document: Document, paper: str = "a4") -> bytes:
    """Return a PDF file.

    Parameters
    ----------
    paper : "a4" or "letter"
    """
    kept = QGuiApplication.instance() or QGuiApplication([])
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setPageSize(QPageSize(SIZES[paper]))
    writer.setPageMargins(QMarginsF(0, 0, 0, 0))
    writer.setResolution(DOTS_PER_INCH)
    writer.setTitle(shown(document.title, document.decimal_mark))
    writer.setCreator("Saltwright")
    draw_on(writer, lay_out(document, paper))
    buffer.close()
    assert kept is not None
    return bytes(buffer.data().data())


def draw_on(device: QPdfWriter | QPrinter, pages: Sequence[Page]) -> bool:
    """Draw pages on a device whose paper is theirs, without margins of its own; return whether it took them."""
    painter = QPainter()
    if not painter.begin(device):
        return False
    per_unit = device.logicalDpiX() / (72.0 * UNIT_PER_POINT)
    painter.scale(per_unit, per_unit)
    for number, page in enumerate(pages):
        if number and not device.newPage():
            painter.end()
            return False
        page.draw(painter)
    return bool(painter.end())
