"""The logbook: batches as they were mixed, and the readings of each reservoir. Frozen values, like a recipe.

A logbook is the diary of one growing place. Its batches are frozen: each holds the recipe it was mixed from, and
editing that recipe elsewhere never rewrites it. ``None`` means "not noted", which is never the same as zero.
"""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from core.recipe.records import Nutrient, Recipe, Water


class _Record(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """Shared settings of every record."""


class Weighed(_Record, frozen=True):
    """One product of one tank as it went in: grams wanted and grams weighed (liquids by mass too)."""

    tank: str
    entry_id: str
    planned_g: float
    weighed_g: float


class MadeBatch(_Record, frozen=True):
    """Tanks as they were mixed on a day; `mark` is the recipe version's mark as printed on sheet and labels.

    `batch_id` is unique in its logbook; `mixed_on` is local time as ISO text to the minute, or the day alone; `recipe`
    is the recipe as it stood then, whose batch holds the tank volume. `tank_volume_l` names tanks that were filled to
    another volume than that.
    """

    batch_id: str
    mixed_on: str
    recipe: Recipe
    mark: str = ""
    weighed: tuple[Weighed, ...] = ()
    tank_volume_l: dict[str, float] = {}
    note: str = ""


class Entry(_Record, frozen=True):
    """One line of a reservoir's diary: what was done first, and what was read after it.

    `at` is local time as ISO text to the minute, or the day alone where the time is not known; `fresh`: it was emptied
    and filled anew, so that what was in it no longer counts. `drained_l` went out before, `water_l` came in; `level_l`
    is the volume read afterwards [L]. `parts_ml` names tanks of the batch `batch_id` [mL of each], `acid_ml` shelf
    entries of its recipe [mL of product]; parts and acid always name their batch. `ec_ms_per_cm` is as the meter shows
    it at 25 degC; `analysis_mg_per_l` a laboratory's report of a sample taken after all this, `hco3_mg_per_l` its
    alkalinity.
    """

    at: str
    fresh: bool = False
    drained_l: float | None = None
    water_l: float | None = None
    batch_id: str = ""
    parts_ml: dict[str, float] = {}
    acid_ml: dict[str, float] = {}
    level_l: float | None = None
    ec_ms_per_cm: float | None = None
    ph: float | None = None
    temperature_c: float | None = None
    analysis_mg_per_l: dict[Nutrient, float] = {}
    hco3_mg_per_l: float | None = None
    meter: str = ""
    note: str = ""


class Reservoir(_Record, frozen=True):
    """A vessel of feed and its diary, oldest entry first; `water` is what it is filled up with, None the batch's."""

    name: str
    volume_l: float
    water: Water | None = None
    entries: tuple[Entry, ...] = ()


class Logbook(_Record, frozen=True):
    """The whole document; names of reservoirs and ids of batches are unique."""

    format: Literal["saltwright-log"] = "saltwright-log"
    schema: Literal[1] = 1
    title: str = ""
    batches: tuple[MadeBatch, ...] = ()
    reservoirs: tuple[Reservoir, ...] = ()
