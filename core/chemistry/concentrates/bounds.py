"""Products whose ions have no parameters here: a handbook's own solubility is all that can be held against them.

How full of one a tank is follows from what the tank holds of everything the product is made of, its alkalinity included
(a base that an acid has used up is none any more): `own` by the part there is least of, so no more than could be the
product itself; `shared` by the mean over its parts, as a solubility product has it, so that potassium nitrate counts
against potassium bicarbonate.
"""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.chemistry.concentrates.assess import LEAST_WATER_KG_PER_L, ConcentrateState
from core.chemistry.concentrates.filling import CHARGES, FILLED_AT_C
from core.chemistry.concentrates.floats import Floats
from core.chemistry.concentrates.solids import ABSENT
from core.chemistry.concentrates.strength import StrengthLimit
from core.chemistry.water import density_kg_per_l

_LEAST = 1e-9
"""Contents below this are none [mol/kg or mol/L]."""


class Bounds(NamedTuple):
    """Solubilities a tank is held against.

    Attributes
    ----------
    ids : (n_bounds) what each solid is called, by its product
    parts : (n_bounds, n_parts) what it is made of, as places in COMPONENTS and after them the alkalinity; where a solid
        has fewer parts than another, its first one is repeated
    weight : (n_bounds, n_parts) share of each part in a formula unit, 0 for a repeated one [-]
    saturated : (n_temperatures, n_bounds, n_parts) what its own saturated solution holds [mol/kg water, or mol/L where
        `per_litre`]
    per_litre : (n_bounds,) True where the solubility is known per litre of solution
    near : (n_bounds,) how full "clear" ends, 1 being saturation [-]
    """

    ids: tuple[str, ...]
    parts: NDArray[np.intp]
    weight: Floats
    saturated: Floats
    per_litre: NDArray[np.bool_]
    near: Floats


class Fullness(NamedTuple):
    """How full tanks are, 1 at saturation; `own` and `shared` (n_temperatures, n_bounds, n_tanks) [-]."""

    own: Floats
    shared: Floats


def fullness(contents_mol_per_l: Floats, water_kg_per_l: Floats, bounds: Bounds) -> Fullness:
    """How full tanks are of solids known by their own solubility.

    contents_mol_per_l : (n_components, n_tanks) ndarray [mol per litre of filled concentrate], as `assess` takes it;
    water_kg_per_l : (n_tanks,) ndarray of the same [kg/L].
    """
    held = np.concatenate((contents_mol_per_l, [np.maximum(CHARGES @ contents_mol_per_l, 0.0)]))
    per = np.where(bounds.per_litre[:, None], 1.0, np.maximum(water_kg_per_l, LEAST_WATER_KG_PER_L))
    ratio = (held[bounds.parts] / per[:, None]) / bounds.saturated[..., None]
    logs = np.log(np.maximum(ratio, _LEAST))
    own = ratio.min(axis=2)
    return Fullness(own, np.exp(np.einsum("bp,tbpn->tbn", bounds.weight, logs)) * (own > _LEAST))


def bounded(state: ConcentrateState, full: Fullness, bounds: Bounds) -> ConcentrateState:
    """Add solids known by their own solubility to how tanks stand, where one of them is near enough to matter.

    Over its solubility a product settles; from `near` on it is doubtful, as other salts press on it. Excess and margin
    are log10 of how full the tank is over `near`; the solids added have no saturation index (nan).
    full : of the same tanks and temperatures
    """
    if not bounds.ids:
        return state
    beyond = np.log10(np.maximum(full.shared, _LEAST) / bounds.near[:, None])
    beyond[full.shared <= 0.0] = ABSENT
    over = beyond > 0.0
    if not over.any() and (beyond.max(axis=1) <= -state.margin).all():
        return state
    rank = np.add(over.any(axis=1), (full.own > 1.0).any(axis=1), dtype=np.int64)
    excess = np.concatenate((state.excess, beyond), axis=1)
    unknown = np.full_like(beyond, np.nan)
    return replace(
        state,
        solids=state.solids + bounds.ids,
        saturation_index=np.concatenate((state.saturation_index, unknown), axis=1),
        product_index=np.concatenate((state.product_index, unknown), axis=1),
        excess=excess,
        over=np.concatenate((state.over, over), axis=1),
        rank=np.maximum(state.rank, rank),
        margin=-excess.max(axis=1),
        limiting=excess.argmax(axis=1),
    )


def bounded_limit(
    limit: StrengthLimit, full: Fullness, ratio: float, water_kg_per_l: Floats, bounds: Bounds
) -> StrengthLimit:
    """Add the ratios at which solids known by their own solubility saturate to how strong tanks may be made.

    The water of a tank is taken to fall in a straight line from pure water over the ratio in use: with sodium chloride
    the ratio told is within 1.5 % for a tank within a factor of two of it, within 5 % for any.
    full, water_kg_per_l : of the tanks at the ratio in use; water (n_tanks,) ndarray [kg/L]
    """
    if not bounds.ids:
        return limit
    water = np.maximum(water_kg_per_l, LEAST_WATER_KG_PER_L)
    shared = np.maximum(full.shared[: len(limit.saturated_ratio)], _LEAST)
    pure = density_kg_per_l(FILLED_AT_C)

    def reached(part: Floats) -> Floats:
        """Ratio at which tanks are so full."""
        straight = part * pure / (shared * water + part * (pure - water))
        found = ratio * np.where(bounds.per_litre[:, None], part / shared, straight)
        found[shared <= _LEAST] = np.inf
        return found

    each, clear = reached(np.ones((len(bounds.ids), 1))), reached(bounds.near[:, None])
    saturated_ratio, limited_by = _first(limit.saturated_ratio, limit.limited_by, each, bounds.ids)
    clear_ratio, clear_limited_by = _first(limit.clear_ratio, limit.clear_limited_by, clear, bounds.ids)
    return replace(
        limit,
        saturated_ratio=saturated_ratio,
        limited_by=limited_by,
        clear_ratio=clear_ratio,
        clear_limited_by=clear_limited_by,
        solid_ratio=np.concatenate((limit.solid_ratio, each), axis=1),
    )


def _first(
    ratio: Floats, names: tuple[tuple[str | None, ...], ...], each: Floats, ids: tuple[str, ...]
) -> tuple[Floats, tuple[tuple[str | None, ...], ...]]:
    """The lower of two limits and what sets it, (n_temperatures, n_tanks)."""
    least = each.min(axis=1)
    lower = least < ratio
    if not lower.any():
        return ratio, names
    which = each.argmin(axis=1)
    named = tuple(
        tuple(ids[place] if below else name for place, below, name in zip(*row, strict=True))
        for row in zip(which.tolist(), lower.tolist(), names, strict=True)
    )
    return np.where(lower, least, ratio), named
