"""Topping up a running reservoir: what mixing gives, what a refill must hold. EC mixes by volume to a few per cent."""

from __future__ import annotations

from collections.abc import Iterable

LETTUCE_TISSUE_PERCENT: dict[str, float] = {"N": 4.5, "P": 0.5, "K": 5.0, "Ca": 0.5, "Mg": 0.3, "S": 0.3}
"""Nutrients in dry lettuce leaf [% by mass] (Nemali, Purdue University, lecture slides on lettuce; READ)."""

LETTUCE_DRY_G_PER_L = 1000.0 / 300.0
"""Dry matter per litre of water used [g/L]: 300 L per kg of dry weight (the same slides; READ). Others found 3 in
ambient and 6 in humid air with added CO2 (Langenfeld et al. 2022, abstract READ), and twice the potassium and seven
times the calcium per litre (Neocleous 2024, READ): a start to be corrected from one's own diary."""


def mixed_ec_ms_per_cm(volume_l_and_ec_ms_per_cm: Iterable[tuple[float, float]]) -> float:
    """Return the EC [mS/cm] of liquids mixed, each a pair of volume [L] and EC [mS/cm]."""
    pairs = tuple(volume_l_and_ec_ms_per_cm)
    return sum(volume * ec for volume, ec in pairs) / sum(volume for volume, _ in pairs)


def refill_mg_per_l(tissue_percent: float, dry_g_per_l_water: float) -> float:
    """Return the nutrient [mg/L] a refill must hold so that none builds up and none runs out.

    Parameters
    ----------
    tissue_percent : nutrient in the dry plant [% by mass]
    dry_g_per_l_water : dry matter grown per litre of water used [g/L]; 3 to 6 in lettuce and wheat

    Source: Langenfeld, Pinto, Faust, Heins & Bugbee 2022, Sustainability 14:10204 (abstract read).
    """
    return 10.0 * tissue_percent * dry_g_per_l_water
