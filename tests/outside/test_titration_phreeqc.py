"""pH after acid, closed and aired, against PHREEQC 3.7.3 titrating the same waters by reaction, with our constants.

The engine is given a water's analysis with its pH and alkalinity, then the acid in equal steps; ours gets the same
analysis. Ammonium is left out of the waters, as a full engine would burn it with the nitrate.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from core.chemistry import AIR_CO2_ATM, carbonate_from, titrate
from core.chemistry.species import all_species
from tests.core.chemistry.feeds import column
from tests.helpers.phreeqc import phreeqc

DOSES = 12
SOFT = {"Ca": 0.5, "Mg": 0.2, "Na": 0.6, "Cl": 0.6, "S": 0.3}
HARD = {"Ca": 2.94, "Mg": 0.66, "Na": 1.35, "K": 0.08, "Cl": 1.35, "S": 0.75, "NO3": 0.39}
FEED = {"Ca": 4.0, "Mg": 1.8, "K": 6.0, "Na": 1.35, "Cl": 1.35, "S": 3.0, "NO3": 9.0, "P": 1.3, "B": 0.03, "Mn": 0.01}
WATERS = {"soft": (SOFT, 0.9, 7.2, 15.0), "hard": (HARD, 5.39, 7.4, 20.0), "feed": (FEED, 4.0, 6.9, 25.0)}
"""Name -> totals [mmol/kg], alkalinity as laboratories give it [meq/kg], pH, temperature [degC]."""

FORMULA = {
    "nitric-acid": "HNO3",
    "hydrochloric-acid": "HCl",
    "sulfuric-acid": "H2SO4",
    "phosphoric-acid": "H3PO4",
    "citric-acid": "H3Citrate",
}
EQUIVALENTS = {"sulfuric-acid": 2.0, "citric-acid": 2.2}
NAMED = {"S": "S(6)", "NO3": "N(5)", "Mn": "Mn(2)"}


def citrate() -> str:
    """Our citrate and its pairs in the engine's language, log K at 25 degC."""
    lines = ["SOLUTION_MASTER_SPECIES", "Citrate Citrate-3 0.0 189.1 189.1", "SOLUTION_SPECIES"]
    lines += ["Citrate-3 = Citrate-3", "log_k 0"]
    for one in all_species():
        if "citrate" in one.contains and one.name != "Citrate-3" and not one.contains.keys() & {"Fe", "Fe3"}:
            metal = {"Ca": "Ca+2", "Mg": "Mg+2", "K": "K+", "Na": "Na+", "Mn": "Mn+2", "Zn": "Zn+2", "Cu": "Cu+2"}
            parts = [metal[total] for total in one.contains if total != "citrate"] + ["Citrate-3"]
            protons = [f"{one.protons} H+"] if one.protons else []
            kelvin = 298.15
            terms = one.log_k_terms
            log_k = terms[0] + terms[1] * kelvin + terms[2] / kelvin + terms[3] * np.log10(kelvin)
            lines += [f"{' + '.join(parts + protons)} = {one.name}", f"log_k {log_k}"]
    return "\n".join(lines)


@pytest.fixture(scope="module")
def engine(tmp_path_factory: pytest.TempPathFactory) -> Any:
    return phreeqc(tmp_path_factory.mktemp("phreeqc"), citrate())


def theirs(engine: Any, water: str, acid: str, step_mmol: float) -> tuple[list[float], list[float]]:
    """pH after each step, closed to air and brought to rest with it."""
    totals, alkalinity, ph, temperature_c = WATERS[water]
    named = {NAMED.get(name, name): amount for name, amount in totals.items()}
    given = {"units": "mmol/kgw", "temp": temperature_c, "pH": ph, "Alkalinity": alkalinity}
    solution = engine.add_solution(given | named)
    closed, aired = [], []
    for _ in range(DOSES):
        closed.append(solution.pH)
        open_to_air = solution.copy()
        open_to_air.equalize(["CO2(g)"], [float(np.log10(AIR_CO2_ATM))])
        aired.append(open_to_air.pH)
        solution.add(FORMULA[acid], step_mmol, "mmol")
    return closed, aired


CASES = [(w, acid) for w in WATERS for acid in FORMULA if acid != "citric-acid" or w == "feed"]
"""Citrate is given to the engine for 25 degC only."""


@pytest.mark.parametrize(("water", "acid"), CASES)
def test_ph_after_acid(engine: Any, water: str, acid: str) -> None:
    """Within 0.01, in fact 0.005, from no acid to beyond the last alkalinity, closed to air and at rest with it."""
    totals, alkalinity, ph, temperature_c = WATERS[water]
    step_mmol = 1.15 * alkalinity / EQUIVALENTS.get(acid, 1.0) / (DOSES - 1)
    closed, aired = theirs(engine, water, acid, step_mmol)
    start = column(totals)
    carbon = carbonate_from(alkalinity * 1e-3, ph, temperature_c, start[:, None])
    start = start + column({"C": 1e3 * float(carbon[0])})
    doses = np.arange(DOSES) * step_mmol * 1e-3
    ours = titrate(start, temperature_c, acid, doses, alkalinity * 1e-3)
    np.testing.assert_allclose(ours, closed, atol=0.01)
    at_rest = titrate(start, temperature_c, acid, doses, alkalinity * 1e-3, AIR_CO2_ATM)
    np.testing.assert_allclose(at_rest, aired, atol=0.01)
