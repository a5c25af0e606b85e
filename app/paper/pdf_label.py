"""A jug's label as marks on a page."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QRectF

from app.paper.blocks import Label
from app.paper.pdf_marks import Frame, Mark, Rule, Text, pt

PAD = pt(18.0)
TITLE_POINTS, LEAST_TITLE_POINTS = 46.0, 28.0

MakeText = Callable[..., Text]


def label_marks(label: Label, width: float, text: MakeText) -> tuple[float, list[Mark]]:
    """Return the label's height and marks; `text` makes texts as the page prints them."""
    inner = width - 2 * PAD
    marks: list[Mark] = []
    top = PAD
    for made, above in _upper(label, inner, text):
        top += above
        marks.append(made.at(PAD, top))
        top += made.height
    top += pt(20.0)
    blanks, height = _blanks(label.blanks, inner, top, text)
    marks += blanks
    top += height
    for made, above in _lower(label, inner, text):
        top += above
        marks.append(made.at(PAD, top))
        top += made.height
    top += PAD
    marks.append(Frame(QRectF(0.0, 0.0, width, top), 1.0, dashed=True))
    return top, marks


def _upper(label: Label, inner: float, text: MakeText) -> list[tuple[Text, float]]:
    size = TITLE_POINTS
    while size > LEAST_TITLE_POINTS and text(label.title, 1e9, size, strong=True).box().width() > inner:
        size -= 2.0
    return [
        (text(label.title, inner, size, strong=True), 0.0),
        (text(label.dose, inner, 18.0, strong=True), pt(4.0)),
        (text(label.also, inner, 11.5), 0.0),
        (text(label.recipe, inner, 11.5), pt(6.0)),
    ]


def _lower(label: Label, inner: float, text: MakeText) -> list[tuple[Text, float]]:
    lines = [(text(label.signal, inner, 20.0, strong=True), pt(12.0))] if label.signal else []
    for line in label.hazards:
        lines.append((text(line, inner, 12.0, strong=True), pt(3.0) if lines else pt(14.0)))
    lines += [(text(label.holds, inner, 10.5), pt(8.0))]
    return [*lines, *((text(line, inner, 10.5), pt(3.0)) for line in label.care)]


def _blanks(words: tuple[str, ...], inner: float, top: float, text: MakeText) -> tuple[list[Mark], float]:
    """Words with a rule after each to write on, side by side."""
    marks: list[Mark] = []
    share = inner / len(words)
    height = 0.0
    for number, word in enumerate(words):
        made = text(word, share, 11.5).at(PAD + number * share, top)
        base = top + made.height - pt(2.0)
        marks += [made, Rule(made.box().right() + pt(4.0), base, PAD + (number + 1) * share - pt(12.0), base, 0.75)]
        height = max(height, made.height)
    return marks, height
