"""What every field of a recipe means, in a sentence each: the descriptions of the published schema."""

from __future__ import annotations

from msgspec import structs

from core.recipe.records import (
    Aim,
    Batch,
    LabelPercent,
    Limit,
    Recipe,
    Scale,
    ShelfEntry,
    TankContents,
    TankSetup,
    Target,
    Water,
    WaterContents,
)


def _contents(record: type, unit: str) -> dict[str, str]:
    return {info.encode_name: f"{info.encode_name}, {unit}; left out is unknown." for info in structs.fields(record)}


MEANINGS: dict[type, dict[str, str]] = {
    Recipe: {
        "format": "Tells the file from any other JSON.",
        "schema": "The number of this schema.",
        "shelf": "The salts, acids and bought blends at hand, at least one.",
        "title": "The recipe's name.",
        "parent": "The name of the recipe this one was adapted from; empty for one of its own.",
        "currency": "Three letters of the currency of every price, such as EUR; empty if there is none.",
        "aim": "What the feed should hold.",
        "water": "The source water; pure water if left out, and the plan says so.",
        "second_water": "A second source water to mix in.",
        "second_water_share_percent": "How much of the fill water is the second water, by volume.",
        "goal": "What the amounts are chosen for: nearest to the targets, least cost or least number of salts.",
        "acid_into": "Where the acid goes; null lets the plan decide: into the water if that is hard, else a tank.",
        "tanks": "The concentrate tanks.",
        "batch": "How much concentrate is made at once and what it is weighed on.",
    },
    Aim: {
        "targets": "What the crop should get, each nutrient once.",
        "limits": "Bounds the feed must keep, each nutrient once.",
        "ammonium_share_at_most_percent": "Most ammonium as a share of all N; null is the larger of 10 and the crop's.",
        "urea": "Whether urea may be used.",
        "residual_alkalinity_meq_per_l": "Alkalinity left after acid; null is the water's own, at most 0.5 with acid.",
        "ph": "Wanted pH of the feed.",
        "ec_ms_per_cm": "Wanted EC of the feed at 25 °C, to which the macronutrients are scaled.",
        "ec_is_rise_over_water": "Whether that EC is to be added to the water's own; false is the reading itself.",
        "crop": "The crop profile of the catalog the targets came from.",
    },
    Target: {
        "nutrient": "Which nutrient.",
        "mg_per_l": "How much of it, as the element; 0 means none at all.",
        "tolerance_percent": "How far the feed may be off either way; not beside low and high.",
        "low_mg_per_l": "Lowest wanted value.",
        "high_mg_per_l": "Highest wanted value.",
        "weight": "How much a miss counts against the others; null is 1, for S 0.2, for trace elements 0.1.",
    },
    Limit: {
        "nutrient": "Which nutrient.",
        "at_most_mg_per_l": "The feed holds at most this, water included.",
        "at_least_mg_per_l": "The feed holds at least this, water included.",
    },
    Water: {
        "name": "What the water is called.",
        "mg_per_l": "Its analysis.",
        "ph": "Its pH.",
        "ec_ms_per_cm": "Its measured EC at 25 °C.",
        "temperature_c": "Its temperature.",
        "credits_iron_and_manganese": "Whether its iron and manganese stay dissolved until the roots get them.",
    },
    ShelfEntry: {
        "salt": 'An id of the catalog, or "blend:" and a name of your own for a bought blend.',
        "entry_id": "The entry's own name, once per shelf; null is the salt's id.",
        "label_percent": "What the label prints; it wins over the catalog, and a blend needs it.",
        "strength_percent": "Strength of an acid or liquid, % by mass; null is the catalog's usual strength.",
        "price_per_kg": "Price of a kilogram of product.",
        "pack_kg": "Net content of a pack.",
        "priced_on": "Day of the price, year-month-day.",
        "at_least_mg_per_l": "Use at least this much of the product, mg per litre of feed.",
        "at_most_mg_per_l": "Use at most this much of the product, mg per litre of feed.",
        "exactly_mg_per_l": "Use exactly this much of the product, mg per litre of feed.",
        "mixed_g_per_l": "For a tank already mixed: grams of products dissolved in a litre of it. Written by adapting.",
        "mixed_mmol_per_g": "For a tank already mixed: all it holds, which rules over the label. Written by adapting.",
    },
    TankSetup: {
        "count": "Number of tanks; they are named A, B, C, D.",
        "ratio": "Litres of finished feed from a litre of each tank: 100 is 10 mL of each per litre.",
        "temperature_c": "Temperature the tanks stand at.",
        "coldest_c": "Coldest they get; null is the same as temperature_c.",
        "pins": "Shelf entry name -> tank letter it must go to.",
        "fill_water": "What the tanks are filled up with: the recipe's own water, or pure water, which null means too.",
    },
    Batch: {
        "tank_volume_l": "Volume of concentrate made in each tank.",
        "scales": "The scales at hand.",
    },
    Scale: {
        "capacity_g": "The most it carries.",
        "readability_g": "The smallest step it shows.",
    },
    LabelPercent: _contents(LabelPercent, "per cent of the product's mass"),
    WaterContents: _contents(WaterContents, "mg per litre"),
    TankContents: {
        info.encode_name: f"{info.encode_name} in all its forms; left out is none."
        for info in structs.fields(TankContents)
    },
}
"""Record -> name in the file -> what it means."""
