"""What the catalog says of how much of a product dissolves, where the chemistry of concentrates has no solid of it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import Literal, NamedTuple

import numpy as np

from core.catalog import practical_limits, salts, solubility_g_per_100g_water, solubility_g_per_l
from core.catalog.solubility import solubility_curves
from core.chemistry.components import COMPONENTS, REFERENCE_CHARGE
from core.chemistry.concentrates import Bounds, assess, bounded, fullness
from core.tanks.items import INDEX, Array, Item
from core.tanks.saturation import Assess, Saturation

_NAMED = [place for place, component in enumerate(COMPONENTS) if not component.startswith("inert")]

NEAR = 0.8
"""How full of a product's own solubility a tank may be and still be called clear (this program's own choice: what
another salt with an ion in common takes off it is counted, what any other does is not)."""
NEAR_IN_THE_COLD = 0.5
"""As much where the one figure known is of a warmer solution: most salts lose a tenth to a third of their solubility
from 20 to 5 °C, and some half (potassium nitrate, monopotassium phosphate; CRC Handbook 98th ed.; DERIVED)."""

Knowledge = Literal["model", "curve", "quoted", "unknown"]
_MODELLED = (
    {"K": 1, "NO3": 1}, {"K": 2, "S": 1}, {"K": 1, "P": 1}, {"NH4": 1, "P": 1}, {"K": 1, "Cl": 1},
    {"NH4": 1, "NO3": 1}, {"NH4": 2, "S": 1}, {"Ca": 1, "NO3": 2}, {"Ca": 1, "Cl": 2}, {"Mg": 1, "NO3": 2},
    {"Mg": 1, "S": 1}, {"Mg": 1, "Cl": 2}, {"Mn": 1, "S": 1}, {"Zn": 1, "S": 1}, {"Cu": 1, "S": 1}, {"Fe": 1, "S": 1},
    {"Ca": 1, "S": 1}, {"urea": 1}, {"B": 1}, {"Ca": 5, "NH4": 1, "NO3": 11},
)  # fmt: skip
"""Products that are a solid of the chemistry of concentrates, or (the last) two of them in one crystal."""


@lru_cache(maxsize=256)
def known_by(salt_id: str) -> Knowledge:
    """Say what is known of how much of a product dissolves.

    Returns "model" for one the chemistry of concentrates judges by its ions (ready solutions and bought blends are
    judged like that too; borates without a curve as the boric acid they may turn into), "curve" or "quoted" for a
    solubility in the catalog over temperature or as a single figure, else "unknown".
    """
    salt = salts().get(salt_id)
    if salt is None or salt.ions in _MODELLED:
        return "model"
    if salt_id in solubility_curves():
        return "curve"
    if salt_id in practical_limits():
        return "quoted"
    return "model" if salt.liquid or salt.kind == "boron" else "unknown"


def solubility_bounds(items: Iterable[Item], temperatures_c: Sequence[float]) -> Bounds:
    """Collect what tanks of these products are to be held against, each solid once.

    temperatures_c : [°C], held within a curve's own range.
    """
    found: dict[str, _Row] = {}
    for item in sorted(items, key=lambda item: item.key):
        solid, known = _solid(item.salt_id), known_by(item.salt_id)
        if solid not in found and known in ("curve", "quoted"):
            found[solid] = _curve(solid, tuple(temperatures_c)) if known == "curve" else _quoted(item, temperatures_c)
    return _bounds(tuple(found), tuple(found.values()))


class _Row(NamedTuple):
    """One of `Bounds`, counted in a unit of its own: a formula or a gram.

    counts : moles of each part in a unit; saturated : units in the saturated solution at each temperature [1/kg water,
    or 1/L where `per_litre`].
    """

    parts: tuple[int, ...]
    counts: tuple[float, ...]
    saturated: tuple[float, ...]
    per_litre: bool
    near: float


_NONE = Bounds(
    (), np.zeros((0, 1), dtype=np.intp), np.zeros((0, 1)), np.zeros((1, 0, 1)), np.zeros(0, dtype=bool), np.zeros(0)
)


def _bounds(ids: tuple[str, ...], rows: Sequence[_Row]) -> Bounds:
    if not rows:
        return _NONE
    wide = max(len(row.parts) for row in rows)
    short = [wide - len(row.parts) for row in rows]
    parts = [row.parts + row.parts[:1] * less for row, less in zip(rows, short, strict=True)]
    counts = np.array([row.counts + (0.0,) * less for row, less in zip(rows, short, strict=True)])
    amount = np.array([row.saturated for row in rows]).T
    repeated = np.where(counts > 0.0, counts, counts[:, :1])
    return Bounds(
        ids,
        np.array(parts, dtype=np.intp),
        counts / counts.sum(axis=1, keepdims=True),
        amount[:, :, None] * repeated,
        np.array([row.per_litre for row in rows], dtype=bool),
        np.array([row.near for row in rows]),
    )


def assess_with_bounds(items: Iterable[Item]) -> Assess:
    """Return the chemistry of concentrates that also holds tanks against these products' own solubility."""
    held = [item for item in items if known_by(item.salt_id) in ("curve", "quoted")]
    if not held:
        return assess

    def judged(totals: Array, temperatures_c: Sequence[float]) -> Saturation:
        state, bounds = assess(totals, temperatures_c), solubility_bounds(held, temperatures_c)
        return bounded(state, fullness(totals, state.water_kg_per_l, bounds), bounds)

    return judged


def _solid(salt_id: str) -> str:
    """The product a solid goes by: the first of those that differ in crystal water only."""
    curve = solubility_curves().get(salt_id)
    return salt_id if curve is None else curve.salts[0]


@lru_cache(maxsize=256)
def _curve(salt_id: str, temperatures_c: tuple[float, ...]) -> _Row:
    """By a curve: per kg of water, but per litre for what is alkaline, whose volume in a mixture is not known here."""
    salt, span = salts()[salt_id], solubility_curves()[salt_id].temperature_c
    held_c = [min(max(temperature_c, span[0]), span[-1]) for temperature_c in temperatures_c]
    counts = {INDEX[component]: count for component, count in salt.ions.items()}
    alkalinity = sum(REFERENCE_CHARGE[component] * count for component, count in salt.ions.items())
    if alkalinity > 0:
        counts[len(COMPONENTS)] = alkalinity
    per_litre = [solubility_g_per_l(salt, celsius) for celsius in held_c] if alkalinity > 0 else [None]
    if None not in per_litre:
        mol = [grams / salt.molar_mass_g_per_mol for grams in per_litre if grams is not None]
    else:
        anhydrous_g_per_mol = salt.molar_mass_g_per_mol * salt.anhydrous_mass_fraction
        mol = [10.0 * (solubility_g_per_100g_water(salt, celsius) or 0.0) / anhydrous_g_per_mol for celsius in held_c]
    return _Row(tuple(counts), tuple(counts.values()), tuple(mol), None not in per_litre, NEAR)


def _quoted(item: Item, temperatures_c: Sequence[float]) -> _Row:
    """By a single figure per litre, for the product's own label; its alkalinity is not counted."""
    quoted = practical_limits()[item.salt_id]
    parts = [place for place in _NAMED if item.ions[place] > 0.0]
    counts = tuple(item.ions[place] / item.g_per_l_feed for place in parts)
    warmer = quoted.temperature_c is not None and quoted.temperature_c > min(temperatures_c)
    near = NEAR_IN_THE_COLD if warmer else NEAR
    return _Row(tuple(parts), counts, (quoted.g_per_l,) * len(temperatures_c), True, near)
