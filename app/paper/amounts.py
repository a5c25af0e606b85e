"""Weights, volumes and doses as they are printed: in grams or in pounds and ounces, litres or US gallons."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from app.paper.text import HARD_SPACE
from app.wording.numbers import decimals_of_step, format_decimals, format_number, format_short
from core.bench.quantities import fl_oz_per_us_gallon_of_feed, ml_per_l_of_feed
from core.units.factors import LB_G, OZ_G, US_FL_OZ_L, US_GAL_L
from core.units.formats import format_mass, format_volume

Units = Literal["auto", "metric", "us"]

COARSE_STEP_G = 0.5
"""With US units asked for, weights on a scale of this step or coarser are told in pounds and ounces [g]; finer scales
show grams."""


@dataclass(frozen=True)
class Style:
    """How amounts are printed; `us_volumes`: US gallons and fluid ounces lead."""

    units: Units = "auto"
    us_volumes: bool = False

    def weight(self, grams: float, step_g: float | None) -> str:
        """Return a weight as its scale shows it; without a scale to four digits."""
        if self.in_ounces(grams, step_g):
            return format_mass(grams, "us", readability_g=step_g)
        if step_g is None:
            return f"{grouped(format_number(grams, 4))} g"
        return f"{grouped(format_decimals(grams, decimals_of_step(step_g)))} g"

    def in_ounces(self, grams: float, step_g: float | None) -> bool:
        """Tell whether a weight is told in pounds and ounces."""
        if self.units == "metric":
            return False
        if step_g is not None and is_ounce_step(step_g):
            return True
        return self.units == "us" and (grams >= OZ_G if step_g is None else step_g >= COARSE_STEP_G)

    def volume(self, litres: float) -> str:
        """Return a volume of a tank or of feed."""
        metric = _litres(litres)
        if not self.us_volumes:
            return metric
        return f"{format_volume(litres, 'us')} ({metric})"

    def millilitres(self, ml: float) -> str:
        """Return a volume that is measured out."""
        metric = _litres(ml / 1000.0) if ml >= 1000.0 else f"{format_short(ml)} mL"
        if not self.us_volumes:
            return metric
        return f"{format_short(ml / 1000.0 / US_FL_OZ_L)} fl oz ({metric})"

    def temperature(self, celsius: float) -> str:
        """Return a temperature."""
        metric = f"{celsius:g} °C"
        return f"{round(celsius * 9 / 5 + 32):d} °F ({metric})" if self.us_volumes else metric


def style_for(units: Units, steps_g: Iterable[float]) -> Style:
    """Return the style asked for; "auto" is US where a scale shows ounces."""
    us = units == "us" or (units == "auto" and any(is_ounce_step(step) for step in steps_g))
    return Style(units, us)


def is_ounce_step(step_g: float) -> bool:
    """Tell whether a scale's step is a whole number of hundredths of an ounce: 2.834952 g is 0.1 oz."""
    hundredths = step_g / OZ_G * 100.0
    return round(hundredths) >= 1 and abs(hundredths - round(hundredths)) < 1e-3


def capacity(grams: float, *, in_ounces: bool) -> str:
    """Return what a scale carries: "6 kg", "200 g", "11 lb"."""
    if in_ounces:
        return f"{format_short(grams / LB_G, 2)} lb"
    return f"{format_short(grams / 1000.0)} kg" if grams >= 1000.0 else f"{format_short(grams)} g"


def step(grams: float) -> str:
    """Return the step a scale shows: "1 g", "0.1 oz"."""
    if is_ounce_step(grams):
        return f"{round(grams / OZ_G, 2):g} oz"
    return f"{format_decimals(grams, decimals_of_step(grams))} g"


def ounces(grams: float, step_g: float | None) -> str:
    """Return a weight in ounces alone, for scales that show no pounds."""
    decimals = 1 if step_g is None else max(0, math.ceil(-math.log10(step_g / OZ_G) - 1e-6))
    return f"{format_decimals(grams / OZ_G, decimals)} oz"


def dose_per_litre(ratio: float) -> str:
    """Return the dose of a concentrate [mL/L]."""
    return format_short(ml_per_l_of_feed(ratio))


def dose_per_gallon(ratio: float) -> str:
    """Return the dose of a concentrate [US fl oz per US gallon]."""
    return format_short(fl_oz_per_us_gallon_of_feed(ratio))


def grouped(number: str) -> str:
    """Return a number with a space between thousands: "2105" -> "2 105"."""
    whole, point, fraction = number.partition(".")
    sign, digits = ("", whole) if whole.isdigit() else (whole[:1], whole[1:])
    head = len(digits) % 3
    parts = [digits[:head]] * (head > 0) + [digits[i : i + 3] for i in range(head, len(digits), 3)]
    return f"{sign}{HARD_SPACE.join(parts)}{point}{fraction}"


def _litres(litres: float) -> str:
    if litres < 1.0:
        return f"{format_short(litres * 1000.0)} mL"
    return f"{grouped(format_short(litres, 4))} L"


PER_100_GAL_L = 100.0 * US_GAL_L
