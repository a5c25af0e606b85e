"""Topping up a running reservoir: what mixing gives, and what is to be added. EC mixes by volume to a few per cent."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from core.bench.dosing import Dose, Rise, plan_dose

LETTUCE_TISSUE_PERCENT: dict[str, float] = {"N": 4.5, "P": 0.5, "K": 5.0, "Ca": 0.5, "Mg": 0.3, "S": 0.3}
"""Nutrients in dry lettuce leaf [% by mass] (Nemali, Purdue University, lecture slides on lettuce; READ)."""

LETTUCE_DRY_G_PER_L = 1000.0 / 300.0
"""Dry matter per litre of water used [g/L]: 300 L per kg of dry weight (the same slides; READ). Others found 3 in
ambient and 6 in humid air with added CO2 (Langenfeld et al. 2022, abstract READ), and twice the potassium and seven
times the calcium per litre (Neocleous 2024, READ): a start to be corrected from one's own diary."""


@dataclass(frozen=True)
class TopUp:
    """A top-up with water and then concentrate: the EC once the water is in, and the dose that follows."""

    volume_l: float
    mixed_ms_per_cm: float
    dose: Dose


def mixed_ec_ms_per_cm(volume_l_and_ec_ms_per_cm: Iterable[tuple[float, float]]) -> float:
    """Return the EC [mS/cm] of liquids mixed, each a pair of volume [L] and EC [mS/cm]."""
    pairs = tuple(volume_l_and_ec_ms_per_cm)
    return sum(volume * ec for volume, ec in pairs) / sum(volume for volume, _ in pairs)


def refill_ec_ms_per_cm(water_ms_per_cm: float, feed_ms_per_cm: float, strength: float) -> float:
    """Return the EC [mS/cm] of a refill between plain water (strength 0) and full feed (strength 1)."""
    return water_ms_per_cm + strength * (feed_ms_per_cm - water_ms_per_cm)


def plan_top_up(
    left_l: float,
    left_ms_per_cm: float,
    added_l: float,
    water_ms_per_cm: float,
    target_ms_per_cm: float,
    rise: Rise,
) -> TopUp:
    """Plan filling up with water and dosing to an EC again.

    Parameters
    ----------
    left_l, left_ms_per_cm : what is still in the reservoir [L], [mS/cm]
    added_l, water_ms_per_cm : the water that goes in [L], [mS/cm]
    target_ms_per_cm : EC wanted in the end [mS/cm]
    rise : EC added by a dose of each tank, see core.bench.dosing
    """
    mixed = mixed_ec_ms_per_cm(((left_l, left_ms_per_cm), (added_l, water_ms_per_cm)))
    volume = left_l + added_l
    return TopUp(volume, mixed, plan_dose(volume, mixed, target_ms_per_cm, rise))


def stock_to_add_l(
    final_l: float,
    target_ms_per_cm: float,
    left_l: float,
    left_ms_per_cm: float,
    water_ms_per_cm: float,
    stock_ms_per_cm: float,
) -> float:
    """Return the ready-diluted stock [L] that, with water up to `final_l` [L], brings a rest of feed to an EC.

    All EC in mS/cm, `stock_ms_per_cm` above `water_ms_per_cm`; a negative answer means the rest is too strong already.
    """
    missing = final_l * target_ms_per_cm - left_l * left_ms_per_cm - (final_l - left_l) * water_ms_per_cm
    return missing / (stock_ms_per_cm - water_ms_per_cm)


def refill_mg_per_l(tissue_percent: float, dry_g_per_l_water: float) -> float:
    """Return the nutrient [mg/L] a refill must hold so that none builds up and none runs out.

    Parameters
    ----------
    tissue_percent : nutrient in the dry plant [% by mass]
    dry_g_per_l_water : dry matter grown per litre of water used [g/L]; 3 to 6 in lettuce and wheat

    Source: Langenfeld, Pinto, Faust, Heins & Bugbee 2022, Sustainability 14:10204 (abstract read).
    """
    return 10.0 * tissue_percent * dry_g_per_l_water
