"""Every mass and volume factor, and the derived ones, against the unit table of the pint library."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pint
import pytest

from core.units import factors

REGISTRY = pint.UnitRegistry()
THEIR_NAME = {
    "g": "gram", "kg": "kilogram", "mg": "milligram", "µg": "microgram", "t": "metric_ton", "lb": "pound",
    "oz": "ounce", "L": "liter", "mL": "milliliter", "µL": "microliter", "cL": "centiliter", "dL": "deciliter",
    "hL": "hectoliter", "m³": "meter**3", "US gal": "US_liquid_gallon", "US qt": "US_liquid_quart",
    "US pt": "US_pint", "US cup": "US_liquid_cup", "US fl oz": "US_fluid_ounce", "US tbsp": "tablespoon",
    "US tsp": "teaspoon", "imp gal": "imperial_gallon", "imp qt": "imperial_quart", "imp pt": "imperial_pint",
    "imp fl oz": "imperial_fluid_ounce", "metric cup": "250 milliliter", "metric tbsp": "15 milliliter",
    "metric tsp": "5 milliliter",
}  # fmt: skip


@pytest.mark.parametrize("unit", factors.MASS_G + factors.VOLUME_L, ids=lambda unit: unit.label)
def test_factor_is_the_library_s(unit: factors.Unit) -> None:
    ours = "gram" if unit in factors.MASS_G else "liter"
    assert REGISTRY(THEIR_NAME[unit.label]).to(ours).magnitude == pytest.approx(unit.factor, rel=1e-12)


def test_fahrenheit() -> None:
    for degrees_f in (-40.0, 32.0, 59.0, 212.0):
        expected = REGISTRY.Quantity(degrees_f, "degF").to("degC").magnitude
        assert (degrees_f - 32) * factors.FAHRENHEIT.factor == pytest.approx(expected, abs=1e-9)


def test_the_library_loads_only_for_a_unit_outside_our_tables() -> None:
    code = (
        "import sys; from core.units import read_quantity, UnitError\n"
        "read_quantity('7 lb 14 oz', 'mass', 'g'); read_quantity('3 °dH', 'concentration', 'mg/L', of='Ca')\n"
        "assert not {'pint', 'scipy'} & set(sys.modules), 'loaded too early'\n"
        "read_quantity('3 stone', 'mass', 'g'); assert 'pint' in sys.modules"
    )
    top = Path(__file__).resolve().parents[3]
    done = subprocess.run([sys.executable, "-c", code], cwd=top, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
