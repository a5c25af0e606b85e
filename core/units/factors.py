"""Units people type for mass, volume, EC, temperature, shares and dilution, each with its factor to our fixed unit.

Sources. Mass and US customary volume are exact by definition: pound 0.453 592 37 kg, US gallon 231 cubic inches of
(2.54 cm)^3 (NIST SP 811, 2008, appendix B.8). Imperial gallon 4.546 09 L (United Kingdom, Units of Measurement
Regulations 1995, schedule). How known: MEMORY, and every factor is compared with the pint library's table in the tests.
EC scales: CF is ten times mS/cm; the ppm scales multiply mS/cm by 500, 640 or 700 by convention (trade usage, MEMORY).
"""

from __future__ import annotations

from typing import NamedTuple

LB_G = 453.59237
OZ_G = LB_G / 16
US_GAL_L = 231 * 2.54**3 / 1000
IMP_GAL_L = 4.54609
US_FL_OZ_L = US_GAL_L / 128
IMP_FL_OZ_L = IMP_GAL_L / 160
METRIC_TSP_L = 0.005


class Unit(NamedTuple):
    """A unit: its name for people, its factor to our fixed unit, the spellings it is typed in (folded)."""

    label: str
    factor: float
    spellings: tuple[str, ...] = ()


MASS_G = (
    Unit("g", 1.0, ("gm", "gms", "gram", "grams", "gramme", "grammes")),
    Unit("kg", 1000.0, ("kgs", "kilo", "kilos", "kilogram", "kilograms")),
    Unit("mg", 1e-3, ("milligram", "milligrams")),
    Unit("µg", 1e-6, ("ug", "mcg", "microgram", "micrograms")),
    Unit("t", 1e6, ("tonne", "tonnes", "metric ton", "metric tons")),
    Unit("lb", LB_G, ("lbs", "pound", "pounds")),
    Unit("oz", OZ_G, ("ozs", "ounce", "ounces")),
)
VOLUME_L = (
    Unit("L", 1.0, ("litre", "litres", "liter", "liters", "ltr", "dm3")),
    Unit("mL", 1e-3, ("cc", "cm3", "millilitre", "millilitres", "milliliter", "milliliters")),
    Unit("µL", 1e-6, ("ul", "microlitre", "microlitres", "microliter", "microliters")),
    Unit("cL", 1e-2, ("centilitre", "centilitres", "centiliter", "centiliters")),
    Unit("dL", 1e-1, ("decilitre", "decilitres", "deciliter", "deciliters")),
    Unit("hL", 100.0, ("hectolitre", "hectolitres", "hectoliter", "hectoliters")),
    Unit("m³", 1000.0, ("m3", "cubic metre", "cubic metres", "cubic meter", "cubic meters", "cbm")),
    Unit("US gal", US_GAL_L, ("gal us", "us gals", "us gallon", "us gallons", "usg", "gallon us", "gallons us")),
    Unit("US qt", US_GAL_L / 4, ("qt us", "us quart", "us quarts")),
    Unit("US pt", US_GAL_L / 8, ("pt us", "us pint", "us pints")),
    Unit("US cup", US_GAL_L / 16, ("us cups",)),
    Unit("US fl oz", US_FL_OZ_L, ("fl oz us", "us floz", "us fluid ounce", "us fluid ounces")),
    Unit("US tbsp", US_FL_OZ_L / 2, ("tbsp", "tbsps", "tbs", "tablespoon", "tablespoons", "us tablespoon")),
    Unit("US tsp", US_FL_OZ_L / 6, ("tsp", "tsps", "teaspoon", "teaspoons", "us teaspoon", "us teaspoons")),
    Unit("imp gal", IMP_GAL_L, ("imperial gallon", "imperial gallons", "uk gal", "uk gallon", "uk gallons", "gal imp")),
    Unit("imp qt", IMP_GAL_L / 4, ("imperial quart", "imperial quarts", "uk qt", "uk quart", "uk quarts")),
    Unit("imp pt", IMP_GAL_L / 8, ("imperial pint", "imperial pints", "uk pt", "uk pint", "uk pints")),
    Unit("imp fl oz", IMP_FL_OZ_L, ("imperial fluid ounce", "imperial fluid ounces", "uk fl oz", "fl oz imp")),
    Unit("metric cup", 0.25, ("metric cups",)),
    Unit("metric tbsp", 3 * METRIC_TSP_L, ("metric tablespoon", "metric tablespoons")),
    Unit("metric tsp", METRIC_TSP_L, ("metric teaspoon", "metric teaspoons")),
)
EC_MS_PER_CM = (
    Unit("mS/cm", 1.0, ("ms", "ms cm-1", "ec")),
    Unit("dS/m", 1.0, ("ds m-1",)),
    Unit("mmho/cm", 1.0, ("mmhos/cm", "mmho", "mmhos")),
    Unit("S/m", 10.0),
    Unit("mS/m", 0.01),
    Unit("µS/cm", 1e-3, ("us/cm", "us", "µs", "µmho/cm", "µmhos/cm", "umho/cm", "umhos/cm")),
    Unit("CF", 0.1),
    Unit("ppm-500", 1 / 500, ("ppm500", "ppm 500", "ppm (500)", "ppm on 500", "ppm x500")),
    Unit("ppm-640", 1 / 640, ("ppm640", "ppm 640", "ppm (640)", "ppm on 640", "ppm x640")),
    Unit("ppm-700", 1 / 700, ("ppm700", "ppm 700", "ppm (700)", "ppm on 700", "ppm x700")),
)
PERCENT = (
    Unit("%", 1.0, ("percent", "per cent", "% w/w", "w/w %", "% by mass", "% m/m", "g/100 g", "g/100g")),
    Unit("g/kg", 0.1),
    Unit("mg/kg", 1e-4, ("ppm",)),
)
CELSIUS = Unit("°C", 1.0, ("c", "deg c", "degc", "celsius", "degrees c", "degrees celsius"))
FAHRENHEIT = Unit("°F", 5 / 9, ("f", "deg f", "degf", "fahrenheit", "degrees f", "degrees fahrenheit"))

