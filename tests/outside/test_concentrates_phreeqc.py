"""Concentrates against PHREEQC with its Pitzer database and our further parameters added to it.

Sources: PHREEQC through phreeqpython with its pitzer.dat (USGS, public domain); nitrate, ammonium and phosphate
parameters of May et al. 2011, J. Chem. Eng. Data 56, 5066. Only neutral ion products are compared: single-ion values
differ by convention.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import phreeqpython
import pytest
from phreeqpython import PhreeqPython

from core.chemistry.components import COMPONENTS
from core.chemistry.concentrates import ABSENT, assess_molal, fill
from core.chemistry.concentrates.gypsum import gypsum_dropped
from core.chemistry.concentrates.parameters import parameters
from core.chemistry.concentrates.pitzer import activities
from core.chemistry.concentrates.resource import pitzer_table
from core.chemistry.concentrates.species import CHARGE, INDEX, IONS

WITHIN = 5e-4
LN10 = float(np.log(10.0))
OTHERS = {"NO3-": "[N]O3-", "NH4+": "[A]H4+", "H2PO4-": "H2[P]O4-", "HPO4-2": "H[P]O4-2"}
"""Our ions that pitzer.dat lacks, under names that take part in no redox or acid reaction there."""
ELEMENTS = {
    "K": "K", "Na": "Na", "Mg": "Mg", "Ca": "Ca", "Cl": "Cl", "S": "S(6)", "NO3": "[N]", "NH4": "[A]", "P": "[P]",
}  # fmt: skip
MASTER = """
SOLUTION_MASTER_SPECIES
[N] [N]O3- 0 [N]O3 62.0
[A] [A]H4+ 0 [A]H4 18.0
[P] H2[P]O4- 0 H2[P]O4 97.0
SOLUTION_SPECIES
[N]O3- = [N]O3-
[A]H4+ = [A]H4+
H2[P]O4- = H2[P]O4-
"""
HAS_OWN = ("H+", "Na+", "K+", "Mg+2", "Ca+2", "NH4+", "NO3-", "Cl-", "SO4-2", "HSO4-", "H2PO4-")


def added_parameters() -> str:
    """The PITZER block of all we have and pitzer.dat has not."""
    table = pitzer_table()
    published = {row.ions: row for row in table.binary}
    pairs = [(row.ions, row) for row in table.binary if row.source != "usgs-pitzer"]
    pairs += [(alike.ions, published[alike.like]) for alike in table.alike]
    lines = ["PITZER"]
    for block, field in (("-B0", "beta0"), ("-B1", "beta1"), ("-B2", "beta2"), ("-C0", "cphi")):
        lines.append(block)
        lines += [row_of(ions, getattr(row, field)) for ions, row in pairs if set(ions) <= set(HAS_OWN)]
    for block, rows in (("-THETA", table.theta), ("-PSI", table.psi)):
        lines.append(block)
        lines += [row_of(row.ions, row.value) for row in rows if row.source != "usgs-pitzer"]
    return "\n".join(lines) + "\n"


def row_of(ions: tuple[str, ...], values: tuple[float, ...]) -> str:
    return " ".join([*(OTHERS.get(ion, ion) for ion in ions), *map(str, values)])


@pytest.fixture(scope="module")
def phreeqc(tmp_path_factory: pytest.TempPathFactory) -> PhreeqPython:
    shipped = Path(phreeqpython.__file__).parent / "database" / "pitzer.dat"
    text = shipped.read_text(encoding="latin-1")
    before, after = text.split("EXCHANGE_MASTER_SPECIES", 1)
    folder = tmp_path_factory.mktemp("phreeqc")
    whole = before + MASTER + added_parameters() + "EXCHANGE_MASTER_SPECIES" + after
    (folder / "with_nutrients.dat").write_text(whole, encoding="latin-1")
    return PhreeqPython(database="with_nutrients.dat", database_directory=folder)


def made(phreeqc: PhreeqPython, contents: dict[str, float], temperature_c: float, ph: str = "7"):  # type: ignore[no-untyped-def]
    elements = {ELEMENTS[name]: amount for name, amount in contents.items()}
    return phreeqc.add_solution({"units": "mol/kgw", "temp": temperature_c, "pH": ph, **elements})


def log_activities(phreeqc: PhreeqPython, solution) -> tuple[np.ndarray, np.ndarray]:  # type: ignore[no-untyped-def]
    """PHREEQC's own molalities (1, n_ions, 1), and its log10 activities (n_ions,) of the ions that are there."""
    molality, activity = np.zeros((1, len(IONS), 1)), np.full(len(IONS), np.nan)
    for ion in HAS_OWN:
        amount = phreeqc.ip.get_molality(solution.number, OTHERS.get(ion, ion))
        if amount > 1e-9:
            molality[0, INDEX[ion], 0] = amount
            activity[INDEX[ion]] = np.log10(phreeqc.ip.get_activity(solution.number, OTHERS.get(ion, ion)))
    return molality, activity


