"""Molar masses and counts of the catalog against two independent formula libraries."""

from __future__ import annotations

import molmass
import periodictable
import pytest

from core.catalog import Salt, salts

EVERY_SALT = pytest.mark.parametrize("item", salts().values(), ids=list(salts()))

WRITTEN_OUT = [item for item in salts().values() if item.chelate is None and "in water" not in item.formula]

SUBSCRIPTS = str.maketrans("₀₁₂₃₄₅₆₇₈₉·", "0123456789.")


@EVERY_SALT
def test_masses_agree_with_molmass(item: Salt) -> None:
    """molmass (Gohlke, 2024 release), its own table of atomic weights; 0.01 % covers abridged weights."""
    mass = sum(molmass.ELEMENTS[element].mass * count for element, count in item.elements.items())
    assert item.molar_mass_g_per_mol == pytest.approx(mass, rel=1e-4)


@EVERY_SALT
def test_masses_agree_with_periodictable(item: Salt) -> None:
    """periodictable (Kienzle, version 2), its own table of atomic weights; 0.01 % covers abridged weights."""
    mass = sum(getattr(periodictable, element).mass * count for element, count in item.elements.items())
    assert item.molar_mass_g_per_mol == pytest.approx(mass, rel=1e-4)


@pytest.mark.parametrize("item", WRITTEN_OUT, ids=[item.id for item in WRITTEN_OUT])
def test_the_formula_shown_says_the_same_as_the_counts(item: Salt) -> None:
    """The display formula, read by molmass, holds the counts stored as data; solutions and chelates abbreviate."""
    parts = molmass.Formula(item.formula.translate(SUBSCRIPTS)).composition()
    assert {element: part.count for element, part in parts.items()} == item.elements


@pytest.mark.parametrize(
    ("salt_id", "cas_formula"),
    [
        ("iron-edta-13", "C10H18FeN2NaO11"),
        ("iron-dtpa-11", "C14H19FeN3NaO10"),
        ("iron-eddha-6", "C18H16FeN2NaO6"),
        ("iron-hbed-6", "C20H20FeN2NaO6"),
        ("manganese-edta-13", "C10H12MnN2Na2O8"),
        ("zinc-edta-15", "C10H12N2Na2O8Zn"),
        ("copper-edta-15", "C10H12CuN2Na2O8"),
    ],
)
def test_chelates_hold_the_compound_of_their_registry_formula(salt_id: str, cas_formula: str) -> None:
    """Molecular formulas as registries print them: NaFeEDTA·3H2O, NaHFeDTPA, NaFeEDDHA, NaFeHBED, Na2MEDTA."""
    parts = molmass.Formula(cas_formula).composition()
    assert {element: part.count for element, part in parts.items()} == salts()[salt_id].elements


@pytest.mark.parametrize(
    ("salt_id", "percent"),
    [
        ("calcium-nitrate-tetrahydrate", {"Ca": 16.972, "N": 11.863}),
        ("potassium-nitrate", {"K": 38.672, "N": 13.854}),
        ("magnesium-nitrate-hexahydrate", {"Mg": 9.479, "N": 10.926}),
        ("monopotassium-phosphate", {"K": 28.731, "P": 22.761}),
        ("magnesium-sulfate-heptahydrate", {"Mg": 9.861, "S": 13.008}),
        ("borax-decahydrate", {"Na": 12.057, "B": 11.338}),
        ("disodium-octaborate-tetrahydrate", {"Na": 11.146, "B": 20.964}),
        ("ammonium-heptamolybdate-tetrahydrate", {"N": 6.800, "Mo": 54.344}),
        ("iron-edta-13", {"Na": 5.460, "Fe": 13.262}),
    ],
)
def test_contents(salt_id: str, percent: dict[str, float]) -> None:
    """Contents worked by hand from the IUPAC 2021 abridged weights (Prohaska et al. 2022, table 3), three decimals."""
    weights = {"Ca": 40.078, "N": 14.007, "K": 39.098, "Mg": 24.305, "P": 30.974, "S": 32.06, "Na": 22.990, "B": 10.81}
    weights |= {"Mo": 95.95, "Fe": 55.845}
    item = salts()[salt_id]
    held = {e: 100 * weights[e] * item.elements[e] / item.molar_mass_g_per_mol for e in percent}
    assert held == pytest.approx(percent, abs=6e-4)
