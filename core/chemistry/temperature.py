"""Conductivity at one temperature as a meter tells it for 25 degC, and back."""

from __future__ import annotations

import csv
from functools import cache
from importlib import resources
from typing import Literal

import numpy as np

from core.chemistry.errors import OutOfRange
from core.chemistry.system import Array
from core.phrase import Phrase

Scheme = Literal["linear", "iso-7888"]

PERCENT_PER_C = 1.9
"""Change of the conductivity of feeds per degC, of the value at 25 degC (1.87-1.92 for nutrient solutions)."""


@cache
def _iso_7888() -> tuple[Array, Array]:
    text = resources.files("resources.thermodynamics").joinpath("feed_iso7888.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(text.splitlines()))
    return np.array([float(row["temperature_c"]) for row in rows]), np.array([float(row["factor"]) for row in rows])


def factor_to_25_c(
    temperature_c: Array | float, scheme: Scheme = "linear", percent_per_c: float = PERCENT_PER_C
) -> Array:
    """Factor that turns conductivity at a temperature into the value for 25 degC [-].

    temperature_c : float or (n,) ndarray [degC]; 0-35 for "iso-7888", 0-50 for "linear"
    scheme : "linear" (most meters) or "iso-7888" (the curve for natural waters)
    percent_per_c : float [%/degC] of the linear scheme
    Source: ISO 7888:1985, table of f25, READ in a meter's manual that credits it; linear 1.9 %/degC DERIVED
        from McCleskey 2012 for a nutrient solution at 15 and 20 degC.
    """
    temperature = np.asarray(temperature_c, dtype=np.float64)
    warmest = 35.0 if scheme == "iso-7888" else 50.0
    if not ((temperature >= 0.0) & (temperature <= warmest)).all():
        raise OutOfRange(Phrase("Temperature compensation holds from 0 to {warmest:g} degC.", warmest=warmest))
    if scheme == "iso-7888":
        return np.asarray(np.interp(temperature, *_iso_7888()))
    return np.asarray(1.0 / (1.0 + percent_per_c / 100.0 * (temperature - 25.0)))
