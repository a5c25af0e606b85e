"""Conductivity of whole feeds and of a gram of each salt, against other ionic models.

No measured conductivity of a complete dilute feed of exactly known composition has been found. What can be
checked is that four published models of quite different make agree with ours: McCleskey et al. 2012 (Geochim.
Cosmochim. Acta 77, 369), PHREEQC 3.7.3 and 3.8.6 (USGS) and the Debye-Hueckel-Onsager equation with the pair
constants of phreeqc.dat, all evaluated for the same compositions at 25 degC. Recipes: Hoagland & Arnon 1950
(number 1 and 2); the others are named after their crop and remembered.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from core.chemistry import COMPONENTS, conductivity_ms_per_cm, kg_water_per_l, speciate
from tests.core.chemistry.feeds import ROW, column

FEEDS: dict[str, tuple[dict[str, float], float, tuple[float, float]]] = {
    "Hoagland 1": ({"K": 6, "Ca": 5, "Mg": 2, "NO3": 15, "P": 1, "S": 2}, 2.178, (2.157, 2.183)),
    "Hoagland 2": ({"NH4": 1, "K": 6, "Ca": 4, "Mg": 2, "NO3": 14, "P": 1, "S": 2}, 2.106, (2.077, 2.111)),
    "Hoagland 2, half": ({"NH4": 0.5, "K": 3, "Ca": 2, "Mg": 1, "NO3": 7, "P": 0.5, "S": 1}, 1.107, (1.092, 1.108)),
    "Steiner": ({"K": 7, "Ca": 4.5, "Mg": 2, "NO3": 12, "P": 1, "S": 3.5}, 2.134, (2.109, 2.127)),
    "tomato": ({"NH4": 1.2, "K": 9.5, "Ca": 5.4, "Mg": 2.4, "NO3": 16, "P": 1.5, "S": 4.4}, 2.785, (2.747, 2.774)),
    "cucumber": (
        {"NH4": 1.25, "K": 8, "Ca": 4, "Mg": 1.375, "NO3": 16, "P": 1.25, "S": 1.375}, 2.295, (2.248, 2.308),
    ),
    "lettuce": ({"NH4": 1.25, "K": 11, "Ca": 4.5, "Mg": 1, "NO3": 19, "P": 2, "S": 1.125}, 2.687, (2.621, 2.706)),
}  # fmt: skip
"""Name -> totals [mmol/kg], an independent evaluation of our own equation, lowest and highest of the others [mS/cm]."""


def at_ph_5_8(mmol_per_kg: dict[str, float]) -> float:
    return float(conductivity_ms_per_cm(speciate(column(mmol_per_kg), 25.0, ph=5.8))[0])


@pytest.mark.parametrize("name", FEEDS)
def test_feeds_as_independently_evaluated(name: str) -> None:
    totals, wanted, _ = FEEDS[name]
    assert at_ph_5_8(totals) == pytest.approx(wanted, rel=3e-3)


@pytest.mark.parametrize("name", FEEDS)
def test_feeds_lie_among_the_other_models(name: str) -> None:
    """Within 1 % of the range the four others span."""
    totals, _, (lowest, highest) = FEEDS[name]
    assert 0.99 * lowest <= at_ph_5_8(totals) <= 1.01 * highest


GRAM: dict[str, tuple[float, dict[str, float], tuple[float, float]]] = {
    "KNO3": (101.10, {"K": 1, "NO3": 1}, (1.336, 1.362)),
    "Ca(NO3)2.4H2O": (236.15, {"Ca": 1, "NO3": 2}, (0.986, 0.994)),
    "5Ca(NO3)2.NH4NO3.10H2O": (1080.71, {"Ca": 5, "NH4": 1, "NO3": 11}, (1.186, 1.204)),
    "Mg(NO3)2.6H2O": (256.41, {"Mg": 1, "NO3": 2}, (0.863, 0.892)),
    "MgSO4.7H2O": (246.47, {"Mg": 1, "S": 1}, (0.690, 0.731)),
    "K2SO4": (174.26, {"K": 2, "S": 1}, (1.500, 1.537)),
    "KH2PO4": (136.09, {"K": 1, "P": 1}, (0.732, 0.768)),
    "NH4H2PO4": (115.03, {"NH4": 1, "P": 1}, (0.865, 0.909)),
    "(NH4)2SO4": (132.14, {"NH4": 2, "S": 1}, (1.847, 1.980)),
    "NH4NO3": (80.04, {"NH4": 1, "NO3": 1}, (1.679, 1.716)),
    "KCl": (74.55, {"K": 1, "Cl": 1}, (1.854, 1.894)),
    "CaCl2.2H2O": (147.01, {"Ca": 1, "Cl": 2}, (1.610, 1.622)),
    "NaCl": (58.44, {"Na": 1, "Cl": 1}, (1.974, 1.989)),
    "K2HPO4": (174.18, {"K": 2, "P": 1}, (1.244, 1.326)),
    "HNO3": (63.01, {"NO3": 1}, (6.126, 6.451)),
    "H3PO4": (97.99, {"P": 1}, (2.115, 2.209)),
    "H2SO4": (98.08, {"S": 1}, (5.873, 6.291)),
}
"""Salt -> g/mol, totals, lowest and highest of four models at 1 g/L [mS/cm]."""


@pytest.mark.parametrize("formula", GRAM)
def test_a_gram_per_litre_lies_among_the_models(formula: str) -> None:
    """Within 0.3 % of the span, half of what taking 1 g/L for 1 g/kg of water would cost."""
    molar_mass, parts, (lowest, highest) = GRAM[formula]
    per_l = column({name: 1000.0 * count / molar_mass for name, count in parts.items()})
    told = conductivity_ms_per_cm(speciate(per_l / kg_water_per_l(per_l), 25.0))[0]
    assert lowest * 0.997 <= told <= highest * 1.003


def test_one_hundredth_molar_potassium_chloride_by_weight_and_by_volume() -> None:
    """Standard Methods 2510: 1.412 mS/cm for 0.010 mol/L; NIST: 1.408 for 0.010 mol/kg: two solutions, one truth."""
    per_l = column({"K": 10.0, "Cl": 10.0})
    assert 1.412 <= conductivity_ms_per_cm(speciate(per_l / kg_water_per_l(per_l), 25.0))[0] <= 1.416
    assert 1.407 <= conductivity_ms_per_cm(speciate(per_l, 25.0))[0] <= 1.412


ANALYSES = os.environ.get("SALTWRIGHT_ANALYSES", "")
LABORATORY_IONS = {
    "NH4": "NH4",
    "K": "K",
    "Na": "Na",
    "Ca": "Ca",
    "Mg": "Mg",
    "NO3": "NO3",
    "Cl": "Cl",
    "SO4": "S",
    "PO4": "P",
}


@pytest.mark.skipif(not ANALYSES, reason="SALTWRIGHT_ANALYSES names no file with the 100 greenhouse analyses")
def test_one_hundred_greenhouse_analyses(record_property: Callable[[str, object], None]) -> None:
    """Hemming, de Zwart, Elings, Petropoulou & Righini 2020, Autonomous Greenhouse Challenge, Second Edition (2019).

    4TU.ResearchData, doi 10.4121/uuid:88d22c60-21b3-4ea8-90db-20249a5be2a7: a commercial laboratory's analyses of
    tomato feed and drain, to be used for checking, not to be shipped. Errors belong to the laboratory's day, so the
    mean of the ten day means counts; its 95 % interval is +-2.3 %.
    """
    rows = _rows(json.loads(Path(ANALYSES).read_text(encoding="utf-8")))
    assert len(rows) == 100
    totals = np.zeros((len(COMPONENTS), len(rows)))
    for place, row in enumerate(rows):
        for ion, name in LABORATORY_IONS.items():
            totals[ROW[name], place] = row[ion] / 1000.0
        totals[ROW["C"], place] = row["HCO3"] / 1000.0
    water = kg_water_per_l(totals)
    told = conductivity_ms_per_cm(speciate(totals / water, 25.0, ph=np.array([row["pH"] for row in rows])))
    errors = 100.0 * (told / np.array([row["EC"] for row in rows]) - 1.0)
    days = np.array([row["excel_day"] for row in rows])
    day_means = [errors[days == day].mean() for day in np.unique(days)]
    record_property("mean_of_day_means_percent", round(float(np.mean(day_means)), 2))
    assert abs(np.mean(day_means)) < 2.0


def _rows(held: object) -> list[dict[str, float]]:
    """The list of analyses, wherever it stands in the file."""
    if isinstance(held, list) and held and isinstance(held[0], dict) and "excel_day" in held[0]:
        return held
    inner = held.values() if isinstance(held, dict) else []
    return next((rows for part in inner if (rows := _rows(part))), [])
