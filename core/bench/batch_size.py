"""How large a batch: from the feed it is to make, from days of use, or from a bag at hand, to litres in each tank."""

from __future__ import annotations

from core.bench.quantities import feed_from_tank_l, grams_for_tank

ADVISED_DAYS = 28.0
"""Days of use beyond which a batch is advised against (hydroponic growers' note, New Zealand: no more than 3 to 4
weeks' use; READ)."""

TOLD_DIGITS = 6
"""Significant digits a volume worked out from something else is kept with: finer than any mark on a tank
(this program's own choice)."""


def volume_for_feed_l(feed_l: float, ratio: float) -> float:
    """Return the volume of each tank [L] that makes this much finished feed [L] at a ratio."""
    return feed_l / ratio


def volume_for_days_l(feed_l_per_day: float, days: float, ratio: float) -> float:
    """Return the volume of each tank [L] that lasts so many days at so much finished feed a day [L]."""
    return volume_for_feed_l(feed_l_per_day * days, ratio)


def volume_for_product_l(product_kg: float, mg_per_l_feed: float, ratio: float) -> float:
    """Return the largest volume of each tank [L] that a stock of one product allows.

    Parameters
    ----------
    product_kg : what is at hand of it [kg]
    mg_per_l_feed : what a litre of finished feed takes of it, over 0 [mg/L]
    ratio : litres of finished feed from a litre of each tank
    """
    return 1000.0 * product_kg / grams_for_tank(mg_per_l_feed, ratio, 1.0)


def product_for_volume_kg(tank_volume_l: float, mg_per_l_feed: float, ratio: float) -> float:
    """Return what a batch takes of one product in all its tanks [kg]; the inverse of `volume_for_product_l`."""
    return told_l(grams_for_tank(mg_per_l_feed, ratio, tank_volume_l) / 1000.0)


def feed_from_volume_l(tank_volume_l: float, ratio: float) -> float:
    """Return the finished feed [L] of a batch; the inverse of `volume_for_feed_l`."""
    return told_l(feed_from_tank_l(tank_volume_l, ratio))


def days_of_feed(feed_l: float, feed_l_per_day: float) -> float:
    """Return how many days a volume of feed lasts [d]."""
    return told_l(feed_l / feed_l_per_day)


def told_l(volume_l: float) -> float:
    """Return a volume without the dust of its working out: 50.00000000001 L is 50 L."""
    return float(f"{volume_l:.{TOLD_DIGITS}g}")
