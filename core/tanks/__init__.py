"""The tanks: what may stand together, and the split of a recipe's products into concentrates that stay clear."""

from core.tanks.compatibility import broken_rules, rules_broken_within
from core.tanks.items import Item, item_of
from core.tanks.plans import Place, TankPlan
from core.tanks.split import split, void_pins

__all__ = ["Item", "Place", "TankPlan", "broken_rules", "item_of", "rules_broken_within", "split", "void_pins"]
