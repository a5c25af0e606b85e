"""How long the ions and the EC of a feed take, one alone and a thousand at once, beside PHREEQC on the same feeds."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from core.catalog import salts
from core.chemistry import COMPONENTS, conductivity_by_ion, conductivity_ms_per_cm, speciate
from tests.core.chemistry.feeds import ROW
from tests.speed.timing import medians_ms, report

phreeqpython = pytest.importorskip("phreeqpython", reason="phreeqpython, which ours is timed beside, is not installed")

pytestmark = pytest.mark.speed

COUNT, THEIRS = 1000, 50
TRACES = frozenset({"Fe", "Fe3", "Mn", "Zn", "Cu", "B", "Mo"})
NAMES = {"NH4": "N(-3)", "NO3": "N(5)", "S": "S(6)", "C": "C(4)", "Fe": "Fe(2)", "Mn": "Mn(2)", "Cu": "Cu(2)"}
KNOWN = ("Ca", "Mg", "K", "Na", "NH4", "NO3", "P", "S", "Cl", "C", "B", "Si", "Fe", "Mn", "Zn", "Cu")
"""What phreeqc.dat has; molybdate, urea, citrate and chelates are left out for it, which can only make it quicker."""


def mixed_feeds() -> np.ndarray:
    """Four to eight salts of the catalog at 0.2 to 4 mmol/kg of an ion, two to six that bring traces, 1 to 40 umol."""
    rng = np.random.default_rng(1)
    is_trace = {item.id: item.kind == "chelate" or not TRACES.isdisjoint(item.ions) for item in salts().values()}
    plain = [item for item in salts().values() if not is_trace[item.id]]
    traces = [item for item in salts().values() if is_trace[item.id]]
    totals = np.zeros((len(COMPONENTS), COUNT))
    for feed in range(COUNT):
        for shelf, few, many, least, most in ((plain, 4, 9, 2e-4, 4e-3), (traces, 2, 7, 1e-6, 4e-5)):
            for place in rng.choice(len(shelf), rng.integers(few, many), replace=False):
                ions = {name: count for name, count in shelf[place].ions.items() if name in ROW}
                amount = rng.uniform(least, most) / max(ions.values(), default=1.0)
                for name, count in ions.items():
                    totals[ROW[name], feed] += amount * count
    return totals


FEEDS = mixed_feeds()
PH = np.random.default_rng(2).uniform(4.0, 8.0, COUNT)
TEMPERATURE_C = np.random.default_rng(3).uniform(15.0, 30.0, COUNT)


def theirs() -> Callable[[], None]:
    """PHREEQC's ions and conductivity of `THEIRS` of the feeds, pH given, which is the quicker question."""
    engine: Any = phreeqpython.PhreeqPython()
    asked = []
    for feed in range(0, COUNT, COUNT // THEIRS):
        totals = {NAMES.get(name, name): 1e3 * FEEDS[ROW[name], feed] for name in KNOWN if FEEDS[ROW[name], feed]}
        asked.append({"pH": float(PH[feed]), "temp": float(TEMPERATURE_C[feed]), "units": "mmol/kgw"} | totals)

    def run() -> None:
        for question in asked:
            solution = engine.add_solution(question)
            assert solution.sc > 0.0
            solution.forget()

    return run


def ours(columns: Any, temperature_c: Any, *, ph_given: bool) -> Callable[[], object]:
    """Our ions and conductivity of some of the feeds."""
    totals = FEEDS[:, columns]
    given: dict[str, Any] = {"ph": PH[columns]}
    if not ph_given:
        alkalinity = speciate(totals, temperature_c, ph=PH[columns]).alkalinity_eq_per_kg
        given = {"alkalinity_eq_per_kg": alkalinity if alkalinity.size > 1 else alkalinity.item()}
    return lambda: conductivity_ms_per_cm(speciate(totals, temperature_c, **given), temperature_c)


def test_a_thousand_feeds() -> None:
    every = slice(None)
    shared = speciate(FEEDS, 22.0, ph=PH)
    jobs = {
        "pH given, all at 22 degC": ours(every, 22.0, ph_given=True),
        "pH computed, all at 22 degC": ours(every, 22.0, ph_given=False),
        "pH given, each at its own 15 to 30 degC": ours(every, TEMPERATURE_C, ph_given=True),
        "pH computed, each at its own 15 to 30 degC": ours(every, TEMPERATURE_C, ph_given=False),
        "shares of the ions in the EC, beyond that": lambda: conductivity_by_ion(shared, 22.0),
    }
    engine, *taken = medians_ms(theirs(), *jobs.values(), rounds=15)
    engine_us = 1e3 * engine / THEIRS
    ours_us = dict(zip(jobs, taken, strict=True))  # ms for a thousand are us for one
    rows = [("PHREEQC, one feed", engine_us, "us")]
    for name, each_us in ours_us.items():
        rows += [(name, each_us, "us"), ("  PHREEQC takes", engine_us / each_us, "times that")]
    report(rows)
    assert ours_us["pH given, all at 22 degC"] <= engine_us / 40
    assert ours_us["pH computed, all at 22 degC"] <= engine_us / 20
    assert ours_us["pH given, each at its own 15 to 30 degC"] <= engine_us / 20
    assert ours_us["pH computed, each at its own 15 to 30 degC"] <= engine_us / 20


def one_after_another(*, ph_given: bool) -> Callable[[], None]:
    """Four feeds asked one by one in turn, as many in a row as PHREEQC's, so that both find their caches warm."""
    jobs = [ours(place, float(TEMPERATURE_C[place]), ph_given=ph_given) for place in range(4)]

    def run() -> None:
        for number in range(THEIRS):
            jobs[number % 4]()

    return run


def test_one_feed_alone() -> None:
    engine, given, computed = medians_ms(
        theirs(), one_after_another(ph_given=True), one_after_another(ph_given=False), rounds=40
    )
    report(
        [
            ("PHREEQC, one feed", 1e3 * engine / THEIRS, "us"),
            ("one alone, pH given", given / engine, "of that"),
            ("one alone, pH computed", computed / engine, "of that"),
        ]
    )
    assert given <= 0.5 * engine
    assert computed <= 0.8 * engine
