"""Shelf entries against the catalog and against themselves."""

from __future__ import annotations

import re
from datetime import date
from typing import TYPE_CHECKING

from core.phrase import Phrase
from core.recipe.errors import Path, RecipeError, quoted
from core.recipe.records import ShelfEntry
from core.recipe.shape import close_match

if TYPE_CHECKING:
    from core.catalog import Salt

BLEND = "blend:"
_ISO_DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


def check_shelf_entry(entry: ShelfEntry, path: Path) -> None:
    """Refuse an entry that names no known product or states what cannot be.

    Raises
    ------
    RecipeError : unknown salt, nameless or label-less blend, strength on a solid, bounds that cross, an odd date.
    """
    if entry.entry_id is not None and not entry.entry_id.strip():
        raise RecipeError("is empty", "give the entry a name or leave it out", (*path, "entry_id"))
    if entry.salt.startswith(BLEND):
        _check_blend(entry, path)
    else:
        _check_salt(entry, path)
    if entry.mixed_mmol_per_g and not entry.salt.startswith(BLEND):
        what = Phrase("is given for a product of the catalog")
        raise RecipeError(what, "leave it out", (*path, "mixed_mmol_per_g"))
    if entry.mixed_g_per_l is not None and not entry.mixed_mmol_per_g:
        what = Phrase("is given without mixed_mmol_per_g, so it is no tank already mixed")
        raise RecipeError(what, "leave it out", (*path, "mixed_g_per_l"))
    _check_amounts(entry, path)
    _check_date(entry, path)


def _check_blend(entry: ShelfEntry, path: Path) -> None:
    if not entry.salt.removeprefix(BLEND).strip():
        raise RecipeError('has no name after "blend:"', 'write "blend:" and a name of your own', (*path, "salt"))
    if not any(percent > 0 for _, percent in entry.label_percent.items()):
        what = Phrase("is {product} without what it holds", product=quoted(entry.salt))
        raise RecipeError(what, "write its label_percent as printed", path)
    if entry.strength_percent is not None:
        _refuse_strength(Phrase("a bought blend"), path)


def _check_salt(entry: ShelfEntry, path: Path) -> None:
    from core.catalog import salts  # opening a recipe is the first need for the catalog's tables

    known = salts()
    if entry.salt not in known:
        hint = close_match(entry.salt, known) or Phrase('a bought product is written "blend:<own name>"')
        raise RecipeError(
            Phrase("is {product}, which is not in the catalog", product=quoted(entry.salt)), hint, (*path, "salt")
        )
    if entry.strength_percent is not None:
        _check_strength(entry.strength_percent, known[entry.salt], path)


def _check_strength(strength_percent: float, salt: Salt, path: Path) -> None:
    """Only products with a density table are sold by strength; dry ones among them may be pure, liquids may not."""
    from core.catalog.acids import density_tables

    table = density_tables().get(salt.id)
    if table is None:
        _refuse_strength(Phrase("a product that is not sold by strength"), path)
    elif salt.liquid and strength_percent > table.strength_percent[-1]:
        what = Phrase(
            "is {strength:.15g} %, but {salt} is at most {highest:.15g} %",
            strength=strength_percent,
            salt=salt.id,
            highest=table.strength_percent[-1],
        )
        raise RecipeError(what, "read it off the container", (*path, "strength_percent"))


def _refuse_strength(product: str, path: Path) -> None:
    raise RecipeError(Phrase("is given for {product}", product=product), "leave it out", (*path, "strength_percent"))


def _check_amounts(entry: ShelfEntry, path: Path) -> None:
    low, high, exact = entry.at_least_mg_per_l, entry.at_most_mg_per_l, entry.exactly_mg_per_l
    if low is not None and high is not None and low > high:
        what = Phrase("asks for at least {low:.15g} but at most {high:.15g} mg/L", low=low, high=high)
        raise RecipeError(what, "exchange or correct them", path)
    if exact is not None and not (low or 0.0) <= exact <= (exact if high is None else high):
        what = Phrase("asks for exactly {exact:.15g} mg/L, outside its own at least and at most", exact=exact)
        raise RecipeError(what, "keep the exact amount or the bounds", path)


def _check_date(entry: ShelfEntry, path: Path) -> None:
    if entry.priced_on is None:
        return
    try:
        if not _ISO_DATE.fullmatch(entry.priced_on):
            raise ValueError(entry.priced_on)
        date.fromisoformat(entry.priced_on)
    except ValueError:
        what = Phrase("is {date}, no date", date=quoted(entry.priced_on))
        raise RecipeError(what, "write it as 2026-06-01", (*path, "priced_on")) from None
