"""The published JSON Schema of a logbook, generated from the records, their ranges and their meanings."""

from __future__ import annotations

import json

from core.logbook.kind import LOGBOOK, SCHEMA
from core.logbook.ranges import LOG_RANGES
from core.logbook.records import Entry, Logbook, MadeBatch, Reservoir, Weighed
from core.recipe.meanings import MEANINGS
from core.recipe.records import NUTRIENTS
from core.recipe.schema import described

FILE_NAME = f"log-{SCHEMA}.schema.json"

LOG_MEANINGS: dict[type, dict[str, str]] = MEANINGS | {
    Logbook: {
        "format": "Tells the file from any other JSON.",
        "schema": "The number of this schema.",
        "title": "What the growing place is called.",
        "batches": "Tanks as they were mixed, each batch_id once.",
        "reservoirs": "The vessels of feed with their diaries, each name once.",
    },
    MadeBatch: {
        "batch_id": "The batch's own name, once per logbook; entries name it.",
        "mixed_on": "Day it was mixed, year-month-day.",
        "recipe": "The recipe as it stood then.",
        "mark": "The mark of that version of the recipe, as printed on sheet and labels.",
        "weighed": "What really went in.",
        "tank_volume_l": "Tank letter -> volume it was filled to, where that is not the recipe's.",
        "note": "A remark.",
    },
    Weighed: {
        "tank": 'The tank it went into, or "water" or "reservoir".',
        "entry_id": "Which product of the recipe's shelf.",
        "planned_g": "What the sheet asked for.",
        "weighed_g": "What went in.",
    },
    Reservoir: {
        "name": "What the reservoir is called.",
        "volume_l": "What it holds when it is full.",
        "water": "The water it is filled up with; null is that of the batch's recipe.",
        "entries": "Its diary in order of time.",
    },
    Entry: {
        "at": "Local time as 2026-06-01T08:30, or the day alone.",
        "fresh": "Whether it was emptied and filled anew.",
        "drained_l": "What was let out, before anything came in.",
        "water_l": "Water that came in.",
        "batch_id": "Which batch the parts and the acid are of.",
        "parts_ml": "Tank letter -> how much of it was poured.",
        "acid_ml": "Shelf entry name -> how much of it was poured.",
        "level_l": "Volume read afterwards.",
        "ec_ms_per_cm": "EC read afterwards, at 25 °C as the meter shows it.",
        "ph": "pH read afterwards.",
        "temperature_c": "Temperature read afterwards.",
        "analysis_mg_per_l": "Nutrient -> a laboratory's value for a sample taken afterwards.",
        "hco3_mg_per_l": "The laboratory's bicarbonate.",
        "meter": "Which meter was used.",
        "note": "A remark.",
    },
}
"""Record -> name in the file -> what it means."""


def schema_text() -> str:
    """Return the text of resources/schema/log-<n>.schema.json; a test holds the file to it."""
    made = described(Logbook, LOG_MEANINGS, LOG_RANGES, LOGBOOK.most_members)
    shape = made["$defs"]["Logbook"]
    shape["required"] = ["format", "schema"]  # the program's records know them by themselves, a file must say them
    for name in shape["required"]:
        del shape["properties"][name]["default"]
    made["$defs"]["Entry"]["properties"]["analysis_mg_per_l"]["propertyNames"] = {"enum": list(NUTRIENTS)}
    made["$defs"]["Recipe"]["properties"]["shelf"]["minItems"] = 1
    head = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"Saltwright logbook, schema {SCHEMA}",
        "description": "UTF-8 JSON, at most 20 MB. Names, types and ranges stand here; the program also refuses what "
        "contradicts itself.",
    }
    return json.dumps({**head, **made}, indent=1, ensure_ascii=False) + "\n"
