"""The strip over every surface: which recipe this is, and what the feed will be."""

from __future__ import annotations

import itertools
from typing import NamedTuple

from PySide6.QtCore import QRect, QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QWidget

from app.widgets import paint, theme
from app.widgets.afterwards import afterwards
from app.widgets.face import Face
from app.window.headline_words import Figure, forecast, recipe_parts, recipe_title
from app.wording import editors as edit_words
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


NAMED, LEAST_NAME = 1, 90
"""Which part holds a name a person gave, and the least it is shortened to."""

PART_EDITORS = ("aim", "water", "tanks")
"""The editor each part of the line below the title leads to."""


class _Part(QAbstractButton):
    """Lies over one part of the set-up and leads to its editor; the words below it are the headline's."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter, place = theme.colours(), QPainter(self), QRectF(self.rect())
        if self.underMouse():
            painter.fillRect(place.adjusted(theme.px(4), place.height() - 2, -theme.px(4), -1), colours.accent)
        if self.hasFocus():
            paint.focus_ring(painter, place, colours.focus, theme.px(4))


class Headline(QWidget):
    """Title and set-up at the left, the forecast's figures at the right; below the title where it is narrow.

    Signals
    -------
    editor_wanted : the editor of the part of the set-up that was pressed.
    """

    editor_wanted = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._shown = Shown("", (), ())
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.parts = tuple(_Part(self) for _name in PART_EDITORS)
        for name, part in zip(PART_EDITORS, self.parts, strict=True):
            part.setToolTip(edit_words.menu(name)[1])
            part.setAccessibleDescription(edit_words.menu(name)[1])
            part.clicked.connect(lambda _checked=False, name=name: self.editor_wanted.emit(name))
            part.hide()

    def show_plan(self, recipe: Recipe | None, plan: Plan | None) -> None:
        """Show the recipe, and its plan once there is one."""
        shown = Shown("", (), ())
        if recipe is not None:
            shown = Shown(recipe_title(recipe), recipe_parts(recipe, plan), () if plan is None else forecast(plan))
        if shown == self._shown:
            return
        before, self._shown = self._shown, shown
        afterwards(self, self._tell)
        same = before.title == shown.title and before.parts == shown.parts
        if same and len(before.figures) == len(shown.figures) and self.width() >= theme.px(FIGURES_BESIDE_FROM):
            each = self._figure_width()
            for number, (old, new) in enumerate(zip(before.figures, shown.figures, strict=True)):
                if old != new:
                    self.update(self._figures_left() + number * each, 0, each, theme.px(HEIGHT) - 1)
        else:
            self._arrange()
            self.update()

    def _tell(self) -> None:
        words = [f"{figure.heading[0]}: {figure.number} {figure.unit[0]}" for figure in self._shown.figures]
        self.setAccessibleName(", ".join((self._shown.title, *self._shown.parts, *words)))

    def _figures_left(self) -> int:
        return self.width() - self._figure_width() * len(self._shown.figures)

    def _title_width(self) -> int:
        pad = theme.px(PAD)
        if self.width() < theme.px(FIGURES_BESIDE_FROM):
            return self.width() - 2 * pad
        return self.width() - self._figure_width() * len(self._shown.figures) - 2 * pad

    def _figure_width(self) -> int:
        return theme.px(FIGURE_WIDTH["wide" if self.width() >= theme.px(1100) else "close"])

    def _arrange(self) -> None:
        """Lay the buttons over the parts they stand for."""
        font, pad = theme.font(12.5), theme.px(PAD)
        lines, parts = _lines(self._shown.parts, font, self._title_width())
        below = theme.px(15 if len(lines) < 2 else 7) + theme.px(27)
        for button, full, words in itertools.zip_longest(self.parts, self._shown.parts[:3], parts[:3]):
            line = next((number for number, text in enumerate(lines) if words and words in text), -1)
            button.setVisible(line >= 0)
            if line >= 0:
                button.setAccessibleName(full)
                button.setToolTip(full if words != full else button.accessibleDescription())
                left = pad + font.width(lines[line][: lines[line].index(words)])
                width = min(font.width(words), pad + self._title_width() - left)
                button.setGeometry(QRect(left - 4, below + line * theme.px(17) - 1, width + 8, theme.px(20)))

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def height_for(self, width: int) -> int:
        """Return the height the headline needs at this width [px]."""
        return theme.px(HEIGHT if width >= theme.px(FIGURES_BESIDE_FROM) else WRAPPED_HEIGHT)

    def paintEvent(self, event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        painter.fillRect(self.rect(), colours.card)
        painter.fillRect(QRectF(0, self.height() - 1, self.width(), 1), colours.line)
        pad = theme.px(PAD)
        if self.width() >= theme.px(FIGURES_BESIDE_FROM):
            each = self._figure_width()
            left, dirty = self._figures_left(), event.rect()
            if dirty.left() < left:
                self._paint_title(painter, QRectF(pad, 0, left - 2 * pad, theme.px(HEIGHT)))
            for number, figure in enumerate(self._shown.figures):
                place = QRectF(left + number * each, 0, each - theme.px(8), theme.px(HEIGHT))
                if dirty.left() < place.left() + each and dirty.right() >= place.left():
                    _paint_figure(painter, place, figure)
        else:
            each = (self.width() - 2 * pad) // 3
            self._paint_title(painter, QRectF(pad, 0, self.width() - 2 * pad, theme.px(HEIGHT)))
            for number, figure in enumerate(self._shown.figures):
                place = QRectF(pad + number * each, theme.px(HEIGHT - 6), each - theme.px(8), theme.px(26))
                _paint_short_figure(painter, place, figure)

    def _paint_title(self, painter: QPainter, place: QRectF) -> None:
        colours, font = theme.colours(), theme.font(12.5)
        lines, _parts = _lines(self._shown.parts, font, int(place.width()))
        title = QRectF(place.left(), theme.px(15 if len(lines) < 2 else 7), place.width(), theme.px(26))
        paint.text(painter, title, self._shown.title, theme.font(18, strong=True), colours.text)
        below = QRectF(place.left(), title.bottom() + theme.px(1), place.width(), theme.px(18))
        for words in lines:
            paint.text(painter, below, words, font, colours.muted)
            below.translate(0, theme.px(17))


def _lines(parts: tuple[str, ...], face: Face, width: int) -> tuple[list[str], tuple[str, ...]]:
    """Return the parts in at most two lines, broken between parts, and the parts as they stand there.

    Where they need more room, the water is shortened: its name is a person's own, and may be any length.
    """
    lines = _broken(parts, face, width)
    over = max(map(face.width, lines)) - width
    if over > 0 and len(parts) > NAMED:
        room = max(face.width(parts[NAMED]) - over, theme.px(LEAST_NAME))
        parts = (*parts[:NAMED], face.fitted(parts[NAMED], room), *parts[NAMED + 1 :])
        lines = _broken(parts, face, width)
    return lines, parts


def _broken(parts: tuple[str, ...], face: Face, width: int) -> list[str]:
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
