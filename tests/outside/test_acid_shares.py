"""How much of a water's alkalinity acid must take away to bring it to a pH, closed to air, cold and cool.

Shares by the ideal carbonate balance (DERIVED from pK1 at each temperature, Plummer & Busenberg 1982); a full engine
with activities and ion pairs gave 1 to 2 points less, so that the plan's whole way from a report to a dose must lie
within 2.5 points below and 0.5 above. At 10 °C from pH 7.5 to 5.8 that engine gave 79.1 %.
"""

import pytest

from core.plan import plan
from tests.helpers.recipes import recipe

IDEAL_PERCENT = {
    10.0: {6.5: (32.7, 43.1, 46.5), 6.0: (67.0, 72.1, 73.7), 5.8: (77.0, 80.5, 81.7), 5.5: (87.3, 89.3, 89.9)},
    20.0: {6.5: (29.6, 38.9, 42.1), 6.0: (63.6, 68.4, 70.0), 5.8: (74.2, 77.7, 78.8), 5.5: (85.6, 87.5, 88.1)},
}
STARTS = (7.0, 7.5, 8.0)
CASES = [
    (temperature_c, ph, start, percent)
    for temperature_c, rows in IDEAL_PERCENT.items()
    for ph, row in rows.items()
    for start, percent in zip(STARTS, row, strict=True)
]


def taken_percent(temperature_c: float, ph: float, start: float) -> float:
    """Share of 5 meq/L taken away by nitric acid that a recipe aims at a pH with."""
    mg_per_l = {"HCO3": 305.1, "Ca": 70.1, "Mg": 12.2, "Na": 11.5}
    water = {"mg_per_l": mg_per_l, "ph": start, "temperature_c": temperature_c}
    made = recipe({}, [{"salt": "nitric-acid", "strength_percent": 60.0}], water=water, aim={"ph": ph})
    feed = plan(made).feed
    assert feed.ph == pytest.approx(ph, abs=0.01)
    return 100.0 * (1.0 - feed.alkalinity_meq_per_l / 5.0)


@pytest.mark.parametrize(("temperature_c", "ph", "start", "percent"), CASES)
def test_share_of_the_alkalinity_taken_away(temperature_c, ph, start, percent):
    assert percent - 2.5 <= taken_percent(temperature_c, ph, start) <= percent + 0.5


def test_cold_water_takes_more_acid_as_the_full_engine_found():
    assert taken_percent(10.0, 5.8, 7.5) == pytest.approx(79.1, abs=0.6)