def ionised(phreeqc: PhreeqPython, solution) -> float:  # type: ignore[no-untyped-def]
    """log10 of the ion product of water, which goes with the activity of water."""
    return float(sum(np.log10(phreeqc.ip.get_activity(solution.number, ion)) for ion in ("H+", "OH-")))


TANKS: dict[str, dict[str, float]] = {
    "potassium nitrate": {"K": 3.0, "NO3": 3.0},
    "ammonium dihydrogen phosphate": {"NH4": 2.5, "P": 2.5},
    "magnesium sulfate": {"Mg": 2.5, "S": 2.5},
    "calcium nitrate": {"Ca": 3.0, "NO3": 6.0},
    "calcium side 100": {"Ca": 0.5625, "NH4": 0.125, "NO3": 1.458, "K": 0.208},
    "calcium side 200": {"Ca": 1.1765, "NH4": 0.2614, "NO3": 3.050, "K": 0.4356},
    "phosphate side 100": {"K": 0.770, "NO3": 0.2053, "P": 0.154, "Mg": 0.2464, "S": 0.4517},
    "phosphate side 200": {"K": 1.587, "NO3": 0.4232, "P": 0.3174, "Mg": 0.5078, "S": 0.9310},
    "everything 100": {"Ca": 0.58, "NH4": 0.13, "NO3": 1.72, "K": 1.02, "P": 0.16, "Mg": 0.26, "S": 0.47},
    "chlorides": {"K": 1.0, "Na": 0.5, "Ca": 0.8, "Mg": 0.4, "Cl": 3.9},
    "ammonium": {"NH4": 3.0, "S": 0.8, "NO3": 0.9, "Cl": 0.5},
    "all but calcium": {"K": 0.9, "NH4": 0.4, "Na": 0.2, "Mg": 0.5, "NO3": 0.8, "P": 0.3, "S": 0.5, "Cl": 0.4},
}


@pytest.mark.parametrize("temperature_c", [5.0, 10.0, 25.0, 38.0])
@pytest.mark.parametrize("name", TANKS)
def test_neutral_ion_products_agree(phreeqc: PhreeqPython, name: str, temperature_c: float) -> None:
    solution = made(phreeqc, TANKS[name], temperature_c)
    molality, theirs = log_activities(phreeqc, solution)
    ln_gamma, ln_water = activities(molality, np.zeros((1, 1)), parameters((temperature_c,)))
    ours = ln_gamma[0, :, 0] / LN10 + np.log10(np.where(molality[0, :, 0] > 0.0, molality[0, :, 0], np.nan))
    away = ours - theirs
    cations, anions = (np.flatnonzero((sign * CHARGE > 0) & np.isfinite(away)) for sign in (1.0, -1.0))
    products = [away[c] / CHARGE[c] - away[a] / CHARGE[a] for c in cations for a in anions]
    assert len(products) > 0
    assert np.abs(products).max() <= WITHIN
    water = ionised(phreeqc, solution) - ionised(phreeqc, phreeqc.add_solution({"temp": temperature_c}))
    assert ln_water[0, 0] / LN10 == pytest.approx(water, abs=5e-4)


