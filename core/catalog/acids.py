"""Acids and other liquids: from strength in per cent by mass to density and molar concentration at 20 °C."""

from __future__ import annotations

from functools import cache

import msgspec

from core.catalog.monotone import interpolate
from core.catalog.resource import HowKnown, read
from core.catalog.salts import Salt, salt


class KnownSpan(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Where the points of a table between two strengths come from."""

    from_percent: float
    to_percent: float
    source: str
    how_known: HowKnown


class DensityTable(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Density of a compound in water at 20 °C by strength [% by mass], from pure water to the strongest sold."""

    salt: str
    strength_percent: tuple[float, ...]
    density_kg_per_l: tuple[float, ...]
    known: tuple[KnownSpan, ...]
    note: str = ""


@cache
def density_tables() -> dict[str, DensityTable]:
    """Return the density tables by salt id. The dict is shared: do not change it."""
    return {table.salt: table for table in read("densities.json", tuple[DensityTable, ...])}


def is_liquid(product: Salt | str, strength_percent: float | None = None) -> bool:
    """Tell whether the product is poured rather than weighed, at this strength [% by mass] or else its usual one.

    Citric acid and potassium hydroxide are solids that become liquids where a strength within their table is given.
    """
    item = salt(product)
    table = density_tables().get(item.id)
    strength = item.default_strength_percent if strength_percent is None else strength_percent
    if table is None or strength is None:
        return item.liquid
    return item.liquid or strength <= table.strength_percent[-1]


def density_kg_per_l(product: Salt | str, strength_percent: float | None = None) -> float:
    """Return the density of a liquid product at 20 °C [kg/L].

    strength_percent : share of the compound [% by mass]; None for the usual strength of the product.
    Raises UnknownSalt, or ValueError for a product that is no liquid or a strength the table does not reach.
    Source: Laliberté 2009, J. Chem. Eng. Data 54:1725, where fitted; each point's own source stands in the table.
    """
    item = salt(product)
    table = density_tables().get(item.id)
    strength = item.default_strength_percent if strength_percent is None else strength_percent
    if table is None or strength is None:
        if item.density_kg_per_l is None:
            raise ValueError(f"{item.name} is not a liquid.")
        return item.density_kg_per_l
    if not 0 < strength <= table.strength_percent[-1]:
        raise ValueError(f"{item.name}: no density is known at {strength:g} % by mass.")
    return interpolate(strength, table.strength_percent, table.density_kg_per_l)


def concentration_mol_per_l(product: Salt | str, strength_percent: float | None = None) -> float:
    """Return the moles of compound in a litre of an acid or lye at 20 °C [mol/L]; errors as density_kg_per_l."""
    item = salt(product)
    strength = item.default_strength_percent if strength_percent is None else strength_percent
    if strength is None or item.id not in density_tables():
        raise ValueError(f"{item.name}: a strength in % by mass is needed.")
    return density_kg_per_l(item, strength) * 10.0 * strength / item.molar_mass_g_per_mol
