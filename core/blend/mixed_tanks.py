"""Tanks already mixed, as products: what a recipe's planned concentrates bring, acid and chelates with it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.blend.nutrients import MG_PER_MMOL, Array
from core.blend.solve import Blend
from core.chemistry.components import COMPONENTS
from core.recipe.records import NUTRIENTS, LabelPercent, ShelfEntry, TankContents

LABEL_DIGITS = 5
"""Significant digits of the label a tank is shown with; the solve takes its totals (own choice)."""

TOTALS_DIGITS = 12
"""Significant digits of the totals it is written down with, so that charges still close to less than counts."""

LEAST_MMOL_PER_G = 1e-12
"""Less than this is round-off of charges that close."""


@dataclass(frozen=True)
class MixedTank:
    """One concentrate that stands in the shed.

    Attributes
    ----------
    entry : the shelf entry it becomes: a product known by all it holds, without price
    g_per_l : float, dissolved product per litre of concentrate, so that mg/L of it is g_per_l times mL/L
    ml_per_l : float, how it was meant to be used
    alkalinity_meq_per_l : float, of the feed at that dose
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
    totals = blend.shelf.totals @ amounts
    label = _label(dict(zip(NUTRIENTS, (100.0 * (MG_PER_MMOL @ totals) / product_mg_per_l).tolist(), strict=True)))
    g_per_l = product_mg_per_l * ratio / 1000.0
    most = None if at_most_ml_per_l is None else at_most_ml_per_l * g_per_l
    contents = _contents(1000.0 * totals / product_mg_per_l)
    entry = ShelfEntry(
        salt=f"blend:{name}",
        label_percent=label,
        at_most_mg_per_l=most,
        mixed_mmol_per_g=contents,
        mixed_g_per_l=float(f"{g_per_l:.{LABEL_DIGITS}g}"),
    )
    return MixedTank(entry, g_per_l, 1000.0 / ratio, float(blend.shelf.alkalinity @ amounts))


def _label(percent: dict[str, float]) -> LabelPercent:
    kept = {name: float(f"{value:.{LABEL_DIGITS}g}") for name, value in percent.items() if value > 1e-6 and name != "N"}
    fields = dict(zip(LabelPercent.__struct_encode_fields__, LabelPercent.__struct_fields__, strict=True))
    return LabelPercent(**{fields[name]: value for name, value in kept.items()})


def _contents(mmol_per_g: Array) -> TankContents:
    fields = dict(zip(TankContents.__struct_encode_fields__, TankContents.__struct_fields__, strict=True))
    held = zip(COMPONENTS, mmol_per_g.tolist(), strict=True)
    return TankContents(
        **{fields[name]: float(f"{mmol:.{TOTALS_DIGITS}g}") for name, mmol in held if mmol > LEAST_MMOL_PER_G}
    )
