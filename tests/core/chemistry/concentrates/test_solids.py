"""Solids: single salts saturate exactly where the handbook says."""

from __future__ import annotations

import numpy as np
import pytest

from core.chemistry.concentrates import ABSENT, assess_molal, saturation_mol_per_kg
from core.chemistry.concentrates.resource import SolidRow, solid_table

TOTALS = {
    "K+": "K", "NH4+": "NH4", "Mg+2": "Mg", "Ca+2": "Ca", "Fe+2": "Fe", "Mn+2": "Mn", "Zn+2": "Zn", "Cu+2": "Cu",
    "NO3-": "NO3", "Cl-": "Cl", "SO4-2": "S", "H2PO4-": "P", "B(OH)3": "B", "urea": "urea",
}  # fmt: skip
ROWS = solid_table().solids
BALANCED = 1e-6
"""The few protons of a neutral salt are found from a difference of its ions, good to their last digits."""
OWN = [row for row in ROWS if row.family in ("salt", "neutral")]


@pytest.mark.parametrize("row", OWN, ids=lambda row: row.id)
def test_a_pure_salt_saturates_exactly_where_it_is_tabulated(totals, row: SolidRow) -> None:  # type: ignore[no-untyped-def]
    """CRC Handbook of Chemistry and Physics, 98th ed., aqueous solubility of inorganic compounds."""
    assert row.saturation is not None
    place = ROWS.index(row)
    for t, percent in zip(row.saturation.temperature_c, row.saturation.mass_percent, strict=True):
        molality = 1000.0 * percent / (100.0 - percent) / row.saturation.molar_mass_g_per_mol
        assert saturation_mol_per_kg(row.id, t) == pytest.approx(molality, rel=1e-12)
        state = assess_molal(totals({TOTALS[ion]: n * molality for ion, n in row.ions.items()}), (t,))
        assert state.saturation_index[0, place, 0] == pytest.approx(0.0, abs=BALANCED)
        assert state.product_index[0, place, 0] == pytest.approx(0.0, abs=BALANCED)
        assert state.limited_by(0, 0) == row.id


@pytest.mark.parametrize("row", OWN, ids=lambda row: row.id)
@pytest.mark.parametrize("temperature_c", [5.0, 20.0, 35.0])
def test_a_stronger_tank_is_never_judged_better(totals, row: SolidRow, temperature_c: float) -> None:  # type: ignore[no-untyped-def]
    """Else a strong tank could be called clear that a weaker one is not."""
    full = saturation_mol_per_kg(row.id, temperature_c)
    assert full is not None
    shares = np.linspace(0.1, 1.1, 21)
    tanks = totals(*({TOTALS[ion]: n * full * share for ion, n in row.ions.items()} for share in shares))
    state = assess_molal(tanks, (temperature_c,))
    assert (np.diff(state.rank[0]) >= 0).all()
    excess = state.excess[0, ROWS.index(row)]
    assert excess[shares < 0.99].max() < 0.0 < excess[shares > 1.01].min()
    within = state.pitzer_valid[0]
    assert (np.diff(state.saturation_index[0, ROWS.index(row), within]) > 0.0).all()


def test_gypsum_dissolves_in_water_as_measured(totals) -> None:  # type: ignore[no-untyped-def]
    """CRC Handbook, 98th ed.: 0.202 % at 20 degC; the solubility product gives it within 0.03."""
    molality = saturation_mol_per_kg("gypsum", 20.0)
    state = assess_molal(totals({"Ca": molality, "S": molality}), (20.0,))
    place = state.solids.index("gypsum")
    assert state.saturation_index[0, place, 0] == pytest.approx(0.0, abs=0.03)


def test_a_solid_without_its_ions_is_absent(totals) -> None:  # type: ignore[no-untyped-def]
    state = assess_molal(totals({"K": 1.0, "NO3": 1.0}), (20.0,))
    for place, name in enumerate(state.solids):
        if name != "potassium-nitrate":
            assert state.saturation_index[0, place, 0] == ABSENT


def test_minerals_have_no_tabulated_solubility() -> None:
    assert saturation_mol_per_kg("syngenite", 20.0) is None
    with pytest.raises(KeyError):
        saturation_mol_per_kg("granite", 20.0)
