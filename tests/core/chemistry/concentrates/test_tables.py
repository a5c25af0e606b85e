"""The tables of the concentrates: sources resolve, ions are known, formulas close."""

from __future__ import annotations

import pytest
from molmass import Formula

from core.chemistry.components import COMPONENTS
from core.chemistry.concentrates.resource import pitzer_table, solid_table, volume_table
from core.chemistry.concentrates.species import CHARGE, INDEX, IONS, SPECIES, charge_of

FORMULAS = {
    "potassium-nitrate": "KNO3",
    "potassium-sulfate": "K2SO4",
    "monopotassium-phosphate": "KH2PO4",
    "monoammonium-phosphate": "NH4H2PO4",
    "potassium-chloride": "KCl",
    "ammonium-nitrate": "NH4NO3",
    "ammonium-sulfate": "(NH4)2SO4",
    "calcium-nitrate-tetrahydrate": "Ca(NO3)2",
    "calcium-chloride-hexahydrate": "CaCl2",
    "magnesium-nitrate-hexahydrate": "Mg(NO3)2",
    "magnesium-sulfate-heptahydrate": "MgSO4",
    "magnesium-chloride-hexahydrate": "MgCl2",
    "manganese-sulfate-pentahydrate": "MnSO4",
    "zinc-sulfate-heptahydrate": "ZnSO4",
    "copper-sulfate-pentahydrate": "CuSO4",
    "iron-sulfate-heptahydrate": "FeSO4",
    "boric-acid": "H3BO3",
    "urea": "CO(NH2)2",
    "gypsum": "CaSO4",
}
IONS_OF_TOTALS = {
    "Ca": "Ca", "Mg": "Mg", "K": "K", "Na": "Na", "NH4": "NH4", "Fe": "Fe", "Fe3": "Fe", "Mn": "Mn", "Zn": "Zn",
    "Cu": "Cu", "NO3": "NO3", "P": "H2PO4", "S": "SO4", "Cl": "Cl", "Mo": "MoO4", "C": "CO2", "B": "B(OH)3",
    "Si": "Si(OH)4", "urea": "CO(NH2)2", "citrate": "C6H5O7", "EDTA": "C10H12N2O8", "DTPA": "C14H18N3O10",
    "EDDHA": "C18H16N2O6", "HBED": "C20H20N2O6",
}  # fmt: skip


def test_sources_resolve() -> None:
    pitzer, solid, volume = pitzer_table(), solid_table(), volume_table()
    for row in (*pitzer.binary, *pitzer.theta, *pitzer.psi):
        assert row.source in pitzer.sources
    assert {row.source for row in solid.solids} <= solid.sources.keys()
    assert {row.source for row in volume.components} <= volume.sources.keys()


def test_pairs_are_opposite_and_given_once() -> None:
    table = pitzer_table()
    pairs = [row.ions for row in table.binary] + [row.ions for row in table.alike]
    assert len(set(pairs)) == len(pairs)
    for cation, anion in pairs:
        assert charge_of(cation) > 0 > charge_of(anion)
        assert {cation, anion} <= set(IONS)


def test_mixing_terms_are_of_like_sign_and_given_once() -> None:
    table = pitzer_table()
    for row in table.theta:
        assert charge_of(row.ions[0]) * charge_of(row.ions[1]) > 0
    for row in table.psi:
        signs = {charge_of(ion) > 0 for ion in row.ions}
        assert len(row.ions) == 3
        assert len(signs) == 2
    for rows in (table.theta, table.psi):
        keys = [frozenset(row.ions) for row in rows]
        assert len(set(keys)) == len(keys)


@pytest.mark.parametrize("row", solid_table().solids, ids=lambda row: row.id)
def test_solids_are_neutral_and_weigh_what_their_formula_does(row) -> None:  # type: ignore[no-untyped-def]
    charge = sum(count * CHARGE[INDEX[name]] for name, count in row.ions.items() if name in IONS)
    assert charge == 0
    assert set(row.ions) <= set(SPECIES)
    if row.saturation is not None:
        mass = Formula(FORMULAS[row.id]).mass
        assert row.saturation.molar_mass_g_per_mol == pytest.approx(mass, rel=2e-4)
        assert list(row.saturation.temperature_c) == sorted(set(row.saturation.temperature_c))


def test_every_total_has_its_mass_and_volume() -> None:
    rows = {row.component: row for row in volume_table().components}
    assert set(rows) == set(COMPONENTS)
    for name, formula in IONS_OF_TOTALS.items():
        assert rows[name].molar_mass_g_per_mol == pytest.approx(Formula(formula).mass, abs=0.01)


def test_charge_is_read_from_the_name() -> None:
    assert [charge_of(name) for name in ("Ca+2", "NO3-", "HPO4-2", "H+", "+", "-", "urea")] == [2, -1, -2, 1, 1, -1, 0]
