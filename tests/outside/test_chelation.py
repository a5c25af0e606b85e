"""How much iron its chelate keeps, against PHREEQC with two sets of constants and against what the trade says."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from core.chemistry import Speciation, speciate
from core.chemistry.chelation import HYDROXIDES, Hydroxide, iron_chelation
from tests.core.chemistry.feeds import TOMATO, column
from tests.helpers.phreeqc import phreeqc

PH = np.array([5.0, 5.5, 6.0, 6.5, 7.0, 7.5, 8.0])
TRACES = {"Zn": 0.005, "Cu": 0.00075, "Mn": 0.01, "S": TOMATO["S"] + 0.01575, "Fe3": 0.025}


def feed(ligand: str, temperature_c: float = 20.0) -> Speciation:
    """The tomato feed with 25 umol/kg of iron and as much ligand at every pH."""
    totals = column(TOMATO | TRACES | {ligand: 0.025})
    return speciate(np.repeat(totals[:, None], len(PH), axis=1), temperature_c, ph=PH)


MINTEQ: dict[Hydroxide, list[float]] = {
    "fresh": [98.2, 97.1, 95.2, 87.7, 74.4, 44.6, 8.4],
    "ferrihydrite": [98.2, 96.2, 85.2, 71.3, 31.1, 2.9, 0.2],
}


@pytest.mark.parametrize("hydroxide", HYDROXIDES)
def test_iron_edta_with_other_constants(hydroxide: Hydroxide) -> None:
    """PHREEQC 3.8.6 with minteq.v4.dat, iron held by EDTA at 20 degC [%], worked out apart: within 2 points.

    That table pairs zinc, copper and iron otherwise with phosphate and hydroxide than the one our feed rests on.
    """
    np.testing.assert_allclose(100.0 * iron_chelation(feed("EDTA"), hydroxide).iron_chelated, MINTEQ[hydroxide], atol=2)


DISSOLVED: dict[Hydroxide, list[float]] = {
    "fresh": [100, 100, 100, 93, 76, 45, 10],
    "ferrihydrite": [100, 97, 86, 71, 31, 3, 0],
}


@pytest.mark.parametrize("hydroxide", HYDROXIDES)
def test_iron_left_in_solution(hydroxide: Hydroxide) -> None:
    """The same engine and table, all iron left in solution [%]: within 2 points, 5 beside fresh hydroxide.

    Its first hydroxide of iron(III) in solution, log K of Fe(OH)2+ -4.59, is ten times stronger than the -5.67 of
    phreeqc.dat that we use, which keeps 1 umol/L more iron dissolved without any chelate.
    """
    left = 100.0 * (1.0 - iron_chelation(feed("EDTA"), hydroxide).iron_settled)
    np.testing.assert_allclose(left, DISSOLVED[hydroxide], atol=5 if hydroxide == "fresh" else 2)


EDTA_IN_PHREEQC = """
SOLUTION_MASTER_SPECIES
Edta Edta-4 0.0 288.2 288.2
SOLUTION_SPECIES
Edta-4 = Edta-4
log_k 0
H+ + Edta-4 = HEdta-3
log_k 10.948
2 H+ + Edta-4 = H2Edta-2
log_k 17.221
3 H+ + Edta-4 = H3Edta-
log_k 20.34
4 H+ + Edta-4 = H4Edta
log_k 22.5
Fe+3 + Edta-4 = FeEdta-
log_k 27.7
Fe+3 + Edta-4 + H+ = FeHEdta
log_k 29.2
Fe+3 + Edta-4 + H2O = FeOHEdta-2 + H+
log_k 19.9
Fe+3 + Edta-4 + 2H2O = Fe(OH)2Edta-3 + 2H+
log_k 9.85
Cu+2 + Edta-4 = CuEdta-2
log_k 20.5
Cu+2 + Edta-4 + H+ = CuHEdta-
log_k 24
Cu+2 + Edta-4 + H2O = CuOHEdta-3 + H+
log_k 8.5
Zn+2 + Edta-4 = ZnEdta-2
log_k 18
Zn+2 + Edta-4 + H+ = ZnHEdta-
log_k 21.4
Zn+2 + Edta-4 + H2O = ZnOHEdta-3 + H+
log_k 5.8
Mn+2 + Edta-4 = MnEdta-2
log_k 15.6
Mn+2 + Edta-4 + H+ = MnHEdta-
log_k 19.1
Ca+2 + Edta-4 = CaEdta-2
log_k 12.42
Ca+2 + Edta-4 + H+ = CaHEdta-
log_k 15.9
Mg+2 + Edta-4 = MgEdta-2
log_k 10.57
Mg+2 + Edta-4 + H+ = MgHEdta-
log_k 14.97
PHASES
OurHydroxide
Fe(OH)3 + 3H+ = Fe+3 + 3H2O
log_k 4.891
"""
NAMES = {"NO3": "N(5)", "S": "S(6)", "Fe3": "Fe(3)", "Mn": "Mn(2)", "Cu": "Cu(2)"}


@pytest.fixture(scope="module")
def engine(tmp_path_factory: pytest.TempPathFactory) -> Any:
    return phreeqc(tmp_path_factory.mktemp("phreeqc"), EDTA_IN_PHREEQC)


@pytest.mark.parametrize("row", range(len(PH)))
def test_iron_edta_against_phreeqc(engine: Any, row: int) -> None:
    """PHREEQC 3.7.3 with our constants at 25 degC, pH held by base, fresh hydroxide settling: within 1 point."""
    totals = {NAMES.get(name, name): amount for name, amount in (TOMATO | TRACES).items() if name != "NH4"}
    given = {"units": "mmol/kgw", "temp": 25, "pH": PH[row], "pe": 12, "Edta": 0.025}
    solution = engine.add_solution(given | totals)
    engine.ip.run_string(
        f"PHASES\nHeld\nH+ = H+\nlog_k 0\nUSE SOLUTION {solution.number}\nEQUILIBRIUM_PHASES\nOurHydroxide 0 0\n"
        f"Held {-PH[row]} NaOH 10\nSAVE SOLUTION {solution.number}\nEND"
    )
    held = sum(m for name, m in solution.species_molalities.items() if name.startswith("Fe") and "Edta" in name)
    ours = iron_chelation(speciate(column(TOMATO | TRACES | {"EDTA": 0.025, "NH4": 0.0}), 25.0, ph=PH[row]))
    assert 100.0 * float(ours.iron_chelated[0]) == pytest.approx(100.0 * held / 25e-6, abs=1.0)


@pytest.mark.parametrize(
    ("ligand", "holds_to", "lost_at"), [("EDTA", 6.25, 7.5), ("DTPA", 6.75, None), ("EDDHA", 8.0, None)]
)
def test_order_of_the_trade(ligand: str, holds_to: float, lost_at: float | None) -> None:
    """Trade pages (2020s): EDTA to pH 6 or 6.5, DTPA to 6.5 or 7, EDDHA to 9; over 80 % held there by fresh hydroxide.

    The middle of each range is asked; at pH 7.5 less than half is left with EDTA.
    """
    held = iron_chelation(feed(ligand)).iron_chelated
    assert float(np.interp(holds_to, PH, held)) > 0.8
    if lost_at is not None:
        assert float(np.interp(lost_at, PH, held)) < 0.5
