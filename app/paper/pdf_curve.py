"""The curve of the dosing card as marks on a page."""

from __future__ import annotations

from collections.abc import Callable

from app.paper.blocks import Curve
from app.paper.pdf_marks import Mark, Rule, Text, Way, pt

HEIGHT, LEFT, RIGHT, TOP, BOTTOM = pt(165.0), pt(46.0), pt(14.0), pt(10.0), pt(40.0)

MakeText = Callable[..., Text]


def curve_marks(curve: Curve, width: float, text: MakeText) -> tuple[float, list[Mark]]:
    """Return the curve's height and marks; `text` makes texts as the page prints them."""
    x = _place(curve.x_ticks, LEFT, width - RIGHT)
    y = _place(curve.y_ticks, HEIGHT - BOTTOM, TOP)
    marks: list[Mark] = []
    for at, word in curve.x_ticks:
        marks += [Rule(x(at), TOP, x(at), HEIGHT - BOTTOM, 0.5, grey=True)]
        marks += [text(word, pt(40.0), 9.0, align="center").at(x(at) - pt(20.0), HEIGHT - BOTTOM + pt(4.0))]
    for at, word in curve.y_ticks:
        marks += [Rule(LEFT, y(at), width - RIGHT, y(at), 0.5, grey=True)]
        marks += [text(word, LEFT - pt(18.0), 9.0, align="right").at(pt(12.0), y(at) - pt(6.0))]
    dot = (x(curve.mark[0]), y(curve.mark[1]))
    marks.append(Way(tuple((x(dose), y(ec)) for dose, ec in curve.points), dot))
    marks.append(
        text(curve.mark_label, pt(130.0), 10.5, strong=True, align="right").at(dot[0] - pt(138.0), dot[1] - pt(17))
    )
    marks.append(text(curve.x_label, width, 9.5, align="center").at(0.0, HEIGHT - pt(17.0)))
    along = text(curve.y_label, HEIGHT - BOTTOM - TOP, 9.5, align="center").at(0.0, HEIGHT - BOTTOM)
    along.turned = True
    return HEIGHT, [*marks, along]


def _place(ticks: tuple[tuple[float, str], ...], start: float, end: float) -> Callable[[float], float]:
    highest = ticks[-1][0]
    return lambda value: start + (end - start) * value / highest
