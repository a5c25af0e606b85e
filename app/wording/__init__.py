"""Every sentence the program shows, once: the window, the paper and the command line take theirs from here."""

from app.wording.cautions import caution_text
from app.wording.numbers import decimals_of_step, format_decimals, format_number, format_short
from app.wording.words import (
    joined,
    level_word,
    nutrient_word,
    place_word,
    salt_name,
    solid_word,
    tank_title,
    verdict_word,
)

__all__ = [
    "caution_text",
    "decimals_of_step",
    "format_decimals",
    "format_number",
    "format_short",
    "joined",
    "level_word",
    "nutrient_word",
    "place_word",
    "salt_name",
    "solid_word",
    "tank_title",
    "verdict_word",
]
