"""How far each nutrient of the feed may be from what is told: label law, scale and volume together.

The law's slack is a limit, not a scatter: every bag may stand at it at once, and only ever short. Scale and volume
scatter, so they are added as squares. The band is as wide as it has to be to hold 19 batches of 20 whatever the bags
are within the law: with a wide slack each end is left only by the scatter beyond that end (1.645 standard deviations),
without any slack both ends are (1.96).

Not in it: the water report, the dosing of the tanks into the reservoir, and what a laboratory would be off.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist
from typing import TYPE_CHECKING

import numpy as np

from core.catalog.label_law import shortfall_points
from core.recipe.records import NUTRIENTS

if TYPE_CHECKING:
    from core.blend.nutrients import Array
    from core.blend.shelf import Source

COVERED = 0.95
"""Share of batches the band is to hold (this program's own choice)."""

SIGMAS = 1.959964
"""Standard deviations to either side that hold 95 % of a normal scatter (exact to seven digits)."""

STEPS_OFF = 1.0
"""Scale steps a weight is off at most 19 times of 20: half a step for the display, as much for zero and hand (this
program's own choice)."""

VOLUME_PERCENT = 1.0
"""How far a tank filled to its mark is off at most 19 times of 20 [%] (this program's own choice)."""

POURED_PERCENT = 2.0
"""How far a volume poured with a cylinder or syringe is off at most 19 times of 20 [%] (this program's own choice)."""

UNLIMITED_SHARE = 0.05
"""Share of a nutrient from products without a known allowance from which on that is said (own choice)."""

PRINTED = {"P": "P2O5", "K": "K2O", "NO3-N": "N", "NH4-N": "N", "urea-N": "N"}
"""Nutrient -> the name labels promise it under, where that is another; a form of nitrogen goes with the total."""


BALLAST = ("Na", "Cl")
"""Nobody buys these for themselves and no label has to promise them: their shortfall is not counted."""


@dataclass(frozen=True, eq=False)
class Part:
    """One product in one place.

    Attributes
    ----------
    tank : parts of one tank share the error of its volume; "" is no tank
    brings_mg_per_l : (n_nutrients,) what it brings to the feed [mg/L]
    short_percent : (n_nutrients,) the largest lawful shortfall [% of what it brings]; nan where none is known
    weighing_percent : how far its weight is off at most 19 times of 20 [%]
    """

    tank: str
    brings_mg_per_l: Array
    short_percent: Array
    weighing_percent: float


@dataclass(frozen=True, eq=False)
class ErrorBand:
    """The band of every nutrient, (n_nutrients,) each [mg/L].

    Attributes
    ----------
    low_mg_per_l, high_mg_per_l : its ends
    label_mg_per_l : what all bags at the limit of the law would lack
    weighing_mg_per_l, volume_mg_per_l : the scatter of either alone, 19 times of 20
    unlimited : True where no allowance was read for a good part of what brings the nutrient
    """

    low_mg_per_l: Array
    high_mg_per_l: Array
    label_mg_per_l: Array
    weighing_mg_per_l: Array
    volume_mg_per_l: Array
    unlimited: Array


def error_band(parts: Sequence[Part], feed_mg_per_l: Array) -> ErrorBand:
    """Return the band around a feed.

    Parameters
    ----------
    parts : everything that was weighed or poured
    feed_mg_per_l : (n_nutrients,) what the feed holds in all, water included [mg/L]
    """
    nothing = np.zeros(len(NUTRIENTS))
    brings = np.array([part.brings_mg_per_l for part in parts]).reshape(len(parts), len(NUTRIENTS))
    short = np.array([part.short_percent for part in parts]).reshape(brings.shape)
    off = np.array([part.weighing_percent for part in parts])
    label = (brings * np.nan_to_num(short)).sum(axis=0) / 100.0
    weighing = np.sqrt(((brings * off[:, None] / 100.0) ** 2).sum(axis=0)) if parts else nothing
    tanks = sorted({part.tank for part in parts if part.tank})
    held = [brings[[part.tank == tank for part in parts]].sum(axis=0) for tank in tanks]
    volume = np.sqrt(sum([(one * VOLUME_PERCENT / 100.0) ** 2 for one in held], nothing))
    scatter = np.hypot(weighing, volume) / SIGMAS
    beyond = np.array([_sigmas_beyond(*pair) for pair in zip(label.tolist(), scatter.tolist(), strict=True)])
    bare = np.where(np.isnan(short), brings, 0.0).sum(axis=0)
    return ErrorBand(
        low_mg_per_l=np.maximum(feed_mg_per_l - label - beyond * scatter, 0.0),
        high_mg_per_l=feed_mg_per_l + beyond * scatter,
        label_mg_per_l=label,
        weighing_mg_per_l=weighing,
        volume_mg_per_l=volume,
        unlimited=bare > UNLIMITED_SHARE * np.maximum(brings.sum(axis=0), 1e-12),
    )


def label_shortfall_percent(source: Source, law: str | None) -> Array:
    """Return the largest lawful shortfall of each nutrient, in per cent of what the product holds of it.

    A pure salt without a label is taken to promise what its formula holds. Acids and bases are sold by strength, not
    under these laws, and are left out, as is everything where no law is chosen (0); nan where the law chosen says
    nothing of this product's nutrient, as far as it was read.
    """
    short = np.zeros(len(NUTRIENTS))
    if law is None or source.kind in ("acid", "base"):
        return short
    percents = dict(zip(NUTRIENTS, (100.0 * source.brings).tolist(), strict=True))
    for row, nutrient in enumerate(NUTRIENTS):
        if percents[nutrient] > 0.0 and nutrient not in BALLAST:
            short[row] = _short_percent(source, law, nutrient, percents)
    return short


def weighing_percent(grams: float, step_g: float | None, goes: int = 1) -> float:
    """Return how far a weight is off at most 19 times of 20 [%]; 0 without a known scale.

    Parameters
    ----------
    grams : the whole weight [g]
    step_g : smallest step of the scale [g]
    goes : weighings it is made up of, each with its own error
    """
    if step_g is None or grams <= 0.0:
        return 0.0
    return 100.0 * STEPS_OFF * step_g * math.sqrt(goes) / grams


def _short_percent(source: Source, law: str, nutrient: str, percents: dict[str, float]) -> float:
    from core.blend.composition import OXIDES

    printed = PRINTED.get(nutrient, nutrient)
    element, fraction = OXIDES.get(printed, (printed, 1.0))
    guarantee = percents[element] / fraction
    points = shortfall_points(law, source.entry.salt, printed, guarantee)
    return math.nan if points is None else 100.0 * points / guarantee


def _sigmas_beyond(label: float, scatter: float) -> float:
    """Standard deviations beyond either end so that bags at one limit are held 19 times of 20; see the module."""
    if scatter <= 0.0:
        return 0.0
    normal, room = NormalDist(), label / scatter
    low, high = 1.6, 2.0
    for _ in range(40):
        middle = (low + high) / 2.0
        if normal.cdf(middle + room) - normal.cdf(-middle) < COVERED:
            low = middle
        else:
            high = middle
    return high
