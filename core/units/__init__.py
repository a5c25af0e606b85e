"""Quantities as people type them, read into the program's fixed units and written back; pint loads only when needed."""

from __future__ import annotations

from core.units.errors import AmbiguousText, UnitError
from core.units.formats import format_mass, format_volume, plain_number
from core.units.quantity import Kind, Understood, read_quantity, value_in
from core.units.text import read_number

__all__ = [
    "AmbiguousText",
    "Kind",
    "Understood",
    "UnitError",
    "format_mass",
    "format_volume",
    "plain_number",
    "read_number",
    "read_quantity",
    "value_in",
]
