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
US_GAL_L = 3.785411784
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
    Unit("US gal", US_GAL_L, ("usg",)),
    Unit("US qt", US_GAL_L / 4),
    Unit("US pt", US_GAL_L / 8),
    Unit("US cup", US_GAL_L / 16),
    Unit("US fl oz", US_FL_OZ_L),
    Unit("US tbsp", US_FL_OZ_L / 2, ("tbsp",)),
    Unit("US tsp", US_FL_OZ_L / 6, ("tsp",)),
    Unit("imp gal", IMP_GAL_L),
    Unit("imp qt", IMP_GAL_L / 4),
    Unit("imp pt", IMP_GAL_L / 8),
    Unit("imp fl oz", IMP_FL_OZ_L),
    Unit("metric cup", 0.25),
    Unit("metric tbsp", 3 * METRIC_TSP_L),
    Unit("metric tsp", METRIC_TSP_L),
)
"""A spoon with no further word is the US one, as on most measuring spoons; the metric one is 1.4 % larger (tsp)."""

_VOLUME_WORDS = {
    "gals": "gal", "gallon": "gal", "gallons": "gal", "qts": "qt", "quart": "qt", "quarts": "qt", "pts": "pt",
    "pint": "pt", "pints": "pt", "cups": "cup", "ozs": "oz", "ounce": "oz", "ounces": "oz", "fluid": "fl",
    "floz": "fl oz", "tbs": "tbsp", "tbsps": "tbsp", "tablespoon": "tbsp", "tablespoons": "tbsp", "tsps": "tsp",
    "teaspoon": "tsp", "teaspoons": "tsp", "imperial": "imp", "uk": "imp", "u.s": "us",
}  # fmt: skip

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

DILUTION = (
    Unit("x", 1.0, ("times", "fold")),
    Unit("%", -100.0, ("percent", "% v/v")),
)
"""Dilution to litres of feed per litre of concentrate; a negative factor is divided by the number: 2 % is 50.
Volumes per volume ("10 mL/L", "2 tsp/gal") are made of the volume units."""

TWO_SIZED = {
    "gal": ("US gal", "imp gal"),
    "qt": ("US qt", "imp qt"),
    "pt": ("US pt", "imp pt"),
    "cup": ("US cup", "metric cup"),
    "fl oz": ("US fl oz", "imp fl oz"),
}
"""Spelling -> the volume unit it is in the United States, and elsewhere."""

AMBIGUOUS = {
    ("volume", "oz"): ("US fl oz", "imp fl oz", "oz by weight"),
    ("mass", "gr"): ("g", "grain"),
    ("mass", "ton"): ("tonne", "short ton", "long ton"),
    ("mass", "tons"): ("tonne", "short ton", "long ton"),
    ("ec", "ppm"): ("ppm-500", "ppm-640", "ppm-700"),
    ("ec", "tds"): ("ppm-500", "ppm-640", "ppm-700"),
    ("ec", "ppm tds"): ("ppm-500", "ppm-640", "ppm-700"),
}
"""(kind, spelling) -> what it could mean, whatever the user's preference."""


def folded(unit: str) -> str:
    """Return a unit's spelling without differences that carry no meaning: case, the letter mu, a full stop."""
    return " ".join(unit.casefold().replace("μ", "µ").replace("⁻¹", "-1").rstrip(".").split())


def volume_words(unit: str) -> str:
    """Return a folded volume unit in its short words, the country first: "gallons (US)" is "us gal"."""
    words = (
        unit.replace("fl.", "fl ")
        .replace("oz.", "oz")
        .replace("(", " ")
        .replace(")", " ")
        .replace("u.s.", "us")
        .split()
    )
    short = " ".join(_VOLUME_WORDS.get(word, word) for word in words)
    name, _, country = short.rpartition(" ")
    return f"{country} {name}" if country in ("us", "imp") else short


def by_spelling(units: tuple[Unit, ...]) -> dict[str, Unit]:
    """Return the units by every folded spelling, their label among them."""
    return {folded(spelling): unit for unit in units for spelling in (unit.label, *unit.spellings)}
