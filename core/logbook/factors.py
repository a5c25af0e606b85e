"""What a meter shows over what was foretold, learned from a diary: for one batch's tanks, one water, one meter."""

from __future__ import annotations

from core.bench.meter import MeterFactor, meter_factor
from core.logbook.forecast import Foretold, forecast
from core.logbook.records import Logbook, Reservoir
from core.logbook.stores import Stores

FRESH_SHARE = 0.10
"""Readings count until the crop has used this share of the volume since the filling or analysis: later ones tell of
the crop as much as of the meter (this program's own choice)."""


def factor_for(logbook: Logbook, batch_id: str, water_name: str, meter: str = "") -> MeterFactor:
    """Learn the factor of readings over forecast from every reservoir's diary.

    Parameters
    ----------
    logbook : Logbook
    batch_id : the batch in use when the readings were taken
    water_name : the water's name, as the reservoir or the batch's recipe calls it
    meter : as the entries name it; "" counts the readings of any meter
    """
    pairs = [
        pair for reservoir in logbook.reservoirs for pair in _pairs(logbook, reservoir, batch_id, water_name, meter)
    ]
    return meter_factor(pairs)


def _pairs(
    logbook: Logbook, reservoir: Reservoir, batch_id: str, water_name: str, meter: str
) -> list[tuple[float, float]]:
    if not any(entry.batch_id == batch_id for entry in reservoir.entries):
        return []
    stores, used, found = Stores(logbook, reservoir), 0.0, []
    for index, (entry, told) in enumerate(zip(reservoir.entries, forecast(logbook, reservoir), strict=True)):
        used = 0.0 if told.anchored else used + _used_share(told)
        batch, water = stores.batch_in_use(index), stores.water_report(index)
        fits = batch is not None and batch.batch_id == batch_id and water is not None and water.name == water_name
        reliable = told.basis in ("filled", "analysis") and used <= FRESH_SHARE
        if fits and reliable and meter in ("", entry.meter) and entry.ec_ms_per_cm and told.ec_ms_per_cm:
            found.append((entry.ec_ms_per_cm, told.ec_ms_per_cm))
    return found


def _used_share(told: Foretold) -> float:
    return (told.move.used_l or 0.0) / told.move.before_l if told.move.before_l else 0.0
