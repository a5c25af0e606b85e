"""The EC of a reservoir against the dose of the tanks, for this water and these tanks."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from core.blend.nutrients import Array
    from core.blend.solve import Blend

EC_TEMPERATURE_C = 25.0


def ec_by_dose(
    blend: Blend,
    dose_ml_per_l: Sequence[float],
    full_ml_per_l: float,
    in_tanks: Collection[str],
    first: Collection[str],
) -> tuple[float | None, ...]:
    """Forecast the EC at several doses of each tank [mS/cm at 25 degC]; None outside the chemistry's range.

    Parameters
    ----------
    blend : Blend the tanks were split from
    dose_ml_per_l : (n,) of each tank, per litre of finished feed [mL/L]
    full_ml_per_l : dose that makes the planned feed [mL/L]
    in_tanks : keys of the shelf entries the tanks hold
    first : keys of those stirred into the water whole before any tank, such as bulk acid
    """
    keys = [source.key for source in blend.shelf.sources]
    poured = blend.amounts_mg_per_l * np.array([key in in_tanks for key in keys])
    before = blend.amounts_mg_per_l * np.array([key in first for key in keys])
    start = blend.water.totals + blend.shelf.totals @ before
    start_alkalinity = blend.water.alkalinity + float(blend.shelf.alkalinity @ before)
    more, more_alkalinity = blend.shelf.totals @ poured, float(blend.shelf.alkalinity @ poured)
    shares = [dose / full_ml_per_l for dose in dose_ml_per_l]
    return tuple(_ec(start + share * more, start_alkalinity + share * more_alkalinity) for share in shares)


def _ec(totals_mmol_per_l: Array, alkalinity_meq_per_l: float) -> float | None:
    from core.chemistry import OutOfRange, conductivity_by_ion, kg_water_per_l, speciate

    column = totals_mmol_per_l[:, None] * 1e-3
    water = kg_water_per_l(column, EC_TEMPERATURE_C)
    try:
        found = speciate(column / water, EC_TEMPERATURE_C, alkalinity_eq_per_kg=alkalinity_meq_per_l * 1e-3 / water)
    except OutOfRange:
        return None
    ec = float(conductivity_by_ion(found).ec_ms_per_cm[0])
    return ec if math.isfinite(ec) else None
