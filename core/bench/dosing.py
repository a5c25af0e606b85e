"""Dosing a reservoir by EC: the dose that gives a rise, and the water that thins what came out too strong.

A rise curve is any function from dose (mL of each tank per litre of finished feed) to the EC it adds (mS/cm): the
plan's own forecast, a table of readings, or one figure measured in a jug. Volumes are those of the finished feed.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

Rise = Callable[[float], float]
"""Dose of each tank [mL per litre of finished feed] -> EC added [mS/cm]; 0 at 0 and growing."""

FIRST_SHARE = 0.8
"""Share of the expected dose that goes in before the meter is read (own choice: what is short can be added)."""

MOST_ML_PER_L = 1000.0


class DoseOutOfReach(ValueError):
    """No dose or dilution reaches the EC that is wanted; carries the target and the nearest that can be had."""

    def __init__(self, target_ms_per_cm: float, nearest_ms_per_cm: float) -> None:
        self.target_ms_per_cm = target_ms_per_cm
        self.nearest_ms_per_cm = nearest_ms_per_cm
        super().__init__(f"{target_ms_per_cm:g} mS/cm cannot be reached; the nearest is {nearest_ms_per_cm:g} mS/cm.")


def tabulated_rise(dose_ml_per_l: Sequence[float], ec_ms_per_cm: Sequence[float]) -> Rise:
    """Return the rise curve through points (n >= 2, doses growing from 0 [mL/L], EC [mS/cm]), straight between them.

    The first EC is that of the water and is taken off; past the last point the last slope goes on.
    """
    doses, readings = np.asarray(dose_ml_per_l, dtype=float), np.asarray(ec_ms_per_cm, dtype=float)
    rises = readings - readings[0]
    slope = float((rises[-1] - rises[-2]) / (doses[-1] - doses[-2]))

    def rise(dose: float) -> float:
        beyond = max(dose - float(doses[-1]), 0.0)
        return float(np.interp(dose, doses, rises)) + slope * beyond

    return rise


def dose_for_rise(rise_ms_per_cm: float, rise: Rise) -> float:
    """Return the dose of each tank [mL/L] that adds this EC [mS/cm]; 0 where none is to be added.

    Raises
    ------
    DoseOutOfReach : where even 1000 mL/L does not add so much.
    """
    if rise_ms_per_cm <= 0:
        return 0.0
    high = 1.0
    while rise(high) < rise_ms_per_cm:
        high *= 2.0
        if high > MOST_ML_PER_L:
            raise DoseOutOfReach(rise_ms_per_cm, rise(MOST_ML_PER_L))
    low = 0.0
    for _ in range(80):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if rise(middle) < rise_ms_per_cm else (low, middle)
    return 0.5 * (low + high)


def water_to_add_l(
    volume_l: float, measured_ms_per_cm: float, target_ms_per_cm: float, water_ms_per_cm: float
) -> float:
    """Return the water [L] that thins `volume_l` [L] from one EC to a lower one [mS/cm]; 0 where it is low enough.

    EC is mixed by volume, good to a few per cent. Raises DoseOutOfReach where the water is no weaker than the target.
    """
    if measured_ms_per_cm <= target_ms_per_cm:
        return 0.0
    if water_ms_per_cm >= target_ms_per_cm:
        raise DoseOutOfReach(target_ms_per_cm, water_ms_per_cm)
    return volume_l * (measured_ms_per_cm - target_ms_per_cm) / (target_ms_per_cm - water_ms_per_cm)
