"""What a blend costs, and what cannot be counted for want of a price."""

from __future__ import annotations

from core.blend.solve import Blend
from core.plan.records import Cost


def cost_of(blend: Blend) -> Cost:
    """Cost of 1000 L of feed in the recipe's currency; entries without a price are named, never assumed.

    1 mg/L is 1 g per 1000 L, so an amount in mg/L times a price per kg, divided by 1000, is the cost of 1000 L.
    """
    used = [
        (source.entry, float(amount))
        for source, amount in zip(blend.shelf.sources, blend.amounts_mg_per_l, strict=True)
        if amount > 0.0
    ]
    missing = tuple(entry.key for entry, _ in used if entry.price_per_kg is None)
    priced = [amount * entry.price_per_kg / 1000.0 for entry, amount in used if entry.price_per_kg is not None]
    return Cost(blend.recipe.currency, sum(priced) if priced else None, missing)
