"""Tanks already mixed, as products with a label: what a recipe's planned concentrates bring."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.blend.nutrients import MG_PER_MMOL
from core.blend.solve import Blend
from core.recipe.records import NUTRIENTS, LabelPercent, ShelfEntry

PRINTED = ("NO3-N", "NH4-N", "urea-N", "P", "K", "Ca", "Mg", "S", "Fe", "Mn", "Zn", "B", "Cu", "Mo", "Si", "Na", "Cl")

LABEL_DIGITS = 5
"""Significant digits of the label a tank is written down with."""


@dataclass(frozen=True)
class MixedTank:
    """One concentrate that stands in the shed.

    Attributes
    ----------
    entry : the shelf entry it becomes: a product known by its label, without price
    g_per_l : float, dissolved product per litre of concentrate, so that mg/L of it is g_per_l times mL/L
    ml_per_l : float, how it was meant to be used
    alkalinity_meq_per_l : float, of the feed at that dose; a label cannot carry it
    """

    entry: ShelfEntry
    g_per_l: float
    ml_per_l: float
    alkalinity_meq_per_l: float


def mixed_tank(
    blend: Blend, name: str, shares: dict[str, float], ratio: float, at_most_ml_per_l: float | None = None
) -> MixedTank:
    """A tank of a solved recipe as one product.

    Parameters
    ----------
    blend : Blend the tank was planned from
    name : what it is called, "calcium side as mixed"
    shares : shelf key -> share of its amount in this tank
    ratio : litres of feed per litre of concentrate
    at_most_ml_per_l : float or None, the most the injector can dose

    Raises
    ------
    ValueError : the tank holds nothing.
    """
    weights = np.array([shares.get(source.key, 0.0) for source in blend.shelf.sources])
    amounts = blend.amounts_mg_per_l * weights
    product_mg_per_l = float(amounts.sum())
    if product_mg_per_l <= 0.0:
        raise ValueError(f"the tank {name} holds nothing")
    nutrients = MG_PER_MMOL @ (blend.shelf.totals @ amounts)
    label = _label(dict(zip(NUTRIENTS, (100.0 * nutrients / product_mg_per_l).tolist(), strict=True)))
    g_per_l = product_mg_per_l * ratio / 1000.0
    most = None if at_most_ml_per_l is None else at_most_ml_per_l * g_per_l
    entry = ShelfEntry(salt=f"blend:{name}", label_percent=label, at_most_mg_per_l=most)
    return MixedTank(entry, g_per_l, 1000.0 / ratio, float(blend.shelf.alkalinity @ amounts))


def _label(percent: dict[str, float]) -> LabelPercent:
    kept = {name: float(f"{percent[name]:.{LABEL_DIGITS}g}") for name in PRINTED if percent[name] > 1e-6}
    fields = dict(zip(LabelPercent.__struct_encode_fields__, LabelPercent.__struct_fields__, strict=True))
    return LabelPercent(**{fields[name]: value for name, value in kept.items()})
