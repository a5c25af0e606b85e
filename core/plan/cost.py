"""What a blend costs, and what cannot be counted for want of a price."""

from __future__ import annotations

from core.blend.prices import cost_per_1000_l
from core.blend.solve import Blend
from core.plan.records import Cost


def cost_of(blend: Blend) -> Cost:
    """Cost of 1000 L of feed in the recipe's currency; entries without a price are named, never assumed."""
    return Cost(blend.recipe.currency, *cost_per_1000_l(blend.shelf, blend.amounts_mg_per_l))
