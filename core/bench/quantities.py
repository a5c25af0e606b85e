"""From milligrams per litre of finished feed to grams and millilitres for a whole tank.

A ratio of 100 means 1 part of concentrate in 100 parts of FINISHED feed: 10 mL of each tank per litre.
"""

from __future__ import annotations

FL_OZ_PER_US_GALLON = 128.0
"""US fluid ounces in a US gallon, by definition."""


def grams_for_tank(mg_per_l_feed: float, ratio: float, tank_volume_l: float) -> float:
    """Return the product [g] that makes `tank_volume_l` [L] of concentrate.

    Parameters
    ----------
    mg_per_l_feed : product in the finished feed [mg/L]
    ratio : litres of finished feed from one litre of concentrate
    tank_volume_l : concentrate to make [L]
    """
    return mg_per_l_feed * ratio * tank_volume_l / 1000.0


def millilitres(grams: float, density_kg_per_l: float) -> float:
    """Return the volume [mL] of `grams` [g] of a liquid of this density [kg/L]."""
    return grams / density_kg_per_l


def ml_per_l_of_feed(ratio: float) -> float:
    """Return the concentrate [mL] that goes into each litre of finished feed."""
    return 1000.0 / ratio


def fl_oz_per_us_gallon_of_feed(ratio: float) -> float:
    """Return the concentrate [US fl oz] that goes into each US gallon of finished feed."""
    return FL_OZ_PER_US_GALLON / ratio


def feed_from_tank_l(tank_volume_l: float, ratio: float) -> float:
    """Return how much finished feed [L] a tank of `tank_volume_l` [L] makes."""
    return tank_volume_l * ratio


def mg_per_l_from_tank(grams: float, feed_l: float) -> float:
    """Return the product in the finished feed [mg/L] of which `grams` [g] go into what makes `feed_l` [L] of it."""
    return 1000.0 * grams / feed_l
