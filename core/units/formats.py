"""Numbers and amounts as text: no locale, the decimal mark is an argument."""

from __future__ import annotations

import math
from typing import Literal

from core.units.factors import IMP_FL_OZ_L, IMP_GAL_L, OZ_G, US_FL_OZ_L, US_GAL_L

System = Literal["metric", "us", "imperial"]
OZ_PER_LB = 16


def plain_number(number: float, decimal_mark: str = ".") -> str:
    """Return a number to ten significant digits, without exponent and without trailing zeros."""
    if number == 0:
        return "0"
    decimals = max(0, 9 - math.floor(math.log10(abs(number))))
    text = f"{number:.{decimals}f}"
    return (text.rstrip("0").rstrip(".") if "." in text else text).replace(".", decimal_mark)


def format_mass(grams: float, system: System, *, readability_g: float | None = None, decimal_mark: str = ".") -> str:
    """Return a mass as it is weighed, such as "43.61 g" or "3 lb 2.4 oz".

    Parameters
    ----------
    readability_g : the scale's step; the text shows as many decimals as it does [g]. None shows four digits.
    """
    if system == "metric":
        return f"{_fixed(grams, _decimals(grams, readability_g), decimal_mark)} g"
    step_oz = None if readability_g is None else readability_g / OZ_G
    decimals = _decimals(grams / OZ_G, step_oz)
    ounces = round(grams / OZ_G, decimals)  # rounded before it is split, so that 15.96 oz never reads 16.0 oz
    pounds = int(ounces // OZ_PER_LB)
    rest = f"{_fixed(ounces - pounds * OZ_PER_LB, decimals, decimal_mark)} oz"
    return f"{pounds} lb {rest}" if pounds else rest


def format_volume(litres: float, system: System, *, decimal_mark: str = ".") -> str:
    """Return a volume to three or four digits: "850 mL", "50 L", "41.8 US fl oz", "10.2 US gal"."""
    if system == "metric":
        return _in_unit(litres, 1.0, "L", decimal_mark) if litres >= 1 else _in_unit(litres, 1e-3, "mL", decimal_mark)
    gallon_l, fl_oz_l = (US_GAL_L, US_FL_OZ_L) if system == "us" else (IMP_GAL_L, IMP_FL_OZ_L)
    prefix = "US" if system == "us" else "imp"
    if litres >= gallon_l:
        return _in_unit(litres, gallon_l, f"{prefix} gal", decimal_mark)
    return _in_unit(litres, fl_oz_l, f"{prefix} fl oz", decimal_mark)


def _in_unit(litres: float, unit_l: float, name: str, decimal_mark: str) -> str:
    number = litres / unit_l
    return f"{plain_number(round(number, _significant(number, 3)), decimal_mark)} {name}"


def _decimals(number: float, step: float | None) -> int:
    """Return the decimals a scale of this step shows, or those of four significant digits."""
    if step is None:
        return _significant(number, 4)
    return max(0, math.ceil(-math.log10(step) - 1e-6))  # 0.1 oz is 2.834952 g printed to seven digits


def _significant(number: float, digits: int) -> int:
    if number == 0:
        return 0
    return min(6, max(0, digits - 1 - math.floor(math.log10(abs(number)))))


def _fixed(number: float, decimals: int, decimal_mark: str) -> str:
    return f"{number:.{decimals}f}".replace(".", decimal_mark)
