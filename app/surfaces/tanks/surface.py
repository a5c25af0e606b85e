"""One card per tank: dilution, contents, verdict for the coldest day, strength."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from app.surfaces.card_page import CardPage
from app.surfaces.tanks.tank_card import TankCard
from app.wording import surfaces as say
from core.plan.records import Plan
from core.recipe.records import Recipe


class TanksSurface(CardPage):
    """Keeps a card per tank and shows as many as the plan has."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, say.surface("tanks"))
        self.cards: list[TankCard] = []

    def show_plan(self, recipe: Recipe, plan: Plan) -> None:
        """Show the plan's tanks."""
        while len(self.cards) < len(plan.tanks):
            self.cards.append(TankCard(self.page, len(self.cards)))
        for card, tank in zip(self.cards, plan.tanks, strict=False):
            card.show_tank(recipe, tank)
        self.set_cards(self.cards[: len(plan.tanks)])
