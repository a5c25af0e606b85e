"""Whole recipes with an acid, weighed out again in PHREEQC 3.7.3 with our constants: the pH that was aimed for.

The engine is given the water's analysis with its pH and alkalinity, then the plan's salts and acid by reaction. Salts
with ammonium are left out, as a full engine would burn it with the nitrate.
"""

from __future__ import annotations

from typing import Any

import pytest

from core.blend.solve import Blend, solve
from core.catalog import ATOMIC_WEIGHTS, salt
from core.chemistry import kg_water_per_l
from core.plan import derive
from tests.helpers.phreeqc import phreeqc
from tests.helpers.recipes import PLAIN, recipe
from tests.outside.test_titration_phreeqc import citrate

FORMULA = {
    "calcium-nitrate-tetrahydrate": "Ca(NO3)2",
    "potassium-nitrate": "KNO3",
    "potassium-sulfate": "K2SO4",
    "monopotassium-phosphate": "KH2PO4",
    "dipotassium-phosphate": "K2HPO4",
    "magnesium-sulfate-heptahydrate": "MgSO4",
    "nitric-acid": "HNO3",
    "phosphoric-acid": "H3PO4",
    "sulfuric-acid": "H2SO4",
    "citric-acid": "H3Citrate",
    "hydrochloric-acid": "HCl",
}
AIM = {"N": 120.0, "P": 40.0, "K": 200.0, "Ca": 150.0, "Mg": 35.0, "S": 55.0}
CHLORIDE_FREE = {"limits": [{"nutrient": "Cl", "at_most_mg_per_l": 400.0}]}
"""Room for hydrochloric acid, which the usual limit of added chloride does not leave."""

NAMED = {"S": "S(6)", "P": "P", "Ca": "Ca", "Mg": "Mg", "Na": "Na", "Cl": "Cl"}
NO_PHOSPHATE = [name for name in PLAIN if name != "monopotassium-phosphate"]
START_PH, TEMPERATURE_C = 7.5, 25.0


@pytest.fixture(scope="module")
def engine(tmp_path_factory: pytest.TempPathFactory) -> Any:
    return phreeqc(tmp_path_factory.mktemp("phreeqc"), citrate())


def contents(meq_per_l: float) -> dict[str, float]:
    return {"Ca": 14.0 * meq_per_l, "Mg": 2.5 * meq_per_l, "Na": 10.0, "Cl": 15.4, "HCO3": 61.016 * meq_per_l}


def blend_of(acid: str, strength: float, meq_per_l: float, ph: float) -> Blend:
    salts = [*NO_PHOSPHATE, "dipotassium-phosphate"] if acid == "citric-acid" else PLAIN
    salts = NO_PHOSPHATE if acid == "phosphoric-acid" else salts
    water = {"mg_per_l": contents(meq_per_l), "ph": START_PH, "temperature_c": TEMPERATURE_C}
    return solve(
        recipe(AIM, [*salts, {"salt": acid, "strength_percent": strength}], water=water, aim=CHLORIDE_FREE | {"ph": ph})
    )


def their_ph(engine: Any, blend: Blend, meq_per_l: float) -> float:
    """PH of the same weights in the same water, by reaction."""
    per_l = float(kg_water_per_l(blend.totals[:, None] * 1e-3, TEMPERATURE_C)[0])
    mmol = {NAMED[name]: mg / ATOMIC_WEIGHTS[name] / per_l for name, mg in contents(meq_per_l).items() if name in NAMED}
    given = {"units": "mmol/kgw", "temp": TEMPERATURE_C, "pH": START_PH, "Alkalinity": meq_per_l / per_l}
    solution = engine.add_solution(given | mmol)
    for source, mg_per_l in zip(blend.shelf.sources, blend.amounts_mg_per_l.tolist(), strict=True):
        product, share = salt(source.entry.salt), (source.strength_percent or 100.0) / 100.0
        if mg_per_l > 0.0:
            solution.add(FORMULA[product.id], mg_per_l * share / product.molar_mass_g_per_mol / per_l, "mmol")
    return float(solution.pH)


@pytest.mark.parametrize("meq_per_l", [1.0, 3.0, 6.0])
@pytest.mark.parametrize(
    ("acid", "strength"),
    [("nitric-acid", 38.0), ("phosphoric-acid", 85.0), ("sulfuric-acid", 93.0), ("citric-acid", 100.0),
     ("hydrochloric-acid", 31.45)],
)  # fmt: skip
def test_the_ph_aimed_for_is_reached(engine: Any, acid: str, strength: float, meq_per_l: float) -> None:
    """Within 0.05 of 5.8 by the full engine, and within 0.01 of it by our own forecast."""
    blend = blend_of(acid, strength, meq_per_l, 5.8)
    assert derive(blend.recipe, blend).feed.ph == pytest.approx(5.8, abs=0.01)
    assert their_ph(engine, blend, meq_per_l) == pytest.approx(5.8, abs=0.05)
