"""Edits of the shelf, each a recipe made from another."""

from __future__ import annotations

from msgspec import structs

from app.wording.editors_shelf import bag
from core.recipe.records import LabelPercent, Recipe, ShelfEntry


def with_entry(recipe: Recipe, key: str, entry: ShelfEntry) -> Recipe:
    """Return the recipe with this entry in the place of the one of that key, or at the end; its pin goes along."""
    keys = [old.key for old in recipe.shelf]
    if key not in keys:
        return structs.replace(recipe, shelf=(*recipe.shelf, entry))
    shelf = tuple(entry if old.key == key else old for old in recipe.shelf)
    pins = {entry.key if pinned == key else pinned: letter for pinned, letter in recipe.tanks.pins.items()}
    return structs.replace(recipe, shelf=shelf, tanks=structs.replace(recipe.tanks, pins=pins))


def without_entry(recipe: Recipe, key: str) -> Recipe:
    """Return the recipe without this entry and its pin."""
    shelf = tuple(entry for entry in recipe.shelf if entry.key != key)
    pins = {pinned: letter for pinned, letter in recipe.tanks.pins.items() if pinned != key}
    return structs.replace(recipe, shelf=shelf, tanks=structs.replace(recipe.tanks, pins=pins))


def free_name(recipe: Recipe) -> str:
    """Return a name for another bag that no entry of the shelf has: "bag 2"."""
    taken = {entry.key for entry in recipe.shelf}
    return next(name for name in map(bag, range(2, len(taken) + 3)) if name not in taken)


def pack_price(entry: ShelfEntry) -> float | None:
    """Return what the whole pack costs; None where price or pack is not known."""
    if entry.price_per_kg is None or entry.pack_kg is None:
        return None
    return float(f"{entry.price_per_kg * entry.pack_kg:.10g}")


def with_pack(entry: ShelfEntry, pack_kg: float | None) -> ShelfEntry:
    """Return the entry with another pack: the price of the pack stays where it was known, else that of a kilogram."""
    paid = pack_price(entry)
    changed = structs.replace(entry, pack_kg=pack_kg)
    return changed if paid is None or not pack_kg else with_pack_price(changed, paid)


def with_pack_price(entry: ShelfEntry, paid: float | None) -> ShelfEntry:
    """Return the entry with what its pack costs, kept per kilogram."""
    per_kg = None if paid is None or not entry.pack_kg else float(f"{paid / entry.pack_kg:.12g}")
    return structs.replace(entry, price_per_kg=per_kg)


def with_printed(label: LabelPercent, printed: str, percent: float | None) -> LabelPercent:
    """Return the label with one of its figures changed."""
    return structs.replace(label, **{printed.lower().replace("-", "_"): percent})


def printed_sum(label: LabelPercent) -> float:
    """Return the sum of what is printed [%], nitrogen counted once."""
    stated = dict(label.items())
    forms = sum(stated.pop(form, 0.0) for form in ("NO3-N", "NH4-N", "urea-N"))
    return max(stated.pop("N", 0.0), forms) + sum(stated.values())
