"""What a recipe costs to feed with, and which bags to buy for it."""

from __future__ import annotations

import math

from msgspec import Struct

from core.plan.records import Plan
from core.recipe.records import Recipe, ShelfEntry

US_GALLON_L = 3.785411784
"""Litres in a US gallon: 231 cubic inches (definition)."""


class Bag(Struct, frozen=True):
    """Bags of one product for a use; packs and what is left over are None where the pack's size is not known."""

    entry_id: str
    salt: str
    needed_kg: float
    price_per_kg: float | None
    priced_on: str | None
    pack_kg: float | None
    packs: int | None
    left_over_kg: float | None
    pays: float | None


class Use(Struct, frozen=True):
    """How much feed is wanted: litres in all, or litres per square metre and season on an area."""

    feed_l: float
    litres_per_m2_season: float | None = None

    @staticmethod
    def on_area(litres_per_m2_season: float, area_m2: float) -> Use:
        """The use of a season on an area."""
        return Use(litres_per_m2_season * area_m2, litres_per_m2_season)


class Costing(Struct, frozen=True):
    """Cost in the recipe's currency; None where something used has no price, and `missing` names it.

    `per_tank` gives each tank's own contents for its whole volume; acid put elsewhere is not in it. `bags_pay` is
    what the whole packs of `bags` cost together.
    """

    currency: str
    per_1000_l: float | None
    per_100_us_gal: float | None
    per_m2_season: float | None
    per_tank: dict[str, float | None]
    feed_l: float
    bags: tuple[Bag, ...]
    bags_pay: float | None
    missing: tuple[str, ...]


def batch_feed_l(recipe: Recipe) -> float:
    """Litres of feed one filling of the tanks makes."""
    return recipe.batch.tank_volume_l * recipe.tanks.ratio


def costing(recipe: Recipe, plan: Plan, use: Use | None = None) -> Costing:
    """Cost a plan.

    Parameters
    ----------
    recipe, plan : a recipe and its plan
    use : how much feed; None for one filling of the tanks

    Returns
    -------
    Costing
    """
    use = Use(batch_feed_l(recipe)) if use is None else use
    entries = {entry.key: entry for entry in recipe.shelf}
    missing = plan.cost.missing
    known = None if missing or plan.cost.per_1000_l is None else plan.cost.per_1000_l
    season = use.litres_per_m2_season
    bags = tuple(_bag(entries[a.entry_id], a.mg_per_l * use.feed_l * 1e-6) for a in plan.amounts)
    paid = [bag.pays for bag in bags if bag.pays is not None]
    return Costing(
        currency=recipe.currency,
        per_1000_l=known,
        per_100_us_gal=None if known is None else known * 100.0 * US_GALLON_L / 1000.0,
        per_m2_season=None if known is None or season is None else known * season / 1000.0,
        per_tank={
            tank.name: _tank_cost([(entries[c.entry_id], c.grams) for c in tank.contents]) for tank in plan.tanks
        },
        feed_l=use.feed_l,
        bags=bags,
        bags_pay=sum(paid) if bags and len(paid) == len(bags) else None,
        missing=missing,
    )


def _tank_cost(contents: list[tuple[ShelfEntry, float]]) -> float | None:
    if any(entry.price_per_kg is None for entry, _ in contents):
        return None
    return sum((entry.price_per_kg or 0.0) * grams / 1000.0 for entry, grams in contents)


def _bag(entry: ShelfEntry, needed_kg: float) -> Bag:
    if entry.pack_kg is None or entry.pack_kg <= 0.0:
        return Bag(entry.key, entry.salt, needed_kg, entry.price_per_kg, entry.priced_on, None, None, None, None)
    packs = math.ceil(needed_kg / entry.pack_kg - 1e-9)
    pays = None if entry.price_per_kg is None else packs * entry.pack_kg * entry.price_per_kg
    left = packs * entry.pack_kg - needed_kg
    known = entry.price_per_kg, entry.priced_on, entry.pack_kg
    return Bag(entry.key, entry.salt, needed_kg, *known, packs, max(left, 0.0), pays)
