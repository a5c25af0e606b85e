"""Short ways to make recipes in tests."""

from pathlib import Path

import msgspec

from core.recipe import load
from core.recipe.records import Recipe

STORIES = Path(__file__).parents[1] / "outside" / "stories"


def recipe(targets: dict[str, float], shelf: list, **rest) -> Recipe:
    """A recipe of targets [mg/L] and salt ids (or whole shelf entries), with any other field in its file form."""
    aim = {"targets": [{"nutrient": n, "mg_per_l": v} for n, v in targets.items()]} | rest.pop("aim", {})
    entries = [{"salt": entry} if isinstance(entry, str) else entry for entry in shelf]
    return msgspec.convert({"format": "saltwright-recipe", "schema": 1, "aim": aim, "shelf": entries} | rest, Recipe)


HARD = {
    "name": "hard",
    "mg_per_l": {"Ca": 118, "Mg": 16, "Na": 31, "K": 3, "Cl": 48, "S": 24, "NO3-N": 5.4, "HCO3": 329},
    "ph": 7.4,
}
SIX = {"N": 150.0, "P": 40.0, "K": 200.0, "Ca": 150.0, "Mg": 35.0, "S": 55.0}
PLAIN = [
    "calcium-nitrate-tetrahydrate",
    "potassium-nitrate",
    "potassium-sulfate",
    "monopotassium-phosphate",
    "magnesium-sulfate-heptahydrate",
]


def two_jugs() -> Recipe:
    """Two jugs of a US grower, read backwards."""
    return load(STORIES / "us_two_jugs.saltwright")