@pytest.mark.parametrize("temperature_c", [10.0, 25.0])
@pytest.mark.parametrize("name", ["everything 100", "phosphate side 100", "phosphate side 200"])
def test_minerals_agree(phreeqc: PhreeqPython, name: str, temperature_c: float) -> None:
    """Gypsum, syngenite and schoenite with pitzer.dat's own solubility products.

    The index that phreeqpython gives leaves the water of a hydrate out, so it is added; ours shares a little acid out.
    """
    solution = made(phreeqc, TANKS[name], temperature_c)
    log_water = ionised(phreeqc, solution) - ionised(phreeqc, phreeqc.add_solution({"temp": temperature_c}))
    state = assess_molal(column(TANKS[name]), (temperature_c,))
    compared = 0
    for ours, theirs, hydrate in (
        ("gypsum", "Gypsum", 2),
        ("syngenite", "Syngenite", 1),
        ("picromerite", "Schoenite", 6),
    ):
        index = state.saturation_index[0, state.solids.index(ours), 0]
        if index > ABSENT:
            assert index == pytest.approx(solution.si(theirs) + hydrate * log_water, abs=0.005)
            compared += 1
    assert compared > 0


ACID: dict[str, dict[str, float]] = {
    "sulfate with nitric acid": {"K": 1.0, "S": 0.6, "NO3": 0.3},
    "published acid stock": {"K": 1.02, "S": 1.53, "NH4": 1.35},
    "magnesium and acid": {"Mg": 0.5, "K": 0.4, "S": 0.8, "NO3": 0.3},
}


@pytest.mark.parametrize("name", ACID)
def test_acid_is_shared_out_alike(phreeqc: PhreeqPython, name: str) -> None:
    """PHREEQC finds the pH by charge; arcanite's ion product against ours at 20 degC."""
    solution = made(phreeqc, ACID[name], 20.0, "1 charge")
    molality, activity = log_activities(phreeqc, solution)
    product = 2.0 * activity[INDEX["K+"]] + activity[INDEX["SO4-2"]]
    tanks = column(ACID[name]), column({"K": 1.0, "S": 0.5})
    other = made(phreeqc, {"K": 1.0, "S": 0.5}, 20.0)
    _, plain = log_activities(phreeqc, other)
    state = assess_molal(np.concatenate(tanks, axis=1), (20.0,))
    place = state.solids.index("potassium-sulfate")
    ours = state.saturation_index[0, place, 0] - state.saturation_index[0, place, 1]
    assert ours == pytest.approx(product - 2.0 * plain[INDEX["K+"]] - plain[INDEX["SO4-2"]], abs=0.005)
    assert state.ph[0, 0] == pytest.approx(-activity[INDEX["H+"]], abs=0.3)


def column(contents: dict[str, float]) -> np.ndarray:
    totals = np.zeros((len(COMPONENTS), 1))
    for name, amount in contents.items():
        totals[COMPONENTS.index(name)] = amount
    return totals


FEED_MMOL_PER_L = {"Ca": 5.4, "NH4": 1.2, "NO3": 16.0, "K": 9.5, "P": 1.5, "Mg": 2.4, "S": 4.4}
"""A rockwool tomato feed as an example of a full recipe."""


@pytest.mark.parametrize("strength", [10, 20, 50, 100])
def test_gypsum_that_drops_from_one_tank_for_all(phreeqc: PhreeqPython, strength: int) -> None:
    contents = np.zeros((len(COMPONENTS), 1))
    for name, amount in FEED_MMOL_PER_L.items():
        contents[COMPONENTS.index(name), 0] = amount * strength / 1000.0
    water = float(fill(contents).water_kg_per_l[0])
    per_kg = {name: amount * strength / 1000.0 / water for name, amount in FEED_MMOL_PER_L.items()}
    solution = phreeqc.add_solution(
        {"units": "mol/kgw", "temp": 20.0, "pH": "7", **{ELEMENTS[name]: amount for name, amount in per_kg.items()}}
    )
    before = solution.total("Ca", "mol")
    dropped = before - solution.desaturate("Gypsum").total("Ca", "mol")
    ours = float(gypsum_dropped(contents, 20.0)[0]) / water
    assert ours == pytest.approx(dropped, rel=0.005)
