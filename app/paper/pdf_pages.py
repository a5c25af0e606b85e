"""Pieces on pages: what stays together, what starts anew, and the number of each page."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter

from app.paper.blocks import Block, Box, Document, Part, Table, Together
from app.paper.pdf_marks import Mark, Text, font, pt
from app.paper.pdf_pieces import Piece, Pieces
from app.paper.text import shown
from app.wording import paper as say

PAPER_POINTS = {"a4": (595.28, 841.89), "letter": (612.0, 792.0)}
"""Paper -> width and height [points of 1/72 inch]."""

LONG_TITLE = 80
"""Letters from which a title is set smaller."""

MARGIN, NUMBER_WIDTH = pt(40.0), pt(60.0)


@dataclass
class Placed:
    """A piece in its place on a page; `scale` is below 1 where it would not fit on a page otherwise."""

    piece: Piece
    top: float
    scale: float = 1.0

    @property
    def bottom(self) -> float:
        """Where it ends."""
        return self.top + self.piece.height * self.scale


@dataclass
class Page:
    """One page; everything is measured from the corner of the margin."""

    width: float
    height: float
    placed: list[Placed] = field(default_factory=list)
    number: Text | None = None

    def content(self) -> QRectF:
        """Return the part of the page within the margins."""
        return QRectF(0.0, 0.0, self.width - 2 * MARGIN, self.height - 2 * MARGIN)

    def marks(self) -> Iterator[tuple[Mark, QRectF]]:
        """Yield every mark with what it covers."""
        for one in self.placed:
            for mark in one.piece.marks:
                box = mark.box()
                yield (
                    mark,
                    QRectF(
                        box.x() * one.scale,
                        one.top + box.y() * one.scale,
                        box.width() * one.scale,
                        box.height() * one.scale,
                    ),
                )

    def draw(self, painter: QPainter) -> None:
        """Draw the page from its upper left corner, in tenths of a point."""
        painter.save()
        painter.translate(MARGIN, MARGIN)
        if self.number is not None:
            self.number.draw(painter)
        for one in self.placed:
            painter.save()
            painter.translate(0.0, one.top)
            painter.scale(one.scale, one.scale)
            for mark in one.piece.marks:
                mark.draw(painter)
            painter.restore()
        painter.restore()


def lay_out(document: Document, paper: str = "a4") -> tuple[Page, ...]:
    """Return the pages of a document, numbered through.

    Parameters
    ----------
    paper : "a4" or "letter"
    """
    width, height = (pt(points) for points in PAPER_POINTS[paper])
    pages = [page for part in document.parts for page in _Filler(width, height, part, document.decimal_mark).fill()]
    for number, page in enumerate(pages, 1):
        page.number = _number(page, say.page_of(number, len(pages)))
    return tuple(pages)


def _number(page: Page, words: str) -> Text:
    return Text(words, NUMBER_WIDTH, 10.0, align="right").at(page.content().right() - NUMBER_WIDTH, 0.0)


class _Filler:
    """Fills the pages of one part."""

    def __init__(self, width: float, height: float, part: Part, decimal_mark: str) -> None:
        self._size = (width, height)
        self._part, self._mark = part, decimal_mark
        self._inner = width - 2 * MARGIN
        self._room = height - 2 * MARGIN
        self._pieces = Pieces(self._inner, decimal_mark)
        self._pages: list[Page] = []
        self._top = 0.0

    def fill(self) -> list[Page]:
        self._new_page(self._title())
        for block in self._part.blocks:
            self._add_group([piece for one in _blocks(block) for piece in self._pieces.of(one)], block)
        return self._pages

    def _title(self) -> Piece:
        words = shown(self._part.title, self._mark)
        points = 20.0 if len(words) <= LONG_TITLE else 14.0
        title = Text(words, self._inner - NUMBER_WIDTH - pt(8.0), points, strong=True)
        return Piece(title.height, (title,))

    def _new_page(self, title: Piece) -> None:
        self._pages.append(Page(*self._size))
        self._top = 0.0
        self._put(title)
        self._first_top = self._top

    def _add_group(self, pieces: list[Piece], block: Block | Together) -> None:
        whole = sum(piece.above + piece.height for piece in pieces)
        fits_a_page = whole <= self._room - self._continued().height
        if isinstance(block, (Together, Box, Table)) and fits_a_page and not self._fits(whole):
            self._new_page(self._continued())
        for number, piece in enumerate(pieces):
            following = pieces[number + 1 : number + 2] if piece.keep_with_next else []
            needed = sum(one.above + one.height for one in (piece, *following))
            if not self._fits(needed) and self._top > self._first_top:
                self._new_page(self._continued())
            self._put(piece)

    def _continued(self) -> Piece:
        """The title once more, small and on one line."""
        words = QFontMetricsF(font(10.0, strong=True)).elidedText(
            shown(self._part.title, self._mark), Qt.TextElideMode.ElideRight, self._inner - NUMBER_WIDTH - pt(8.0)
        )
        title = Text(words, self._inner - NUMBER_WIDTH, 10.0, strong=True)
        return Piece(title.height, (title,))

    def _fits(self, height: float) -> bool:
        return self._top + height <= self._room

    def _put(self, piece: Piece) -> None:
        top = self._top + piece.above
        left = self._room - top
        scale = 1.0 if piece.height <= left else max(left, pt(72.0)) / piece.height
        placed = Placed(piece, top, scale)
        self._pages[-1].placed.append(placed)
        self._top = placed.bottom


def _blocks(block: Block | Together) -> tuple[Block, ...]:
    return block.blocks if isinstance(block, Together) else (block,)
