"""Conductivity of single salts and simple mixtures at 25 degC against measurements, group by group.

Sources. Potassium chloride per litre: Standard Methods for the Examination of Water and Wastewater, method 2510,
table I. Potassium chloride per kilogram: Wu, Koch & Pratt 1991 (NIST/IUPAC standards, 0.04 %). Sodium and potassium
chloride, calcium chloride, magnesium sulfate, sodium sulfate: the data PHREEQC is tested on, mytest/Equiv_Conduct
and M_M2Cl_SC of the USGS repository (Chambers 1956; Robinson & Stokes 1959; Shedlovsky & Brown 1934; Phang &
Stokes; McCleskey 2011). Fitted salts: McCleskey 2011, J. Chem. Eng. Data 56, 317 (0.5-1 % themselves; left out are
fits that contradict better data of the same salt: potassium chloride 0.7-1.2 % high, sodium bicarbonate 4 % high,
sodium sulfate 2 % above the measurement at 10 mmol/kg). Mixture "442": 40 % Na2SO4, 40 % NaHCO3, 20 % NaCl by mass,
ppm by mass, as printed in meters' manuals. Sea water diluted to salinity 2, 3 and 5: PSS-78 (Lewis 1980) with the
composition of Millero et al. 2008.
"""

from __future__ import annotations

import numpy as np
import pytest

from core.chemistry import conductivity_ms_per_cm, kg_water_per_l, speciate
from tests.core.chemistry.feeds import column

Point = tuple[dict[str, float], float]
"""Totals [mmol/kg water] and measured conductivity [mS/cm]."""


def per_kg(mmol_per_l: dict[str, float]) -> dict[str, float]:
    water = float(kg_water_per_l(column(mmol_per_l)))
    return {name: amount / water for name, amount in mmol_per_l.items()}


def salt(parts: dict[str, float], points: list[tuple[float, float]]) -> list[Point]:
    """Points of one salt, given as (mol/kg, mS/cm)."""
    return [({name: 1000.0 * m * count for name, count in parts.items()}, value) for m, value in points]


def equivalent(parts: dict[str, float], valence: float, points: list[tuple[float, float]]) -> list[Point]:
    """Points of one salt, given as (mol/kg, S cm2/equivalent)."""
    made = salt(parts, [(m, 0.0) for m, _ in points])
    waters = [float(kg_water_per_l(column(totals))) for totals, _ in made]
    return [
        (totals, valence * m * water * value)
        for (totals, _), (m, value), water in zip(made, points, waters, strict=True)
    ]


def fitted(parts: dict[str, float], c: tuple[float, ...], d: tuple[float, ...], b: float, times: float) -> list[Point]:
    """Points of a fit of McCleskey 2011 at 25 degC, 2 to 20 mmol/kg."""
    points = []
    for m in (0.002, 0.005, 0.01, 0.02):
        (totals, _), root = salt(parts, [(m, 0.0)])[0], m**0.5
        first, second = (x[0] * 625.0 + x[1] * 25.0 + x[2] for x in (c, d))
        litre = m * float(kg_water_per_l(column(totals)))
        points.append((totals, times * litre * (first - second * root / (1.0 + b * root))))
    return points


def mixture_442(ppm: float) -> dict[str, float]:
    g = 1000.0 * ppm / (1e6 - ppm)  # of salts per kg of water
    sulfate, bicarbonate, chloride = 0.4 * g / 142.04, 0.4 * g / 84.007, 0.2 * g / 58.443
    mol = {"Na": 2 * sulfate + bicarbonate + chloride, "S": sulfate, "C": bicarbonate, "Cl": chloride}
    return {name: 1000.0 * amount for name, amount in mol.items()}


SEA = {"Na": 0.4860597, "Mg": 0.0547421, "Ca": 0.0106568, "K": 0.0105797, "Cl": 0.5657647 + 0.0008728, "S": 0.0292643,
       "C": 0.0019}  # fmt: skip
"""Sea water of salinity 35 [mol/kg water], Millero et al. 2008; bromide and fluoride as chloride, strontium as
calcium."""


def practical_salinity_ratio(salinity: float) -> float:
    """Conductivity over that of standard sea water, both at 25 degC, solved from PSS-78 (Lewis 1980)."""
    a, b = (0.008, -0.1692, 25.3851, 14.0941, -7.0261, 2.7081), (0.0005, -0.0056, -0.0066, -0.0375, 0.0636, -0.0144)
    warmth = (25.0 - 15.0) / (1.0 + 0.0162 * (25.0 - 15.0))
    ratios = np.linspace(0.01, 0.3, 5000)
    roots = np.sqrt(ratios)
    told = sum((x + warmth * y) * roots**power for power, (x, y) in enumerate(zip(a, b, strict=True)))
    return float(np.interp(salinity, told, ratios))


def sea_water(salinity: float) -> Point:
    """Diluted sea water; of salinity 35 it has 53.065 mS/cm at 25 degC (Culkin & Smith 1980, PSS-78)."""
    water_share = (1000.0 - 35.165) / 35.0 * salinity / (1000.0 - 35.165 / 35.0 * salinity)
    return {name: 1000.0 * m * water_share for name, m in SEA.items()}, 53.065 * practical_salinity_ratio(salinity)


