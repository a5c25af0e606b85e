"""From totals to forms."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.chemistry.components import COMPONENTS
from core.chemistry.concentrates.filling import CHARGES
from core.chemistry.concentrates.forms import share_out
from core.chemistry.concentrates.species import CHARGE, INDEX, IONS


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(0.0, 2.0), min_size=len(COMPONENTS), max_size=len(COMPONENTS)))
def test_charge_is_kept_but_for_what_citrate_holds(amounts: list[float]) -> None:
    totals = np.array(amounts)
    totals[COMPONENTS.index("citrate")] = 0.0
    tank = share_out(totals[:, None])
    carried = CHARGE @ tank.molality[: len(IONS), 0]
    assert carried == pytest.approx(CHARGES @ totals, abs=1e-9)
    assert tank.acid[0] == pytest.approx(-(CHARGES @ totals), abs=1e-9)


def test_iron_goes_into_its_chelate_before_anything_else(totals) -> None:  # type: ignore[no-untyped-def]
    tank = share_out(totals({"Fe3": 0.002, "EDTA": 0.0025, "Zn": 0.001, "Ca": 0.5, "Na": 0.0025}))
    assert tank.molality[INDEX["+"], 0] < 1e-20
    assert tank.molality[INDEX["Zn+2"], 0] == pytest.approx(0.0005)
    assert tank.molality[INDEX["Ca+2"], 0] == pytest.approx(0.5)
    assert tank.molality[INDEX["-"], 0] == pytest.approx(0.0025 * 4 - 0.002 * 3 - 0.0005 * 2)


def test_unknown_ions_and_molybdate_are_counted_by_their_charge(totals) -> None:  # type: ignore[no-untyped-def]
    tank = share_out(totals({"inert+": 0.1, "inert-": 0.2, "Mo": 0.01}))
    assert tank.molality[INDEX["+"], 0] == pytest.approx(0.1)
    assert tank.molality[INDEX["-"], 0] == pytest.approx(0.22)
