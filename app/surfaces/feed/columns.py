"""One or two columns of cards, no wider than a question is read at, in the middle of the page."""

from __future__ import annotations

from app.widgets import theme
from app.widgets.laid_card import LaidCard

WIDEST, TWO_FROM = 560, 760


def lay_columns(beside: tuple[list[LaidCard], ...], below: list[LaidCard], width: int, *, place: bool) -> int:
    """Put cards side by side where the width allows it, else below each other, and return where they end [px].

    Parameters
    ----------
    beside : the cards of each column
    below : the same cards in the order in which they are read where there is one column
    """
    gap, widest = theme.px(theme.GAP), theme.px(WIDEST)
    two = width >= theme.px(TWO_FROM)
    groups = list(beside) if two else [below]
    wide = min((width - gap * (len(groups) - 1)) // len(groups), widest)
    start = (width - len(groups) * wide - (len(groups) - 1) * gap) // 2
    deepest = 0
    for number, cards in enumerate(groups):
        left, top = start + number * (wide + gap), 0
        for card in cards:
            if card.isHidden():
                continue
            high = card.least_height(wide)
            if place:
                card.setGeometry(left, top, wide, high)
            top += high + gap
        deepest = max(deepest, top - gap)
    return deepest
