"""How much of a salt water holds at a temperature: one salt alone, on the anhydrous basis and as the product sold."""

from __future__ import annotations

from functools import cache

import msgspec

from core.catalog.monotone import interpolate
from core.catalog.resource import Known, read
from core.catalog.salts import Salt, salt


class SolubilityCurve(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Saturation of one compound against temperature; the products listed differ in crystal water only.

    `anhydrous_percent` is the mass of anhydrous salt in the saturated solution [% by mass].
    """

    salts: tuple[str, ...]
    temperature_c: tuple[float, ...]
    anhydrous_percent: tuple[float, ...]
    known: dict[str, Known]
    saturated_density_kg_per_l: tuple[float, ...] | None = None


class PracticalLimit(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What a supplier or a handbook names as the most that dissolves [g product per L], where no curve is known."""

    salt: str
    g_per_l: float
    known: Known
    temperature_c: float | None = None


class _Tables(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    curves: tuple[SolubilityCurve, ...]
    practical: tuple[PracticalLimit, ...]


@cache
def _tables() -> _Tables:
    return read("solubility.json", _Tables)


@cache
def solubility_curves() -> dict[str, SolubilityCurve]:
    """Return the curves by salt id. The dict is shared: do not change it."""
    return {salt_id: curve for curve in _tables().curves for salt_id in curve.salts}


@cache
def practical_limits() -> dict[str, PracticalLimit]:
    """Return the single quoted limits by salt id. The dict is shared: do not change it."""
    return {limit.salt: limit for limit in _tables().practical}


def solubility_g_per_100g_water(product: Salt | str, temperature_c: float) -> float | None:
    """Return the anhydrous salt 100 g of water holds when saturated [g]; None where not known at this temperature.

    Between the points the mass per cent is interpolated by a monotone cubic; beyond them nothing is said.
    Source: CRC Handbook of Chemistry and Physics, 98th edition 2017, for most; each curve names its own.
    """
    percent = _anhydrous_percent(salt(product), temperature_c)
    return None if percent is None else 100.0 * percent / (100.0 - percent)


def solubility_g_per_l(product: Salt | str, temperature_c: float) -> float | None:
    """Return the product as sold in a litre of saturated solution [g/L]; None where not known at this temperature.

    Source: mass per cent as above; density of the saturated solution by Laliberté 2009, J. Chem. Eng. Data 54:1725.
    """
    item = salt(product)
    percent = _anhydrous_percent(item, temperature_c)
    curve = solubility_curves().get(item.id)
    if percent is None or curve is None or curve.saturated_density_kg_per_l is None:
        return None
    density = interpolate(temperature_c, curve.temperature_c, curve.saturated_density_kg_per_l)
    return 10.0 * percent * density / item.anhydrous_mass_fraction


def _anhydrous_percent(item: Salt, temperature_c: float) -> float | None:
    curve = solubility_curves().get(item.id)
    if curve is None or not curve.temperature_c[0] <= temperature_c <= curve.temperature_c[-1]:
        return None
    return interpolate(temperature_c, curve.temperature_c, curve.anhydrous_percent)
