"""An amount as a person types it for the tank in front of them: grams, ounces or millilitres become mg/L of feed."""

from __future__ import annotations

import re
from typing import NamedTuple

from core.bench.quantities import feed_from_tank_l, mg_per_l_from_tank
from core.phrase import Phrase
from core.recipe.records import Recipe, ShelfEntry
from core.units import AmbiguousText, UnitError, read_number, read_quantity

DIGITS = 6
"""Kept of an amount that was typed for a tank: 500 g in 60 L reads back as 500 g (this program's own choice)."""

_PER_LITRE = re.compile(r" ?(?:mg ?/ ?l|ppm)$", re.IGNORECASE)


class TypedAmount(NamedTuple):
    """An amount of product [mg per L of feed], and what was typed where it was for the tank, such as "500 g"."""

    mg_per_l: float
    echo: str = ""


def typed_amount(text: str, recipe: Recipe, entry: ShelfEntry) -> TypedAmount:
    """Understand an amount typed for an entry of the shelf.

    Parameters
    ----------
    text : a number alone or with mg/L is per litre of feed; with a unit of mass, or of volume for a liquid, it is for
        one filling of the tanks, all of them together.
    recipe : whose tank volume and ratio say how much feed that filling makes.
    entry : the product; a volume of it is weighed by its density at 20 °C.

    Raises
    ------
    UnitError : it cannot be read, is below zero, or is a volume of a dry product.
    """
    plain = _PER_LITRE.sub("", text.strip())
    try:
        value = read_number(plain)
    except UnitError:
        return _for_the_tank(plain, recipe, entry)
    if value < 0:
        raise UnitError(Phrase("An amount is never below zero."))
    return TypedAmount(value)


def _for_the_tank(text: str, recipe: Recipe, entry: ShelfEntry) -> TypedAmount:
    feed_l = feed_from_tank_l(recipe.batch.tank_volume_l, recipe.tanks.ratio)
    try:
        mass = read_quantity(text, "mass", "g")
    except UnitError as no_mass:
        return _poured(text, feed_l, entry, no_mass)
    return TypedAmount(_rounded(mg_per_l_from_tank(mass.value, feed_l)), mass.echo())


def _poured(text: str, feed_l: float, entry: ShelfEntry, no_mass: UnitError) -> TypedAmount:
    from core.catalog import UnknownSalt, density_kg_per_l

    try:
        volume = read_quantity(text, "volume", "mL")
    except AmbiguousText:
        raise
    except UnitError:
        raise no_mass from None
    try:
        density = density_kg_per_l(entry.salt, entry.strength_percent)
    except (UnknownSalt, ValueError):
        raise UnitError(Phrase("This product is weighed, so type its grams or kilograms.")) from None
    grams = 1000.0 * volume.value * density
    return TypedAmount(_rounded(mg_per_l_from_tank(grams, feed_l)), volume.echo())


def _rounded(mg_per_l: float) -> float:
    return float(f"{mg_per_l:.{DIGITS}g}")
