"""The contents of one tank as painted lines: product, grade and weight."""

from __future__ import annotations

from typing import NamedTuple

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from app.widgets import paint, theme
from app.wording import decimals_of_step, figures, format_decimals, format_number, format_short
from app.wording import surfaces as say
from app.wording.phrases import product_parts, weight_text
from core.plan.records import TankContent
from core.recipe.records import Recipe


class ContentLine(NamedTuple):
    """One product in one tank, in words."""

    name: str
    grade: str
    weight: str
    scale: str


def content_lines(recipe: Recipe, contents: tuple[TankContent, ...]) -> tuple[ContentLine, ...]:
    """Return a tank's contents in words, in the plan's order."""
    entries = {entry.key: entry for entry in recipe.shelf}
    lines = []
    for content in contents:
        entry = entries.get(content.entry_id)
        name, grade = (content.entry_id, "") if entry is None else product_parts(entry)
        lines.append(ContentLine(name, grade, _weight(content), _scale(content)))
    return tuple(lines)


def paint_line(painter: QPainter, place: QRectF, weight: QRectF, line: ContentLine, weight_px: float) -> None:
    """Paint one line: the product at the left, its weight at the right of its own place."""
    colours, font = theme.colours(), theme.font()
    paint.text(painter, place, line.name, font, colours.text)
    used = font.width(line.name) + theme.px(6)
    weight_face = theme.font(weight_px, strong=True)
    if place.intersects(weight):
        place = place.adjusted(0, 0, -weight_face.width(line.weight) - theme.px(8), 0)
    paint.text(painter, place.adjusted(used, 0, 0, 0), line.grade, theme.small(), colours.muted)
    paint.text(painter, weight, line.weight, weight_face, colours.text, paint.RIGHT)


def _weight(content: TankContent) -> str:
    if content.millilitres is not None:
        return figures.millilitres(format_short(content.millilitres, 4))
    return weight_text(content)


def _scale(content: TankContent) -> str:
    if content.millilitres is not None:
        return say.measured_out(format_number(content.grams_to_weigh, 4))
    if content.scale is None:
        return say.no_scale()
    step = content.scale.readability_g
    return say.weighed_on(format_decimals(step, decimals_of_step(step)))
