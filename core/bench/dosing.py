"""Dosing a reservoir by EC: most of the dose first, read the meter, then the rest from the rise that was measured.

A rise curve is any function from dose (mL of each tank per litre of finished feed) to the EC it adds (mS/cm): the
plan's own forecast, a table of readings, or one figure measured in a jug. Volumes are those of the finished feed;
`finished_volume_l` gives it where only the water is known.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

Rise = Callable[[float], float]
"""Dose of each tank [mL per litre of finished feed] -> EC added [mS/cm]; 0 at 0 and growing."""

FIRST_SHARE = 0.8
"""Share of the expected dose that goes in before the meter is read (common practice, recalled)."""

MOST_ML_PER_L = 1000.0


class DoseOutOfReach(ValueError):
    """No dose or dilution reaches the EC that is wanted; carries the target and the nearest that can be had."""

    def __init__(self, target_ms_per_cm: float, nearest_ms_per_cm: float) -> None:
        self.target_ms_per_cm = target_ms_per_cm
        self.nearest_ms_per_cm = nearest_ms_per_cm
        super().__init__(f"{target_ms_per_cm:g} mS/cm cannot be reached; the nearest is {nearest_ms_per_cm:g} mS/cm.")


class NoRiseMeasured(ValueError):
    """The meter shows no more than before the first pour, so no rest can be worked out from it."""

    def __init__(self, start_ms_per_cm: float, measured_ms_per_cm: float) -> None:
        self.start_ms_per_cm = start_ms_per_cm
        self.measured_ms_per_cm = measured_ms_per_cm
        super().__init__(f"The EC did not rise: {start_ms_per_cm:g} before, {measured_ms_per_cm:g} mS/cm now.")


@dataclass(frozen=True)
class Dose:
    """What to pour: the whole dose expected, the part to pour first, and what the meter should then show."""

    each_ml_per_l: float
    each_l: float
    first_each_l: float
    expected_ec_ms_per_cm: float


@dataclass(frozen=True)
class Remainder:
    """What to do after the reading: more of each tank, or water where the EC came out too high.

    `factor` is the measured rise over the forecast one: 0.95 means 5 % less than expected.
    """

    factor: float
    more_each_l: float
    water_to_add_l: float


def linear_rise(rise_ms_per_cm_per_ml_per_l: float) -> Rise:
    """Return the rise curve of one figure, the EC added by 1 mL of each tank per litre [mS/cm per mL/L]."""
    return lambda dose_ml_per_l: rise_ms_per_cm_per_ml_per_l * dose_ml_per_l


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


def plan_dose(
    volume_l: float, start_ms_per_cm: float, target_ms_per_cm: float, rise: Rise, first_share: float = FIRST_SHARE
) -> Dose:
    """Plan the dose that brings `volume_l` [L] from one EC to another [mS/cm], and the part of it to pour first."""
    each_ml_per_l = dose_for_rise(target_ms_per_cm - start_ms_per_cm, rise)
    each_l = each_ml_per_l * volume_l / 1000.0
    first_ml_per_l = first_share * each_ml_per_l
    expected = start_ms_per_cm + (rise(first_ml_per_l) if first_ml_per_l else 0.0)
    return Dose(each_ml_per_l, each_l, first_share * each_l, expected)


def plan_remainder(
    volume_l: float,
    start_ms_per_cm: float,
    poured_each_l: float,
    measured_ms_per_cm: float,
    target_ms_per_cm: float,
    rise: Rise,
    water_ms_per_cm: float | None = None,
) -> Remainder:
    """Plan what is left to do once `poured_each_l` [L] of each tank is in and the meter has been read.

    The forecast curve is scaled by the rise that was measured over the one it foretold.

    Parameters
    ----------
    volume_l : finished feed [L]
    start_ms_per_cm, measured_ms_per_cm, target_ms_per_cm : EC before dosing, now, and wanted [mS/cm]
    poured_each_l : of each tank, so far; over 0 [L]
    water_ms_per_cm : EC of the water that would thin it; the start's where not given [mS/cm]

    Raises
    ------
    NoRiseMeasured : where nothing was poured or the reading is not above the start.
    DoseOutOfReach : where the water is too salty to thin with.
    """
    poured_ml_per_l = 1000.0 * poured_each_l / volume_l
    foretold, measured = rise(poured_ml_per_l), measured_ms_per_cm - start_ms_per_cm
    if foretold <= 0 or measured <= 0:
        raise NoRiseMeasured(start_ms_per_cm, measured_ms_per_cm)
    factor = measured / foretold
    if measured_ms_per_cm > target_ms_per_cm:
        water = start_ms_per_cm if water_ms_per_cm is None else water_ms_per_cm
        return Remainder(factor, 0.0, water_to_add_l(volume_l, measured_ms_per_cm, target_ms_per_cm, water))
    whole_ml_per_l = dose_for_rise((target_ms_per_cm - start_ms_per_cm) / factor, rise)
    return Remainder(factor, max(whole_ml_per_l - poured_ml_per_l, 0.0) * volume_l / 1000.0, 0.0)


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


def finished_volume_l(water_l: float, each_ml_per_l: float, tanks: int) -> float:
    """Return the finished feed [L] when `tanks` concentrates go on top of `water_l` [L], each at this dose [mL/L]."""
    return water_l / (1.0 - tanks * each_ml_per_l / 1000.0)
