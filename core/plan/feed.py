"""The feed of a blend: conductivity, pH closed and aired, saturation, ions."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from core.blend.nutrients import CHARGE, Array
from core.blend.solve import Blend
from core.blend.strength import ec_ms_per_cm, water_ec_ms_per_cm
from core.blend.waters import REFERENCE_C, WaterTotals, waters_of
from core.chemistry import (
    AIR_CO2_ATM,
    OutOfRange,
    Speciation,
    conductivity_by_ion,
    kg_water_per_l,
    saturation_indices,
    speciate,
)
from core.chemistry.components import COMPONENTS
from core.chemistry.conductivity import MODEL_BAND_PERCENT
from core.plan.margins import over
from core.plan.records import Feed, IonShare
from core.recipe.records import NUTRIENTS

FIELD_BAND_PERCENT = 5.0
"""How far a meter in the field may read from the forecast: model, purity of salts, weighing, meter and temperature
compensation together (DERIVED: 3 to 5 %; 100 laboratory analyses of greenhouse feeds scatter by 4.3 %)."""

SHOWN_AS = {"P": ("H2PO4", -1), "S": ("SO4", -2), "C": ("HCO3", -1), "Fe3": ("Fe", 3), "Mo": ("MoO4", -2)}
"""Totals whose ion goes by another name."""

CLOSED_AND_AIRED = np.array([np.nan, AIR_CO2_ATM])
AIRED = slice(1, 2)
"""What is forecast together, by its pressure of carbon dioxide [atm], and where the aired feed stands among it."""

BAR_TOTALS = ("Ca", "K", "Mg", "NH4", "Na", "NO3", "S", "P", "Cl")

_BARS = [
    (column, *SHOWN_AS.get(name, (name, int(CHARGE[column]))))
    for column, name in enumerate(COMPONENTS)
    if name in BAR_TOTALS
]
"""Of each of these its place in COMPONENTS, its ion and the ion's charge."""

_KNOWN = np.array([not name.startswith("inert") for name in COMPONENTS])
_KNOWN_CATIONS, _KNOWN_ANIONS = _KNOWN & (CHARGE > 0), _KNOWN & (CHARGE < 0)


@dataclass(frozen=True)
class Forecast:
    """What the chemistry says of a feed; None outside its range."""

    ec_ms_per_cm: float | None
    water_ec_ms_per_cm: float | None
    band_percent: float
    ph: float | None
    ph_aired: float | None
    charge_error_percent: float
    saturation_index: dict[str, float]
    aired: Speciation | None = None
    """The forms of the feed at rest with the air, for those who look closer."""


NO_FORECAST = Forecast(None, None, 0.0, None, None, 0.0, {})


def forecast(totals: Array, alkalinity: float, water: WaterTotals) -> Forecast:
    """Forecast a feed and its water: EC at 25 °C, pH and solids at the temperature of its water.

    Parameters
    ----------
    totals : (n_components,) ndarray [mmol/L]
    alkalinity : float [meq/L]

    Returns
    -------
    Forecast; empty when feed or water is outside the chemistry's range.
    """
    water_ec = own_ec_ms_per_cm(water)
    both = np.stack([totals, totals], axis=1) * 1e-3
    per_kg = 1.0 / kg_water_per_l(both, REFERENCE_C)
    alkalinity_eq_per_kg, at_c = alkalinity * 1e-3 * per_kg, water.temperature_c
    try:
        found = speciate(both * per_kg, at_c, alkalinity_eq_per_kg=alkalinity_eq_per_kg, co2_atm=CLOSED_AND_AIRED)
        closed = both[:, :1] * per_kg[:1]
        told = conductivity_by_ion(
            found
            if at_c == REFERENCE_C
            else speciate(closed, REFERENCE_C, alkalinity_eq_per_kg=alkalinity_eq_per_kg[:1])
        )
    except OutOfRange:
        return NO_FORECAST
    if water_ec is None:
        return NO_FORECAST
    ec, unknown = told.ec_ms_per_cm, np.sqrt(np.maximum(told.band_percent**2 - MODEL_BAND_PERCENT**2, 0.0))
    indices = {name: round(float(value[0]), 3) for name, value in saturation_indices(found).items()}
    finite = {name: value for name, value in indices.items() if np.isfinite(value)}
    return Forecast(
        float(ec[0]),
        water_ec,
        math.hypot(FIELD_BAND_PERCENT, float(unknown[0])),
        float(found.ph[0]),
        float(found.ph[1]),
        float(found.charge_error_percent[0]),
        finite,
        found.take(AIRED),
    )


@lru_cache(maxsize=32)
def own_ec_ms_per_cm(water: WaterTotals) -> float | None:
    """EC of a water by its analysis at 25 °C [mS/cm], None outside the chemistry's range."""
    return ec_ms_per_cm(water.totals, water.alkalinity)


def ion_shares(totals: Array, alkalinity: float) -> tuple[IonShare, ...]:
    """The feed's ions by charge [meq/L], for the bars; bicarbonate is the alkalinity that is left."""
    held = totals.tolist()
    shares = [IonShare(ion, charge, held[column] * abs(charge)) for column, ion, charge in _BARS if held[column] > 0.0]
    if over(alkalinity, 0.0):
        shares.append(IonShare("HCO3", -1, alkalinity))
    return tuple(sorted(shares, key=lambda share: (share.charge < 0, -share.meq_per_l)))


def charge_error_percent(totals: Array, alkalinity: float) -> float:
    """How far cations and anions of what is known are apart, in per cent of all; inert ions stand for the unknown."""
    cations = float(np.sum((CHARGE * totals)[_KNOWN_CATIONS]))
    anions = -float(np.sum((CHARGE * totals)[_KNOWN_ANIONS])) + alkalinity
    return 100.0 * (cations - anions) / (cations + anions) if cations + anions > 0.0 else 0.0


def forecast_of(blend: Blend) -> Forecast:
    """Forecast of a blend's feed and its water."""
    return forecast(blend.totals, blend.alkalinity, blend.water)


def feed_of(blend: Blend, told: Forecast) -> Feed:
    """Everything the plan says of the feed."""
    return Feed(
        mg_per_l=dict(zip(NUTRIENTS, blend.nutrients_mg_per_l.tolist(), strict=True)),
        ec_ms_per_cm=told.ec_ms_per_cm,
        ec_band_percent=told.band_percent,
        water_ec_ms_per_cm=_water_ec(blend, told),
        ph=told.ph,
        ph_aired=told.ph_aired,
        alkalinity_meq_per_l=blend.alkalinity_left,
        charge_error_percent=charge_error_percent(blend.totals, blend.alkalinity),
        saturation_index=told.saturation_index,
        ions=ion_shares(blend.totals, blend.alkalinity_left),
        ph_temperature_c=blend.water.temperature_c,
    )


def _water_ec(blend: Blend, told: Forecast) -> float | None:
    """The water's EC as measured beside an analysis, else as forecast with the feed."""
    if all(water.ec_ms_per_cm is None for _, water, _ in waters_of(blend.recipe)):
        return told.water_ec_ms_per_cm
    return water_ec_ms_per_cm(blend.recipe, blend.water)
