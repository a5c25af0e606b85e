"""The charge of an aim: whether its targets could all be met by salts at all."""

from __future__ import annotations

import numpy as np

from core.blend.nutrients import COLUMN
from core.blend.solve import Blend
from core.catalog import ATOMIC_WEIGHTS

NEEDED = ("K", "Ca", "Mg", "P", "S")
"""Targets without which an aim says too little to have a charge."""


def aim_charge_gap_percent(blend: Blend) -> float | None:
    """Cations less anions of the targets, in per cent of their mean; None while the aim does not name all macros.

    What the aim does not name (Na, Cl, bicarbonate) counts as the feed holds it. Nitrogen without a form counts as
    the feed's own forms.
    """
    targets: dict[str, float] = {target.nutrient: target.mg_per_l for target in blend.aim.targets}
    if not all(name in targets for name in NEEDED) or not targets.keys() & {"N", "NO3-N"}:
        return None
    feed = blend.totals
    mmol = {name: targets[name] / ATOMIC_WEIGHTS[name] for name in NEEDED}
    nitrogen = ATOMIC_WEIGHTS["N"]
    ammonium = targets.get("NH4-N", float(feed[COLUMN["NH4"]]) * nitrogen) / nitrogen
    nitrate = targets["NO3-N"] / nitrogen if "NO3-N" in targets else targets["N"] / nitrogen - ammonium
    cations = mmol["K"] + 2 * mmol["Ca"] + 2 * mmol["Mg"] + ammonium + float(feed[COLUMN["Na"]])
    anions = nitrate + mmol["P"] + 2 * mmol["S"] + float(feed[COLUMN["Cl"]]) + max(blend.alkalinity, 0.0)
    inert = float(feed[COLUMN["inert+"]] - feed[COLUMN["inert-"]])
    total = cations + anions + abs(inert)
    return float(200.0 * (cations - anions + inert) / total) if np.isfinite(total) and total > 0.0 else None
