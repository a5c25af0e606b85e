"""Ions, pH and saturation against PHREEQC 3.7.3 (USGS, through phreeqpython) with our changed constants given to it.

One constant differs from phreeqc.dat, log K of MgSO4, and is written into a copy of the database; brushite and
struvite, which it lacks, are added. Sixteen totals, iron as iron(II), 25 degC, ionic strength up to 0.09.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import phreeqpython
import pytest

from core.chemistry import AIR_CO2_ATM, charge_of, saturation_indices, speciate
from tests.core.chemistry.feeds import MOST_MMOL_PER_KG, ROW, TOMATO, column, random_feeds

COUNT = 200
NAMES = {"NH4": "N(-3)", "NO3": "N(5)", "S": "S(6)", "C": "C(4)", "Fe": "Fe(2)", "Mn": "Mn(2)", "Cu": "Cu(2)"}
MOST = {name: amount for name, amount in MOST_MMOL_PER_KG.items() if name != "Mo"}
PHASES = {"gypsum": "Gypsum", "calcite": "Calcite", "brushite": "Brushite", "struvite": "Struvite"}
ADDED = """
PHASES
Brushite
    CaHPO4:2H2O = Ca+2 + H+ + PO4-3 + 2 H2O
    log_k -18.995
    delta_h 23 kJ
Struvite
    MgNH4PO4:6H2O = Mg+2 + NH4+ + PO4-3 + 6 H2O
    log_k -13.26
    delta_h 22.6 kJ
"""
THEIR_MGSO4 = "Mg+2 + SO4-2 = MgSO4\n\t-log_k\t2.37"

Engine = Callable[..., Any]


@pytest.fixture(scope="module")
def engine(tmp_path_factory: pytest.TempPathFactory) -> Engine:
    """Return a function from totals (components,), temperature, pH and "charge" or "" to PHREEQC's solution."""
    theirs = Path(phreeqpython.__file__).parent / "database" / "phreeqc.dat"
    text = theirs.read_text(encoding="latin-1").replace("\r", "")
    assert text.count(THEIR_MGSO4) == 1
    folder = tmp_path_factory.mktemp("phreeqc")
    ours = text.replace(THEIR_MGSO4, THEIR_MGSO4.replace("2.37", "2.20")).replace("\nPHASES\n", ADDED, 1)
    (folder / "ours.dat").write_text(ours, encoding="latin-1")
    running = phreeqpython.PhreeqPython(database="ours.dat", database_directory=folder)

    def solution(totals: np.ndarray, temperature_c: float, ph: float, fixed: str = "", **more: str) -> Any:
        named = {NAMES.get(name, name): totals[ROW[name]] for name in MOST if totals[ROW[name]] > 0.0}
        return running.add_solution({"pH": f"{ph} {fixed}", "units": "mol/kgw", "temp": temperature_c} | named | more)

    return solution


@pytest.fixture(scope="module")
def feeds() -> tuple[np.ndarray, np.ndarray]:
    """200 random feeds and the pH they are given."""
    return random_feeds(20, COUNT, MOST), np.random.default_rng(20).uniform(4.0, 8.0, COUNT)


def test_ions_of_two_hundred_feeds(engine: Engine, feeds: tuple[np.ndarray, np.ndarray]) -> None:
    """Every ion, pair and molecule above 1 nmol/kg within 1 %."""
    totals, ph = feeds
    found = speciate(totals, 25.0, ph=ph)
    worst: dict[str, float] = {}
    for place in range(COUNT):
        theirs = engine(totals[:, place], 25.0, ph[place])
        for name, amount in theirs.species_molalities.items():
            if name in found.names and amount > 1e-9:
                error = abs(found.of(name)[place] / amount - 1.0)
                worst[name] = max(worst.get(name, 0.0), error)
        theirs.forget()
    assert len(worst) > 60
    assert {name: error for name, error in worst.items() if error > 0.01} == {}


def test_saturation_of_two_hundred_feeds(engine: Engine, feeds: tuple[np.ndarray, np.ndarray]) -> None:
    """Gypsum, calcite, brushite and struvite within 0.05, in fact 0.005."""
    totals, ph = feeds
    ours = saturation_indices(speciate(totals, 25.0, ph=ph))
    for place in range(COUNT):
        theirs = engine(totals[:, place], 25.0, ph[place])
        for name, phase in PHASES.items():
            assert ours[name][place] == pytest.approx(theirs.si(phase), abs=0.005), (place, name)
        theirs.forget()


def test_ph_of_two_hundred_feeds(engine: Engine, feeds: tuple[np.ndarray, np.ndarray]) -> None:
    """pH computed from the balance of charges within 0.03, in fact 0.005."""
    totals, ph = feeds
    totals = totals.copy()
    short = speciate(totals, 25.0, ph=ph).alkalinity_eq_per_kg - charge_of(totals)
    totals[ROW["Na"]] += np.maximum(short, 0.0)
    totals[ROW["Cl"]] += np.maximum(-short, 0.0)
    found = speciate(totals, 25.0)
    for place in range(COUNT):
        theirs = engine(totals[:, place], 25.0, 7.0, "charge")
        assert found.ph[place] == pytest.approx(theirs.pH, abs=0.005), place
        theirs.forget()


@pytest.mark.parametrize("temperature_c", [5.0, 15.0, 35.0])
def test_other_temperatures(engine: Engine, temperature_c: float) -> None:
    totals = random_feeds(int(temperature_c), 20, MOST)
    ph = np.random.default_rng(1).uniform(4.5, 7.5, 20)
    found = speciate(totals, temperature_c, ph=ph)
    indices = saturation_indices(found)
    for place in range(20):
        theirs = engine(totals[:, place], temperature_c, ph[place])
        for name, amount in theirs.species_molalities.items():
            if name in found.names and amount > 1e-8:
                assert found.of(name)[place] == pytest.approx(amount, rel=0.01), (place, name)
        for name, phase in PHASES.items():
            assert indices[name][place] == pytest.approx(theirs.si(phase), abs=0.01), (place, name)
        theirs.forget()


def test_feed_at_rest_with_the_air(engine: Engine) -> None:
    """PHREEQC at log10 of the pressure of CO2 gives the same pH and carbon."""
    totals = column(TOMATO | {"Na": 2.0})
    found = speciate(totals, 25.0, co2_atm=AIR_CO2_ATM)
    pressure = f"1 CO2(g) {np.log10(AIR_CO2_ATM)}"
    theirs = engine(totals, 25.0, 7.0, "charge", **{"C(4)": pressure})
    assert found.ph[0] == pytest.approx(theirs.pH, abs=0.005)
    carbon = sum(amount for name, amount in theirs.species_molalities.items() if "CO3" in name or name == "CO2")
    assert found.totals_mol_per_kg[ROW["C"], 0] == pytest.approx(carbon, rel=0.01)
