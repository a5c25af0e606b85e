"""The tanks: what may stand together, and the split of a recipe's products into concentrates that stay clear."""

from core.tanks.compatibility import broken_rules, rules_broken_within
from core.tanks.items import Item, item_of
from core.tanks.plans import Place, TankPlan
from core.tanks.split import Arrangement, arrange, describe, split, tank_temperatures_c

__all__ = [
    "Arrangement",
    "Item",
    "Place",
    "TankPlan",
    "arrange",
    "broken_rules",
    "describe",
    "item_of",
    "rules_broken_within",
    "split",
    "tank_temperatures_c",
]
