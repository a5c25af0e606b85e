"""Densities and strengths of acids and lye against published tables."""

from __future__ import annotations

import pytest

from core.catalog import concentration_mol_per_l, density_kg_per_l


@pytest.mark.parametrize(
    ("acid", "percent", "density", "mol_per_l"),
    [
        ("nitric-acid", 38, 1.2329, 7.43), ("nitric-acid", 53, 1.3282, 11.17), ("nitric-acid", 54, 1.3341, 11.43),
        ("nitric-acid", 60, 1.3673, 13.02), ("nitric-acid", 61.4, 1.3744, 13.39), ("nitric-acid", 65, 1.3911, 14.35),
        ("nitric-acid", 67, 1.3993, 14.88), ("nitric-acid", 68, 1.4031, 15.14), ("nitric-acid", 70, 1.4099, 15.66),
        ("sulfuric-acid", 35, 1.2609, 4.50), ("sulfuric-acid", 37, 1.2781, 4.82), ("sulfuric-acid", 50, 1.3967, 7.12),
        ("phosphoric-acid", 59, 1.4159, 8.52), ("phosphoric-acid", 75, 1.5761, 12.06),
        ("phosphoric-acid", 80, 1.6313, 13.32), ("phosphoric-acid", 85, 1.6891, 14.65),
        ("hydrochloric-acid", 30, 1.1486, 9.45), ("hydrochloric-acid", 31.45, 1.1560, 9.97),
        ("hydrochloric-acid", 32, 1.1588, 10.17), ("hydrochloric-acid", 37, 1.1846, 12.02),
        ("sulfuric-acid", 93, 1.835, 17.40), ("sulfuric-acid", 96, 1.840, 18.01), ("sulfuric-acid", 98, 1.840, 18.39),
    ],
)  # fmt: skip
def test_acids_as_sold(acid: str, percent: float, density: float, mol_per_l: float) -> None:
    """Density equation of Laliberté 2009 (J. Chem. Eng. Data 54:1725), 20 °C; sulfuric 93 % and up extension tables."""
    assert density_kg_per_l(acid, percent) == pytest.approx(density, rel=5e-4)
    assert concentration_mol_per_l(acid, percent) == pytest.approx(mol_per_l, rel=2e-3)


@pytest.mark.parametrize(
    ("product", "percent", "density", "mol_per_l"),
    [
        ("nitric-acid", 70, 1.413, 15.698),
        ("phosphoric-acid", 85, 1.685, 14.615),
        ("sulfuric-acid", 95, 1.84, 17.822),
        ("hydrochloric-acid", 37, 1.18, 12.0),
        ("potassium-hydroxide", 45, 1.45, 11.6),
    ],
)
def test_reagents_as_supplied(product: str, percent: float, density: float, mol_per_l: float) -> None:
    """Laboratory tables of concentrated reagents, printed to two or three figures: density 0.4 %, molarity 1 %."""
    assert density_kg_per_l(product, percent) == pytest.approx(density, rel=4e-3)
    assert concentration_mol_per_l(product, percent) == pytest.approx(mol_per_l, rel=0.01)
