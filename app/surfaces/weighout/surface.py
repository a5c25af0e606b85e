"""One card per tank with its weights, after a card for what goes into the water itself."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from app.surfaces.card_page import CardPage
from app.surfaces.contents import ContentLine, content_lines, poured_lines
from app.surfaces.weighout.weigh_card import WeighCard
from app.wording import figures, tank_title
from app.wording import surfaces as say
from app.wording.phrases import dilution_text
from core.plan.records import Plan
from core.recipe.records import Recipe

Sheet = tuple[str, str, tuple[ContentLine, ...], str]
"""What a card shows: title, remark beside it, lines, and the line at its foot."""


class WeighoutSurface(CardPage):
    """Keeps a card per place and shows as many as the plan has."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, say.surface("weighout"))
        self.cards: list[WeighCard] = []
        self.set_note(say.not_printable_yet())

    def show_plan(self, recipe: Recipe, plan: Plan) -> None:
        """Show the plan's weights."""
        sheets = _sheets(recipe, plan)
        while len(self.cards) < len(sheets):
            self.cards.append(WeighCard(self.page))
        for card, sheet in zip(self.cards, sheets, strict=False):
            card.show_lines(*sheet)
        self.set_cards(self.cards[: len(sheets)])


def _sheets(recipe: Recipe, plan: Plan) -> list[Sheet]:
    sheets: list[Sheet] = [
        (
            figures.capital(tank_title(tank.content)),
            figures.tank_volume(tank.volume_l),
            content_lines(recipe, tank.contents),
            dilution_text(tank.ratio),
        )
        for tank in plan.tanks
    ]
    before, after = poured_lines(recipe, plan, "water"), poured_lines(recipe, plan, "reservoir")
    if before:
        sheets.insert(0, (say.before_the_tanks(), "", before, say.not_into_a_tank()))
    if after:
        sheets.append((say.after_the_tanks(), "", after, say.not_into_a_tank()))
    return sheets
