"""How much calcium sulfate drops out of a tank that holds too much of it, until what is left is just saturated."""

from __future__ import annotations

import numpy as np

from core.chemistry.components import COMPONENTS
from core.chemistry.concentrates.assess import LEAST_WATER_KG_PER_L, checked, look
from core.chemistry.concentrates.filling import fill
from core.chemistry.concentrates.floats import Floats
from core.chemistry.concentrates.forms import share_out
from core.chemistry.concentrates.solids import reference, solids

GYPSUM_G_PER_MOL = 172.164
"""CaSO4.2H2O from IUPAC abridged atomic weights 2021 (DERIVED)."""

_WATER_KG_PER_MOL = 0.018015
_CALCIUM, _SULFUR = COMPONENTS.index("Ca"), COMPONENTS.index("S")
_POINTS, _ROUNDS = 17, 3
"""Shares looked at in a round, each round within one step of the last: 1/4096 of what there is at most."""


def gypsum_dropped(contents_mol_per_l: Floats, temperature_c: float) -> Floats:
    """Gypsum that leaves tanks until it is just saturated, (n_tanks,) ndarray [mol per litre of filled concentrate].

    contents_mol_per_l : (n_components, n_tanks) ndarray [mol/L], COMPONENTS order; temperature_c : float [degC].
    Gypsum alone is let go: what else would settle stays in solution here, so this is what it costs in calcium sulfate.
    Raises ValueError as `assess` does. Source: as `assess`; the share by search, within 1/4096 of calcium or sulfate.
    """
    contents = checked(contents_mol_per_l)
    kg_per_l = np.maximum(fill(contents).water_kg_per_l, LEAST_WATER_KG_PER_L)
    most = np.minimum(contents[_CALCIUM], contents[_SULFUR])
    low, high = np.zeros_like(most), np.ones_like(most)
    for _ in range(_ROUNDS):
        share = low[:, None] + (high - low)[:, None] * np.linspace(0.0, 1.0, _POINTS)
        over = _index(contents, kg_per_l, share * most[:, None], temperature_c) > 0.0
        last = np.where(over.any(axis=1), _POINTS - 1 - over[:, ::-1].argmax(axis=1), 0)
        tank = np.arange(len(most))
        low, high = share[tank, last], share[tank, np.minimum(last + 1, _POINTS - 1)]
        high = np.where(over.any(axis=1), high, low)
    dropped: Floats = 0.5 * (low + high) * most
    return dropped


def _index(contents: Floats, kg_per_l: Floats, dropped: Floats, temperature_c: float) -> Floats:
    """Saturation index of gypsum once some (n_tanks, n_points) [mol/L] of it has gone [log10]."""
    left = np.repeat(contents[:, :, None], dropped.shape[1], axis=2)
    for component in (_CALCIUM, _SULFUR):
        left[component] = np.maximum(left[component] - dropped, 0.0)
    water = kg_per_l[:, None] - 2.0 * _WATER_KG_PER_MOL * dropped
    looked = look(share_out((left / water).reshape(len(contents), -1)), reference((float(temperature_c),)))
    gypsum = [row.id for row in solids()].index("gypsum")
    index: Floats = looked.saturation_index[0, gypsum].reshape(dropped.shape)
    return index
