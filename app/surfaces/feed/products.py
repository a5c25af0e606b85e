"""Acids and bases to trim a pH with, and what to mind with one in hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording import feed_cards as say
from app.wording import salt_name
from app.wording.phrases import product_name

if TYPE_CHECKING:
    from core.plan.feeding_records import Drop
    from core.recipe.records import Recipe


def offered(recipe: Recipe, kind: str) -> list[tuple[str, str]]:
    """Return the acids or bases of the shelf, then those of the catalog, each with its name."""
    from core.catalog import salts
    from core.chemistry import ACIDS_AND_BASES

    listed = salts()
    own = [
        (entry.key, product_name(entry.salt, entry.key, entry.strength_percent))
        for entry in recipe.shelf
        if entry.salt in listed and listed[entry.salt].kind == kind
    ]
    held = {entry.salt for entry in recipe.shelf}
    other = [
        (salt.id, say.catalog_product(salt_name(salt.id)))
        for salt in listed.values()
        if salt.kind == kind and salt.id in ACIDS_AND_BASES and salt.id not in held and salt.id not in NOT_OFFERED
    ]
    return own + other


def usual(recipe: Recipe, kind: str) -> str:
    """Return the key of what is taken where nobody chose: the shelf's first, else a usual one."""
    from core.catalog import salts
    from core.plan.feeding_ph import USUAL_ACID, USUAL_BASE

    listed = salts()
    own = (entry.key for entry in recipe.shelf if entry.salt in listed and listed[entry.salt].kind == kind)
    return next(own, USUAL_ACID if kind == "acid" else USUAL_BASE)


NOT_OFFERED = ("urea-phosphate", "calcium-hydroxide")
"""Moves a pH too, but brings urea, or clouds every feed with phosphate in it."""


def care_of(drop: Drop) -> str:
    """Return what to wear and to mind with a product, as the sheet has it."""
    from app.wording import paper
    from app.wording.safety import things_to_wear
    from core.catalog import salt

    things = things_to_wear([drop.salt])
    parts = [paper.acid_wear(things)] if things else []
    rules = paper.acid_rules()
    return " ".join((*parts, *(rules if salt(drop.salt).kind == "acid" else rules[1:])))
