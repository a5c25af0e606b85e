"""Properties of pure water that activities, conductivities and volumes are built on."""

from __future__ import annotations

from typing import Any, TypeVar

import numpy as np

ZERO_CELSIUS_K = 273.15

_Array = np.ndarray[Any, np.dtype[np.float64]]
Temperature = TypeVar("Temperature", float, _Array, _Array | float)


def density_kg_per_l(temperature_c: Temperature) -> Temperature:
    """Density of air-free water at 1 atm [kg/L].

    temperature_c : float or (n,) ndarray [degC], valid 0-100.
    Source: Kell 1975, J. Chem. Eng. Data 20, 97, equation 16 (MEMORY; 0.997047 at 25 degC as tabulated there).
    """
    t = temperature_c
    top = 999.83952 + t * (
        16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 + t * -280.54253e-12)))
    )
    return top / (1.0 + 16.879850e-3 * t) / 1000.0


def relative_permittivity(temperature_c: Temperature) -> Temperature:
    """Relative permittivity of water at 1 bar [-].

    temperature_c : float or (n,) ndarray [degC], valid 0-100.
    Source: Bradley & Pitzer 1979, J. Phys. Chem. 83, 1599 (MEMORY; 78.38 at 25 degC).
    """
    t = temperature_c + ZERO_CELSIUS_K
    at_1000_bar = 342.79 * np.exp(-5.0866e-3 * t + 9.4690e-7 * t * t)
    c = -2.0525 + 3115.9 / (-182.89 + t)
    b = -8032.5 + 4.2142e6 / t + 2.1417 * t
    permittivity: Temperature = at_1000_bar + c * np.log((b + 1.0) / (b + 1000.0))
    return permittivity


def viscosity_mpa_s(temperature_c: Temperature) -> Temperature:
    """Dynamic viscosity of water at 1 atm [mPa s].

    temperature_c : float or (n,) ndarray [degC], valid 0-40.
    Source: Kestin, Sokolov & Wakeham 1978, J. Phys. Chem. Ref. Data 7, 941 (MEMORY; 0.8902 at 25 degC).
    """
    below_20 = 20.0 - temperature_c
    log10_ratio = below_20 / (temperature_c + 96.0) * (1.2364 - 1.37e-3 * below_20 + 5.7e-6 * below_20**2)
    viscosity: Temperature = 1.002 * 10.0**log10_ratio
    return viscosity


def debye_hueckel(temperature_c: Temperature) -> tuple[Temperature, Temperature]:
    """Debye-Hueckel slopes: A for log10 of the activity coefficient [(kg/mol)^0.5], B [(kg/mol)^0.5 / angstrom].

    temperature_c : float or (n,) ndarray [degC], valid 0-100.
    Source: Robinson & Stokes 1959, chapter 9; constants from CODATA (DERIVED).
    """
    product = relative_permittivity(temperature_c) * (temperature_c + ZERO_CELSIUS_K)
    root_density = np.sqrt(density_kg_per_l(temperature_c))
    return 1.824829e6 * root_density / product**1.5, 50.2916 * root_density / np.sqrt(product)
