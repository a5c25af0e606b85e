"""The strip over every surface: which recipe this is, and what the feed will be."""

from __future__ import annotations

from typing import NamedTuple

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from app.widgets import paint, theme
from app.widgets.face import Face
from app.window.headline_words import Figure, forecast, recipe_parts, recipe_title
from core.plan.records import Plan
from core.recipe.records import Recipe

HEIGHT, WRAPPED_HEIGHT = 76, 104
FIGURES_BESIDE_FROM = 900
PAD = 20
BETWEEN = "  \N{MIDDLE DOT}  "
FIGURE_WIDTH = {"wide": 196, "close": 168}


class Shown(NamedTuple):
    """What the headline says."""

    title: str
    parts: tuple[str, ...]
    figures: tuple[Figure, ...]


class Headline(QWidget):
    """Title and set-up at the left, the forecast's figures at the right; below the title where it is narrow."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._shown = Shown("", (), ())

    def show_plan(self, recipe: Recipe | None, plan: Plan | None) -> None:
        """Show the recipe, and its plan once there is one."""
        shown = Shown("", (), ())
        if recipe is not None:
            shown = Shown(recipe_title(recipe), recipe_parts(recipe, plan), () if plan is None else forecast(plan))
        if shown != self._shown:
            self._shown = shown
            words = [f"{figure.heading[0]}: {figure.number} {figure.unit[0]}" for figure in shown.figures]
            self.setAccessibleName(", ".join((shown.title, *shown.parts, *words)))
            self.update()

    def height_for(self, width: int) -> int:
        """Return the height the headline needs at this width [px]."""
        return theme.px(HEIGHT if width >= theme.px(FIGURES_BESIDE_FROM) else WRAPPED_HEIGHT)

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        painter.fillRect(self.rect(), colours.card)
        painter.fillRect(QRectF(0, self.height() - 1, self.width(), 1), colours.line)
        pad = theme.px(PAD)
        if self.width() >= theme.px(FIGURES_BESIDE_FROM):
            each = theme.px(FIGURE_WIDTH["wide" if self.width() >= theme.px(1100) else "close"])
            left = self.width() - each * len(self._shown.figures)
            self._paint_title(painter, QRectF(pad, 0, left - 2 * pad, theme.px(HEIGHT)))
            for number, figure in enumerate(self._shown.figures):
                _paint_figure(painter, QRectF(left + number * each, 0, each - theme.px(8), theme.px(HEIGHT)), figure)
        else:
            each = (self.width() - 2 * pad) // 3
            self._paint_title(painter, QRectF(pad, 0, self.width() - 2 * pad, theme.px(HEIGHT)))
            for number, figure in enumerate(self._shown.figures):
                place = QRectF(pad + number * each, theme.px(HEIGHT - 6), each - theme.px(8), theme.px(26))
                _paint_short_figure(painter, place, figure)

    def _paint_title(self, painter: QPainter, place: QRectF) -> None:
        colours, font = theme.colours(), theme.font(12.5)
        lines = _lines(self._shown.parts, font, place.width())
        title = QRectF(place.left(), theme.px(15 if len(lines) < 2 else 7), place.width(), theme.px(26))
        paint.text(painter, title, self._shown.title, theme.font(18, strong=True), colours.text)
        below = QRectF(place.left(), title.bottom() + theme.px(1), place.width(), theme.px(18))
        for words in lines:
            paint.text(painter, below, words, font, colours.muted)
            below.translate(0, theme.px(17))


def _lines(parts: tuple[str, ...], face: Face, width: float) -> list[str]:
    """Join the parts in at most two lines, broken between parts."""
    lines = [""]
    for part in parts:
        longer = f"{lines[-1]}{BETWEEN}{part}" if lines[-1] else part
        if lines[-1] and len(lines) < 2 and face.width(longer) > width:
            lines.append(part)
        else:
            lines[-1] = longer
    return lines


def _paint_figure(painter: QPainter, place: QRectF, figure: Figure) -> None:
    colours, number_font = theme.colours(), theme.font(24, strong=True)
    heading = QRectF(place.left(), theme.px(11) + place.top(), place.width(), theme.px(18))
    paint.text(painter, heading, figure.heading[0], theme.small(), colours.muted)
    line = QRectF(place.left(), heading.bottom(), place.width(), theme.px(34))
    paint.text(painter, line, figure.number, number_font, colours.text)
    used = number_font.width(figure.number) + theme.px(8)
    base = line.adjusted(used if figure.number else 0, theme.px(5), 0, 0)
    paint.text(painter, base, figure.unit[0], theme.small(), colours.muted)


def _paint_short_figure(painter: QPainter, place: QRectF, figure: Figure) -> None:
    colours = theme.colours()
    run = (
        (figure.heading[1], theme.small(), colours.muted),
        (figure.number, theme.font(17, strong=True), colours.text),
        (figure.unit[1], theme.small(), colours.muted),
    )
    for words, font, colour in run:
        paint.text(painter, place, words, font, colour)
        place.setLeft(place.left() + (font.width(words) + theme.px(5) if words else 0))