KCL_LITRE = {0.5: 0.0739, 1.0: 0.1469, 5.0: 0.7175, 10.0: 1.412, 20.0: 2.765, 50.0: 6.667, 100.0: 12.89}
GROUPS: dict[str, list[Point]] = {
    "potassium chloride per litre": [(per_kg({"K": c, "Cl": c}), value) for c, value in KCL_LITRE.items()],
    "potassium chloride per kilogram": salt({"K": 1, "Cl": 1}, [(0.01, 1.40823), (0.1, 12.8246)]),
    "potassium chloride per equivalent": equivalent(
        {"K": 1, "Cl": 1}, 1.0,
        [(0.00050148, 147.81), (0.001003, 146.95), (0.0050147, 143.55), (0.010029, 141.27), (0.020058, 138.34),
         (0.050145, 133.37), (0.10058, 128.96)],
    ),
    "sodium chloride": equivalent(
        {"Na": 1, "Cl": 1}, 1.0,
        [(0.00050149, 124.45), (0.001003, 123.68), (0.0050152, 120.58), (0.010031, 118.47), (0.020066, 115.7),
         (0.050191, 111.01), (0.10047, 106.69)],
    ),
    "calcium chloride": salt(
        {"Ca": 1, "Cl": 2},
        [(0.002508, 0.62115), (0.005015, 1.204), (0.01003, 2.313), (0.0144, 3.242), (0.02101, 4.604), (0.03215, 6.814)],
    ),
    "magnesium sulfate to 7 mmol": equivalent(
        {"Mg": 1, "S": 1}, 2.0,
        [(0.0005187, 116.05), (0.001029, 109.23), (0.002176, 100.03), (0.003138, 95.009), (0.007112, 83.579)],
    ),
    "sodium sulfate": salt({"Na": 2, "S": 1}, [(0.0001, 0.02576), (0.001, 0.2415), (0.01, 2.128), (0.02508, 4.78)]),
    "magnesium chloride, fitted": fitted(
        {"Mg": 1, "Cl": 2}, (0.009534, 2.247, 68.19), (0.02469, 4.374, 129.8), 3.1, 2.0
    ),
    "calcium chloride, fitted": fitted({"Ca": 1, "Cl": 2}, (0.01124, 2.224, 72.36), (0.03918, 3.905, 137.7), 3.8, 2.0),
    "sodium chloride, fitted": fitted({"Na": 1, "Cl": 1}, (0.008967, 2.196, 67.03), (0.00726, 1.762, 44.55), 1.3, 1.0),
    "calcium sulfate, fitted": fitted({"Ca": 1, "S": 1}, (0.01192, 2.564, 73.3), (0.2402, 19.78, 644.4), 9.6, 2.0),
    "hydrochloric acid, fitted": fitted({"Cl": 1}, (-0.006766, 6.614, 262.4), (0.00009, 1.776, 48.53), 0.01, 1.0),
    "sodium hydroxide, fitted": fitted({"Na": 1}, (0.006936, 3.872, 148.3), (0.01018, 0.67421, 56.76), 0.2, 1.0),
    "mixture 442": [(mixture_442(ppm), value) for ppm, value in ((300.0, 0.447), (1000.0, 1.413), (1500.0, 2.070))],
    "sea water diluted": [sea_water(salinity) for salinity in (2.0, 3.0, 5.0)],
}  # fmt: skip


def errors_percent(group: str) -> np.ndarray:
    points = GROUPS[group]
    totals = np.stack([column(totals) for totals, _ in points], axis=1)
    told = conductivity_ms_per_cm(speciate(totals, 25.0))
    return 100.0 * (told / np.array([value for _, value in points]) - 1.0)


@pytest.mark.parametrize("group", [name for name in GROUPS if name.startswith("potassium chloride")])
def test_potassium_chloride_to_half_a_per_cent(group: str) -> None:
    assert np.abs(errors_percent(group)).max() <= 0.5


@pytest.mark.parametrize("group", [name for name in GROUPS if not name.startswith("potassium chloride")])
def test_other_groups_to_one_and_a_half_per_cent_on_average(group: str) -> None:
    assert np.abs(errors_percent(group)).mean() <= 1.5


def test_mean_of_all_groups() -> None:
    assert np.mean([np.abs(errors_percent(group)).mean() for group in GROUPS]) <= 0.7


def test_strong_magnesium_sulfate_is_told_too_low() -> None:
    """At 25 mmol/kg the model reads 8.5 % low (65.515 S cm2/eq measured): the weak spot, far above any feed."""
    totals, measured = equivalent({"Mg": 1, "S": 1}, 2.0, [(0.02545, 65.515)])[0]
    error = 100.0 * (conductivity_ms_per_cm(speciate(column(totals), 25.0))[0] / measured - 1.0)
    assert -9.5 < error < -7.0


@pytest.mark.parametrize(
    ("temperature_c", "dilute", "strong"),
    [(5.0, 0.89096, 8.18370), (10.0, 1.01395, 9.29172), (15.0, 1.14145, 10.4371), (18.0, 1.21993, 11.1406),
     (20.0, 1.27303, 11.6159), (25.0, 1.40823, 12.8246), (30.0, 1.54663, 14.0592), (35.0, 1.68779, 15.3160)],
)  # fmt: skip
def test_potassium_chloride_at_other_temperatures(temperature_c: float, dilute: float, strong: float) -> None:
    """Wu, Koch & Pratt 1991: 0.01 and 0.1 mol/kg, within 0.5 % from 5 to 35 degC."""
    for molal, measured in ((10.0, dilute), (100.0, strong)):
        found = speciate(column({"K": molal, "Cl": molal}), temperature_c)
        assert conductivity_ms_per_cm(found, temperature_c)[0] == pytest.approx(measured, rel=5e-3)
