"""Pure water, against the tables everybody uses."""

from __future__ import annotations

import pytest

from core.chemistry.water import debye_hueckel, density_kg_per_l, relative_permittivity, viscosity_mpa_s


@pytest.mark.parametrize(
    ("temperature_c", "density"), [(0.0, 0.99984), (4.0, 0.99997), (25.0, 0.99705), (40.0, 0.99222)]
)
def test_density_as_tabulated(temperature_c: float, density: float) -> None:
    """CRC Handbook, standard density of water (IAPWS), to the fifth digit."""
    assert density_kg_per_l(temperature_c) == pytest.approx(density, abs=1.1e-5)


@pytest.mark.parametrize(("temperature_c", "permittivity"), [(0.0, 87.90), (20.0, 80.20), (25.0, 78.36), (40.0, 73.17)])
def test_permittivity_as_tabulated(temperature_c: float, permittivity: float) -> None:
    """CRC Handbook, permittivity of water; the equations in use differ by 0.05 %."""
    assert relative_permittivity(temperature_c) == pytest.approx(permittivity, rel=6e-4)


@pytest.mark.parametrize(("temperature_c", "viscosity"), [(0.0, 1.792), (10.0, 1.306), (25.0, 0.890), (40.0, 0.653)])
def test_viscosity_as_tabulated(temperature_c: float, viscosity: float) -> None:
    """CRC Handbook, viscosity of water (IAPWS 2008), to its last digit."""
    assert viscosity_mpa_s(temperature_c) == pytest.approx(viscosity, abs=1.1e-3)


def test_debye_hueckel_slopes() -> None:
    """Robinson & Stokes 1959, appendix 7.1: A 0.5115 and B 0.3291 per litre, divided or not by the root of density."""
    a, b = debye_hueckel(25.0)
    assert a == pytest.approx(0.5100, abs=1.5e-3)
    assert b == pytest.approx(0.3286, abs=5e-4)
