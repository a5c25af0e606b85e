"""How a tank is told apart and judged wherever one is drawn: its colour by number, its verdict by shape and word."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter

from app.widgets import icons, paint, theme
from app.wording import surfaces as say
from app.wording import verdict_word
from core.plan.records import Tank, Verdict

MARKS = {"clear": "mark-met", "doubtful": "mark-check", "settles": "mark-stop"}


def place_colour(number: int | None) -> QColor:
    """Return the colour of a tank by its number, or of the water and the reservoir for None."""
    places = theme.colours().places
    return places[-1] if number is None else places[number % (len(places) - 1)]


def worst_verdict(tank: Tank) -> Verdict:
    """Return the graver of a tank's two verdicts, as mixed and in the cold."""
    order: tuple[Verdict, ...] = ("clear", "doubtful", "settles")
    return max((tank.verdict, tank.cold_verdict), key=order.index)


def verdict_text(tank: Tank) -> str:
    """Return a tank's verdict in words, naming the cold where only the cold makes it worse."""
    worst = worst_verdict(tank)
    return verdict_word(worst) if worst == tank.verdict else say.verdict_when_cold(worst)


def paint_verdict(painter: QPainter, line: QRectF, tank: Tank) -> int:
    """Paint a tank's verdict at the right end of a line, shape and word first, colour last; return its width [px]."""
    colours, worst = theme.colours(), worst_verdict(tank)
    colour = {"clear": colours.accent, "doubtful": colours.check, "settles": colours.stop}[worst]
    words, face = verdict_text(tank), theme.font(12, strong=worst != "clear")
    face = face.for_room(words, int(0.5 * line.width()))
    paint.text(painter, line, words, face, colour, paint.RIGHT)
    side = theme.px(12)
    used = face.width(words) + side + theme.px(5)
    icons.draw(painter, MARKS[worst], QRectF(line.right() - used, line.center().y() - side / 2, side, side), colour)
    return used + theme.px(8)
