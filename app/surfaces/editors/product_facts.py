"""What a product on the shelf is made of and what to mind when handling it, in sentences with how each is known."""

from __future__ import annotations

from app.wording import editors_shelf as of_shelf
from app.wording import safety
from core.catalog import Salt, hazard, salts
from core.recipe.records import ShelfEntry

SHOWN_FROM_PERCENT = 0.005


def salt_of(entry: ShelfEntry) -> Salt | None:
    """Return the catalog's product, None for a bought blend."""
    return salts().get(entry.salt)


def made_of(entry: ShelfEntry) -> str:
    """Return formula and contents of a product as the program counts them; nothing for a blend without its label."""
    salt = salt_of(entry)
    if salt is None and not entry.label_percent:
        return of_shelf.blend_unlabelled()
    from core.blend.shelf import source_of
    from core.recipe.records import NUTRIENTS

    brings = dict(zip(NUTRIENTS, source_of(entry).brings.tolist(), strict=True))
    several = sum(brings[form] > 0 for form in ("NO3-N", "NH4-N", "urea-N")) > 1
    skipped = () if several else ("N",)
    percent = {name: 100 * share for name, share in brings.items() if name not in skipped}
    kept = {name: share for name, share in percent.items() if share >= SHOWN_FROM_PERCENT}
    if salt is None:
        return of_shelf.made_of("", kept, of_shelf.by_label())
    key = "label_percent" if salt.label_percent else "composition"
    known = of_shelf.by_label() if entry.label_percent else of_shelf.known(salt.known.get(key))
    return of_shelf.made_of(salt.formula, kept, known)


def handling(entry: ShelfEntry) -> str:
    """Return the hazards of a product at its strength; the safety data sheet rules over them."""
    salt = salt_of(entry)
    if salt is None:
        return of_shelf.no_hazard_known()
    found = hazard(salt)
    if found is None:
        return of_shelf.no_hazard_known()
    strength = entry.strength_percent or salt.default_strength_percent or 100.0
    classes = found.classes_at(strength)
    recalled = any(one.known.how_known == "MEMORY" for one in classes)
    return of_shelf.hazards(found.signal_word, tuple(dict.fromkeys(one.hazard for one in classes)), recalled=recalled)


def care(entry: ShelfEntry) -> tuple[str, ...]:
    """Return what the catalog knows of keeping a product and of first aid; nothing for a bought blend."""
    salt = salt_of(entry)
    found = None if salt is None else hazard(salt)
    return () if found is None else safety.care(found)


def sold_by_strength(entry: ShelfEntry) -> bool:
    """Tell whether the product's container prints a strength."""
    from core.catalog.acids import density_tables

    return entry.salt in density_tables()


def density_text(entry: ShelfEntry) -> str:
    """Return the density of a liquid product at its strength."""
    from core.catalog import density_kg_per_l, is_liquid

    salt = salt_of(entry)
    if salt is None or not is_liquid(salt, entry.strength_percent):
        return ""
    try:
        return of_shelf.density(density_kg_per_l(salt, entry.strength_percent))
    except ValueError:
        return ""
