"""Numbers as people read them: no exponents, no grouping, a point for the decimal mark."""

from __future__ import annotations

import math

MINUS = "\N{MINUS SIGN}"


def format_number(value: float, digits: int = 3) -> str:
    """Return the value with `digits` significant digits, but never fewer than its whole part has.

    >>> format_number(0.04751), format_number(168.4), format_number(5320.4), format_number(5, 2)
    ('0.0475', '168', '5320', '5.0')
    """
    return format_decimals(value, _decimals(value, digits))


def format_short(value: float, digits: int = 3) -> str:
    """Return the value as `format_number` does, without zeros after the decimal mark that say nothing: 50.0 -> 50."""
    text = format_number(value, digits)
    return text.rstrip("0").rstrip(".") if "." in text else text


def format_decimals(value: float, decimals: int) -> str:
    """Return the value with a fixed number of decimals; what rounds to nothing carries no minus sign."""
    if not math.isfinite(value):
        return "?"
    text = f"{abs(value):.{decimals}f}"
    negative = value < 0 and any(digit in "123456789" for digit in text)
    return f"{MINUS}{text}" if negative else text


def decimals_of_step(step: float) -> int:
    """Return the decimals that tell steps of this size apart: 0.01 -> 2, 0.5 -> 1, 1 -> 0, 2.834952 (0.1 oz) -> 3."""
    return next(decimals for decimals in range(10) if abs(round(step, decimals) - step) <= step / 1000)


def _decimals(value: float, digits: int) -> int:
    if not math.isfinite(value) or value == 0:
        return max(0, digits - 1)
    exponent = int(f"{value:.{digits - 1}e}".rpartition("e")[2])  # of 9.996 as 10.0, else it shows a digit too many
    return max(0, digits - 1 - exponent)
