"""Quantities as people type them, read into the program's fixed units and written back; pint loads only when needed."""

from __future__ import annotations

from core.units.dates import read_date, read_moment
from core.units.errors import AmbiguousText, UnitError
from core.units.formats import format_mass, format_volume, plain_number
from core.units.lookup import OUR_UNIT, Context, Kind
from core.units.quantity import Understood, read_quantity, value_in
from core.units.text import has_decimal_comma, read_number, refuse_thousands

__all__ = [
    "OUR_UNIT",
    "AmbiguousText",
    "Context",
    "Kind",
    "Understood",
    "UnitError",
    "format_mass",
    "format_volume",
    "has_decimal_comma",
    "plain_number",
    "read_date",
    "read_moment",
    "read_number",
    "read_quantity",
    "refuse_thousands",
    "value_in",
]
