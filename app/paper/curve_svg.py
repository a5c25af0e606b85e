"""The curve of the dosing card as SVG, black on white."""

from __future__ import annotations

from collections.abc import Callable

from app.paper.blocks import Curve

WIDTH, HEIGHT = 640.0, 250.0
LEFT, RIGHT, TOP, BOTTOM = 62.0, 20.0, 14.0, 52.0


def curve_svg(curve: Curve, text: Callable[[str], str]) -> str:
    """Return the drawing; `text` escapes what is written in it."""
    x, y = _place(curve.x_ticks, LEFT, WIDTH - RIGHT), _place(curve.y_ticks, HEIGHT - BOTTOM, TOP)
    bottom, right = HEIGHT - BOTTOM, WIDTH - RIGHT
    lines = [f'<path class="grid" d="M{x(at):.1f} {TOP}V{bottom}"/>' for at, _ in curve.x_ticks]
    lines += [f'<path class="grid" d="M{LEFT} {y(at):.1f}H{right}"/>' for at, _ in curve.y_ticks]
    lines += [_text(x(at), bottom + 18, text(word), "middle") for at, word in curve.x_ticks]
    lines += [_text(LEFT - 8, y(at) + 4, text(word), "end") for at, word in curve.y_ticks]
    along = "L".join(f"{x(dose):.1f} {y(ec):.1f}" for dose, ec in curve.points)
    dose, ec = x(curve.mark[0]), y(curve.mark[1])
    lines += [
        f'<path class="line" d="M{along}"/>',
        f'<circle class="mark" cx="{dose:.1f}" cy="{ec:.1f}" r="5"/>',
        _text(dose - 10, ec - 8, text(curve.mark_label), "end", strong=True),
        _text((LEFT + right) / 2, HEIGHT - 8, text(curve.x_label), "middle"),
        f'<text transform="translate(14 {(TOP + bottom) / 2}) rotate(-90)" text-anchor="middle">',
        f"{text(curve.y_label)}</text>",
    ]
    drawn = "\n".join(lines)
    return f'<svg viewBox="0 0 {WIDTH:g} {HEIGHT:g}" role="img">\n{drawn}\n</svg>\n'


def _place(ticks: tuple[tuple[float, str], ...], start: float, end: float) -> Callable[[float], float]:
    highest = ticks[-1][0]
    return lambda value: start + (end - start) * value / highest


def _text(x: float, y: float, words: str, anchor: str, *, strong: bool = False) -> str:
    weight = ' font-weight="bold"' if strong else ""
    return f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}"{weight}>{words}</text>'
