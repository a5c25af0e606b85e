"""The paper as one HTML file that needs nothing else: no script, no font, no picture from anywhere."""

from __future__ import annotations

import html
from collections.abc import Iterable

from app.paper.blocks import (
    Block,
    Box,
    Bullets,
    Curve,
    Document,
    Heading,
    Label,
    Line,
    Part,
    Steps,
    Table,
    TankHead,
    Together,
    WeightRow,
    Weights,
)
from app.paper.curve_svg import curve_svg
from app.paper.style import STYLE
from app.paper.text import isolated, shown
from app.wording import paper as say

PAPERS = {"a4": "A4", "letter": "letter"}
"""Paper -> its name in a style sheet."""

NOTHING_FROM_OUTSIDE = "default-src 'none'; style-src 'unsafe-inline'"


def to_html(document: Document, paper: str = "a4") -> str:
    """Return a whole page.

    Parameters
    ----------
    paper : "a4" or "letter"
    """
    return _Writer(document.decimal_mark).page(document, paper)


class _Writer:
    """Writes blocks, with every text made harmless on its way out."""

    def __init__(self, decimal_mark: str) -> None:
        self._mark = decimal_mark

    def page(self, document: Document, paper: str) -> str:
        return (
            '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
            f'<meta http-equiv="Content-Security-Policy" content="{NOTHING_FROM_OUTSIDE}">\n'
            '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
            f"<title>{html.escape(shown(document.title, self._mark))}</title>\n"
            f"<style>\n@page {{ size: {PAPERS[paper]}; }}\n{STYLE}</style>\n</head>\n<body>\n"
            f"{''.join(self._part(part) for part in document.parts)}</body>\n</html>\n"
        )

    def text(self, text: str) -> str:
        """Return a text escaped, with its numbers in the reader's way."""
        return isolated(html.escape(shown(text, self._mark)), "<bdi>", "</bdi>")

    def _part(self, part: Part) -> str:
        body = "".join(self._block(block) for block in part.blocks)
        return f'<section class="part {part.name}">\n<h1>{self.text(part.title)}</h1>\n{body}</section>\n'

    def _block(self, block: Block | Together) -> str:
        match block:
            case Together(blocks=blocks):
                return f'<div class="together">\n{"".join(self._block(inner) for inner in blocks)}</div>\n'
            case Heading(text=text):
                return f"<h2>{self.text(text)}</h2>\n"
            case Line(text=text, size=size):
                return f'<p class="{size}">{self.text(text)}</p>\n'
            case Steps(lines=lines):
                return self._list("ol", lines)
            case Bullets(lines=lines):
                return self._list("ul", lines)
            case Box():
                return self._box(block)
            case Table():
                return self._table(block)
            case Curve():
                return curve_svg(block, self.text)
            case TankHead():
                return self._tank_head(block)
            case Weights(rows=rows):
                return f'<table class="weights">\n{"".join(self._weight(row) for row in rows)}</table>\n'
            case Label():
                return self._label(block)

    def _list(self, tag: str, lines: Iterable[str]) -> str:
        items = "".join(f"<li>{self.text(line)}</li>\n" for line in lines)
        return f"<{tag}>\n{items}</{tag}>\n"

    def _box(self, box: Box) -> str:
        lines = "".join(f"<p>{self.text(line)}</p>\n" for line in box.lines)
        kind = "box loud" if box.loud else "box"
        return f'<div class="{kind}">\n<p class="strong">{self.text(box.title)}</p>\n{lines}</div>\n'

    def _table(self, table: Table) -> str:
        head = "".join(self._cell("th", text, column in table.right) for column, text in enumerate(table.head))
        rows = []
        for number, row in enumerate(table.rows):
            cells = "".join(self._cell("td", text, column in table.right) for column, text in enumerate(row))
            opening = '<tr class="strong">' if number in table.strong else "<tr>"
            rows.append(f"{opening}{cells}</tr>\n")
        return f'<table class="data">\n<thead><tr>{head}</tr></thead>\n<tbody>\n{"".join(rows)}</tbody>\n</table>\n'

    def _cell(self, tag: str, text: str, is_right: bool) -> str:
        opening = f'<{tag} class="right">' if is_right else f"<{tag}>"
        return f"{opening}{self.text(text)}</{tag}>"

    def _tank_head(self, head: TankHead) -> str:
        beside = f"{self.text(head.volume)}<br><b>{self.text(head.dose)}</b><br>{self.text(head.also)}"
        return f'<div class="tank"><h2>{self.text(head.title)}</h2><p>{beside}</p></div>\n'

    def _weight(self, row: WeightRow) -> str:
        aside = "<br>".join(self.text(text) for text in (row.scale, row.also) if text)
        remark = f"<small>{self.text(row.remark)}</small>" if row.remark else ""
        several = f"<small>{self.text(say.goes(len(row.goes)))}</small>" if row.goes else ""
        goes = "".join(self._go(number, go, len(row.goes)) for number, go in enumerate(row.goes, 1))
        tick = "" if row.goes else '<span class="tick"></span>'
        return (
            f'<tr><td>{tick}</td><td class="name">{self.text(row.name)}{remark}{several}</td>'
            f'<td class="weight">{self._plain(row)}</td>'
            f'<td class="scale">{aside}</td>'
            f'<td class="was">{self.text(say.was())} <span class="blank"></span></td></tr>\n{goes}'
        )

    def _plain(self, row: WeightRow) -> str:
        """The weight as it is read, with the plain number for programs where it is one."""
        shown_weight = self.text(row.weight)
        return f'<data value="{html.escape(row.grams)}">{shown_weight}</data>' if row.grams else shown_weight

    def _go(self, number: int, weight: str, count: int) -> str:
        name = self.text(say.go_of(number, count))
        return (
            f'<tr class="go"><td><span class="tick"></span></td><td class="name">{name}</td>'
            f'<td class="weight">{self.text(weight)}</td><td></td><td></td></tr>\n'
        )

    def _label(self, label: Label) -> str:
        blanks = "".join(f'<span>{self.text(text)} <span class="blank"></span></span>' for text in label.blanks)
        signal = f'<p class="signal">{self.text(label.signal)}</p>\n' if label.signal else ""
        hazards = "".join(f'<p class="hazards">{self.text(line)}</p>\n' for line in label.hazards)
        care = "".join(f"<p>{self.text(line)}</p>\n" for line in (label.holds, *label.care))
        return (
            f'<div class="label">\n<h2>{self.text(label.title)}</h2>\n<p class="dose">{self.text(label.dose)}</p>\n'
            f"<p>{self.text(label.also)}</p>\n<p>{self.text(label.recipe)}</p>\n"
            f'<p class="blanks">{blanks}</p>\n{signal}{hazards}{care}</div>\n'
        )