SIDED = {
    "gal": ("gal", "gals", "gallon", "gallons"),
    "qt": ("qt", "qts", "quart", "quarts"),
    "pt": ("pt", "pts", "pint", "pints"),
    "fl oz": ("fl oz", "fl.oz", "fl. oz", "floz", "fluid ounce", "fluid ounces", "fl ozs"),
}
"""Volume units of one name and two sizes: US and imperial."""

AMBIGUOUS = {
    ("volume", "oz"): ("US fl oz", "imp fl oz", "oz by weight, which is no volume"),
    ("volume", "ounce"): ("US fl oz", "imp fl oz", "oz by weight, which is no volume"),
    ("volume", "ounces"): ("US fl oz", "imp fl oz", "oz by weight, which is no volume"),
    ("volume", "cup"): ("US cup", "metric cup"),
    ("volume", "cups"): ("US cup", "metric cup"),
    ("mass", "gr"): ("g", "grain"),
    ("mass", "ton"): ("tonne", "2000 lb", "2240 lb"),
    ("mass", "tons"): ("tonne", "2000 lb", "2240 lb"),
    ("ec", "ppm"): ("ppm-500", "ppm-640", "ppm-700"),
    ("ec", "tds"): ("ppm-500", "ppm-640", "ppm-700"),
    ("ec", "ppm tds"): ("ppm-500", "ppm-640", "ppm-700"),
}
"""(kind, spelling) -> what it could mean."""


def folded(unit: str) -> str:
    """Return a unit's spelling without differences that carry no meaning: case, the letter mu, a full stop."""
    return " ".join(unit.casefold().replace("μ", "µ").replace("⁻¹", "-1").rstrip(".").split())


def by_spelling(units: tuple[Unit, ...]) -> dict[str, Unit]:
    """Return the units by every folded spelling, their label among them."""
    return {folded(spelling): unit for unit in units for spelling in (unit.label, *unit.spellings)}
