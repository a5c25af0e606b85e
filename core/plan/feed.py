"""The feed of a blend: conductivity, pH closed and aired, saturation, ions."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from core.blend.nutrients import CHARGE, COLUMN, Array
from core.blend.solve import Blend
from core.chemistry import (
    AIR_CO2_ATM,
    NotConverged,
    OutOfRange,
    Speciation,
    conductivity_by_ion,
    kg_water_per_l,
    saturation_indices,
    speciate,
)
from core.chemistry.components import COMPONENTS
from core.chemistry.conductivity import MODEL_BAND_PERCENT
from core.chemistry.species import CHELATORS
from core.plan.records import Feed, IonShare
from core.recipe.records import NUTRIENTS

REFERENCE_C = 25.0
"""Temperature of the forecast: conductivity is told at 25 °C."""

FIELD_BAND_PERCENT = 5.0
"""How far a meter in the field may read from the forecast: model, purity of salts, weighing, meter and temperature
compensation together (DERIVED: 3 to 5 %; 100 laboratory analyses of greenhouse feeds scatter by 4.3 %)."""

SHOWN_AS = {"P": ("H2PO4", -1), "S": ("SO4", -2), "C": ("HCO3", -1), "Fe3": ("Fe", 3), "Mo": ("MoO4", -2)}
"""Totals whose ion goes by another name."""

AIRED = slice(1, 2)
"""Where the aired feed stands among what is forecast together."""

_LIGANDS = [COLUMN[name] for name in sorted(CHELATORS)]

BAR_TOTALS = ("Ca", "K", "Mg", "NH4", "Na", "NO3", "S", "P", "Cl")


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
    iron_chelated_percent: float | None = None
    """Share of the ferric iron that stays with synthetic ligands once the feed has aired; None without either."""


NO_FORECAST = Forecast(None, None, 0.0, None, None, 0.0, {})


def forecast(totals: Array, alkalinity: float, water_totals: Array, water_alkalinity: float) -> Forecast:
    """Forecast a feed and its water at 25 °C.

    Parameters
    ----------
    totals, water_totals : (n_components,) ndarray [mmol/L]
    alkalinity, water_alkalinity : float [meq/L]

    Returns
    -------
    Forecast; empty when the feed is outside the chemistry's range.
    """
    columns = np.stack([totals, totals, water_totals], axis=1) * 1e-3
    alkalinities = np.array([alkalinity, alkalinity, water_alkalinity]) * 1e-3
    per_kg = 1.0 / kg_water_per_l(columns, REFERENCE_C)
    try:
        found = speciate(
            columns * per_kg,
            REFERENCE_C,
            alkalinity_eq_per_kg=alkalinities * per_kg,
            co2_atm=np.array([np.nan, AIR_CO2_ATM, np.nan]),
        )
    except OutOfRange:
        return NO_FORECAST
    told = conductivity_by_ion(found)
    ec, unknown = told.ec_ms_per_cm, np.sqrt(np.maximum(told.band_percent**2 - MODEL_BAND_PERCENT**2, 0.0))
    indices = {name: round(float(value[0]), 3) for name, value in saturation_indices(found).items()}
    finite = {name: value for name, value in indices.items() if np.isfinite(value)}
    return Forecast(
        float(ec[0]),
        float(ec[2]),
        math.hypot(FIELD_BAND_PERCENT, float(unknown[0])),
        float(found.ph[0]),
        float(found.ph[1]),
        float(found.charge_error_percent[0]),
        finite,
        _iron_chelated_percent(found),
    )


def _iron_chelated_percent(found: Speciation) -> float | None:
    """The share of the aired feed, the second of the three columns."""
    totals = found.totals_mol_per_kg[:, AIRED]
    if not totals[COLUMN["Fe3"]].any() or not totals[_LIGANDS].any():
        return None
    from core.chemistry.chelation import iron_chelation

    aired = Speciation(
        found.temperature_c,
        totals,
        found.ph[AIRED],
        found.ionic_strength_mol_per_kg[AIRED],
        found.molality[:, AIRED],
    )
    try:
        return 100.0 * float(iron_chelation(aired).iron_chelated[0])
    except NotConverged:  # never seen; a plan is made all the same
        return None


def ion_shares(totals: Array, alkalinity: float) -> tuple[IonShare, ...]:
    """The feed's ions by charge [meq/L], for the bars; bicarbonate is the alkalinity that is left."""
    shares = []
    for column, name in enumerate(COMPONENTS):
        if name in BAR_TOTALS and totals[column] > 0.0:
            ion, charge = SHOWN_AS.get(name, (name, int(CHARGE[column])))
            shares.append(IonShare(ion, charge, float(totals[column]) * abs(charge)))
    if alkalinity > 0.0:
        shares.append(IonShare("HCO3", -1, alkalinity))
    return tuple(sorted(shares, key=lambda share: (share.charge < 0, -share.meq_per_l)))


def charge_error_percent(totals: Array, alkalinity: float) -> float:
    """How far cations and anions of what is known are apart, in per cent of all; inert ions stand for the unknown."""
    known = np.array([not name.startswith("inert") for name in COMPONENTS])
    cations = float(np.sum((CHARGE * totals)[known & (CHARGE > 0)]))
    anions = -float(np.sum((CHARGE * totals)[known & (CHARGE < 0)])) + alkalinity
    return 100.0 * (cations - anions) / (cations + anions) if cations + anions > 0.0 else 0.0


def forecast_of(blend: Blend) -> Forecast:
    """Forecast of a blend's feed and its water."""
    return forecast(blend.totals, blend.alkalinity, blend.water.totals, blend.water.alkalinity)


def feed_of(blend: Blend, told: Forecast) -> Feed:
    """Everything the plan says of the feed."""
    return Feed(
        mg_per_l={name: float(value) for name, value in zip(NUTRIENTS, blend.nutrients_mg_per_l, strict=True)},
        ec_ms_per_cm=told.ec_ms_per_cm,
        ec_band_percent=told.band_percent,
        water_ec_ms_per_cm=told.water_ec_ms_per_cm,
        ph=told.ph,
        ph_aired=told.ph_aired,
        alkalinity_meq_per_l=blend.alkalinity,
        charge_error_percent=charge_error_percent(blend.totals, blend.alkalinity),
        saturation_index=told.saturation_index,
        ions=ion_shares(blend.totals, blend.alkalinity),
    )
