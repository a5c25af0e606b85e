"""What an EC meter adds of its own: a factor learned from readings, and what it shows at another temperature."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median
from typing import Literal

from core.chemistry.temperature import Scheme, factor_to_25_c
from core.phrase import Phrase
from core.units import read_quantity, value_in

Trust = Literal["none", "few", "good", "scattered", "doubtful"]

FEW = 3
"""Under this many readings the factor is told but not to be relied on."""

SCATTERED_PERCENT = 5.0
"""Readings that differ by more than this say more about mixing than about the meter."""

PLAUSIBLE = (0.85, 1.15)
"""A factor outside this is no meter but a mistake: probe, unit, dilution (this program's own choice)."""

MOST_MS_PER_CM = 20.0
"""No feed, nor a water for one, reads more: it is another scale (this program's own choice)."""

LEAST_US_PER_CM = 100.0
"""A figure below this is rather taken for CF than for µS/cm (this program's own choice)."""

NORMAL_SPREAD = 1.4826
"""Standard deviation over median absolute deviation for normally distributed errors (exact to four digits)."""


class NoSuchReading(ValueError):
    """An EC that no feed has; `str()` is one sentence that asks for the scale that was meant."""


def check_reading(ec_ms_per_cm: float, unit: str) -> None:
    """Refuse an EC that no feed has.

    Parameters
    ----------
    ec_ms_per_cm : float [mS/cm]
    unit : the scale it was typed in, as `core.units` names it

    Raises
    ------
    NoSuchReading : above 20 mS/cm; with the scale it would be likely in, where there is one.
    """
    if ec_ms_per_cm <= MOST_MS_PER_CM:
        return
    number = f"{value_in(ec_ms_per_cm, 'ec', unit):.6g}"
    reading, most = f"{number} {unit}", f"{MOST_MS_PER_CM:g} mS/cm"
    other = "CF" if float(number) < LEAST_US_PER_CM else "µS/cm"
    if other != unit and read_quantity(number, "ec", other).value <= MOST_MS_PER_CM:
        template = "No feed reads {reading}, {most} is the most: did you mean {other}?"
        raise NoSuchReading(Phrase(template, reading=reading, most=most, other=f"{number} {other}"))
    template = "No feed reads {reading}, {most} is the most: look at the number and its scale."
    raise NoSuchReading(Phrase(template, reading=reading, most=most))


@dataclass(frozen=True)
class MeterFactor:
    """Reading over forecast of one meter: the median, its scatter as a standard deviation [%], how many readings.

    `trust`: "none" without readings (the factor is then 1), "few", "good", "scattered", or "doubtful" where the factor
    is too far from 1 to be the meter's own.
    """

    factor: float
    spread_percent: float | None
    readings: int
    trust: Trust


def meter_factor(pairs: Sequence[tuple[float, float]]) -> MeterFactor:
    """Learn a meter's factor from what it read and what was forecast.

    The median is used, so that one bad reading in three changes little.

    Parameters
    ----------
    pairs : (reading, forecast) [mS/cm] both, both at 25 degC; what is not above zero is left out

    Example
    -------
    Readings 2.06, 1.55 and 3.9 for forecasts 2.00, 1.50 and 2.00 give 1.03; the third changes nothing but the spread.
    """
    ratios = [reading / forecast for reading, forecast in pairs if reading > 0.0 and forecast > 0.0]
    if not ratios:
        return MeterFactor(1.0, None, 0, "none")
    factor = median(ratios)
    spread = None
    if len(ratios) > 1:
        spread = 100.0 * NORMAL_SPREAD * median(abs(ratio - factor) for ratio in ratios) / factor
    return MeterFactor(factor, spread, len(ratios), _trust(factor, spread, len(ratios)))


def _trust(factor: float, spread_percent: float | None, count: int) -> Trust:
    low, high = PLAUSIBLE
    if not low <= factor <= high:
        return "doubtful"
    if count < FEW:
        return "few"
    return "scattered" if spread_percent is not None and spread_percent > SCATTERED_PERCENT else "good"


def uncompensated_ms_per_cm(ec_ms_per_cm: float, temperature_c: float, scheme: Scheme = "linear") -> float:
    """What a meter without temperature compensation shows for an EC at 25 degC [mS/cm].

    Parameters
    ----------
    ec_ms_per_cm : float [mS/cm] at 25 degC
    temperature_c : float [degC], 0-50 linear, 0-35 ISO 7888
    scheme : "linear" 1.9 %/degC, or "iso-7888"

    Raises
    ------
    core.chemistry.OutOfRange : for temperatures outside.
    Source: see `core.chemistry.temperature.factor_to_25_c`.
    """
    return ec_ms_per_cm / float(factor_to_25_c(temperature_c, scheme))


def compensated_ms_per_cm(reading_ms_per_cm: float, temperature_c: float, scheme: Scheme = "linear") -> float:
    """EC at 25 degC behind the reading of a meter without temperature compensation [mS/cm]; the reverse of the above.

    Parameters
    ----------
    reading_ms_per_cm : float [mS/cm] as shown
    temperature_c : float [degC], 0-50 linear, 0-35 ISO 7888
    scheme : "linear" 1.9 %/degC, or "iso-7888"
    """
    return reading_ms_per_cm * float(factor_to_25_c(temperature_c, scheme))


@dataclass(frozen=True)
class Meter:
    """An EC meter as its owner reads it: its scale, and whether it brings readings to 25 degC by itself.

    unit : a scale `core.units` knows: "mS/cm", "µS/cm", "CF", "ppm-500", "ppm-640", "ppm-700"
    temperature_c : of what is read [degC]; matters only where the meter does not compensate
    """

    unit: str = "mS/cm"
    compensates: bool = True
    temperature_c: float = 25.0

    def ms_per_cm(self, reading: float) -> float:
        """EC at 25 degC behind a number on its display [mS/cm].

        Raises
        ------
        core.chemistry.OutOfRange : for a temperature compensation does not hold for.
        """
        shown = read_quantity(f"{reading:.10f}", "ec", self.unit).value
        return self.to_25_c(shown)

    def to_25_c(self, shown_ms_per_cm: float) -> float:
        """EC at 25 degC behind what it shows, already in mS/cm."""
        return shown_ms_per_cm if self.compensates else compensated_ms_per_cm(shown_ms_per_cm, self.temperature_c)

    def from_25_c(self, ec_ms_per_cm: float) -> float:
        """What it shows for an EC at 25 degC, still in mS/cm."""
        return ec_ms_per_cm if self.compensates else uncompensated_ms_per_cm(ec_ms_per_cm, self.temperature_c)

    def shows(self, ec_ms_per_cm: float) -> float:
        """The number on its display for an EC at 25 degC [mS/cm]."""
        return value_in(self.from_25_c(ec_ms_per_cm), "ec", self.unit)
