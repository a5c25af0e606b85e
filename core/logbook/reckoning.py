"""The feed of a batch on the bench: with the weights that went in, its error bands, and the smallest repair."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from core.bench.bottles import BottleFor
from core.bench.error_band import (
    POURED_PERCENT,
    ErrorBand,
    Part,
    error_band,
    label_shortfall_percent,
    weighing_percent,
)
from core.bench.repair import propose
from core.bench.repair_records import Bench, Filling, Repair, Wanted
from core.blend.nutrients import ROW, Array
from core.blend.shelf import Source
from core.blend.solve import Blend
from core.logbook.batches import mixed_plan
from core.logbook.progress import (
    Progress,
    differences,
    filled_volumes_l,
    to_add_g,
    wanted_g,
    weighed_g,
    weighed_records,
)
from core.logbook.records import MadeBatch
from core.logbook.worklist import ToWeigh, bottles_of, each, worklist
from core.plan.records import NutrientRow, Plan
from core.recipe.records import NUTRIENTS, Recipe


class BandRow(Struct, frozen=True):
    """A nutrient of the feed with its band [mg/L]; `label`, `weighing` and `volume` are what each part of it makes.

    `unlimited`: the law chosen sets no limit for a good part of what brings it, as far as it was read.
    """

    row: NutrientRow
    low_mg_per_l: float
    high_mg_per_l: float
    label_mg_per_l: float
    weighing_mg_per_l: float
    volume_mg_per_l: float
    unlimited: bool


class Reckoned(Struct, frozen=True):
    """What the batch makes as things stand; `repair` is None where nothing needs to change."""

    items: tuple[ToWeigh, ...]
    plan: Plan
    bands: tuple[BandRow, ...]
    repair: Repair | None


def batch_in_hand(recipe: Recipe, items: Sequence[ToWeigh], progress: Progress) -> MadeBatch:
    """Return the batch as it is or will be mixed; it has no id, date or mark yet."""
    volumes = filled_volumes_l(progress, recipe.batch.tank_volume_l)
    return MadeBatch("", "", recipe, weighed=weighed_records(progress, items), tank_volume_l=volumes)


def reckon(recipe: Recipe, blend: Blend, plan: Plan, progress: Progress, law: str | None) -> Reckoned:
    """Work out the batch as it stands.

    Parameters
    ----------
    recipe, blend, plan : what is being weighed
    law : an id of `core.catalog.label_law.label_laws`, or None to count no label slack
    """
    items = worklist(blend, plan)
    mixed = mixed_plan(batch_in_hand(recipe, items, progress), blend) if items else plan
    feed = np.array([mixed.feed.mg_per_l.get(name, 0.0) for name in NUTRIENTS])
    band = error_band(parts_of(blend, plan, items, progress, law), feed)
    rows = tuple(_band_row(row, band) for row in mixed.rows)
    whole = not any(one.now_g is None for one in differences(progress, items))
    repair = propose(bench_of(blend, plan, items, progress), wanted_of(plan)) if items and whole else None
    return Reckoned(items, mixed, rows, repair)


def bench_of(blend: Blend, plan: Plan, items: Sequence[ToWeigh], progress: Progress) -> Bench:
    """Return the batch as the repair sees it."""
    sources, volumes = _sources(blend), {tank.name: tank.volume_l for tank in plan.tanks}
    ratios = {tank.name: tank.ratio for tank in plan.tanks}
    fillings = tuple(
        Filling(
            tank=item.tank,
            entry_id=item.entry_id,
            planned_g=item.planned_g,
            weighed_g=weighed_g(progress, item),
            asked_g=_real_g(progress, item),
            step_g=item.step_g,
            brings_mg_per_l=_brings(sources[item.entry_id], item.planned_g, volumes[item.tank] * ratios[item.tank]),
            movable=not item.from_bottle,
        )
        for item in each(items)
        if item.planned_g > 0.0
    )
    litres = next(iter(volumes.values()))
    return Bench(fillings, volumes, {**volumes, **filled_volumes_l(progress, litres)}, _without_tanks(blend, items))


def wanted_of(plan: Plan) -> Wanted:
    """Return the ranges a plan's rows ask for."""
    low, high = np.full(len(NUTRIENTS), -np.inf), np.full(len(NUTRIENTS), np.inf)
    for row in plan.rows:
        low[ROW[row.nutrient]] = -math.inf if row.low_mg_per_l is None else row.low_mg_per_l
        high[ROW[row.nutrient]] = math.inf if row.high_mg_per_l is None else row.high_mg_per_l
    return Wanted(low, high)


def _real_g(progress: Progress, item: ToWeigh) -> float:
    inside = weighed_g(progress, item)
    return wanted_g(progress, item) if inside is None or to_add_g(progress, item) > 0.0 else inside


def _sources(blend: Blend) -> dict[str, Source]:
    return {source.key: source for source in blend.shelf.sources}


def _brings(source: Source, grams: float, feed_l: float) -> Array:
    brings: Array = source.brings * (1000.0 * grams / feed_l)
    return brings


def _without_tanks(blend: Blend, items: Sequence[ToWeigh]) -> Array:
    """What the feed holds beside the tanks: the water, and acid poured there."""
    held = {item.entry_id for item in each(items)}
    outside = np.array([source.key not in held for source in blend.shelf.sources])
    base: Array = blend.water_mg_per_l + blend.shelf.brings @ (blend.amounts_mg_per_l * outside)
    return base


def parts_of(blend: Blend, plan: Plan, items: Sequence[ToWeigh], progress: Progress, law: str | None) -> list[Part]:
    """Return everything that is weighed or poured, as the error band counts it."""
    sources = _sources(blend)
    bottles = {number: bottle for here in bottles_of(blend, plan).values() for number, bottle in here.items()}
    volume_l = next((tank.volume_l for tank in plan.tanks), 0.0)
    filled = {**{tank.name: tank.volume_l for tank in plan.tanks}, **filled_volumes_l(progress, volume_l)}
    ratios = {tank.name: tank.ratio for tank in plan.tanks}
    parts = []
    for item in each(items):
        source, grams = sources[item.entry_id], _real_g(progress, item)
        brings = _brings(source, grams, filled[item.tank] * ratios[item.tank])
        off = _off_percent(item, grams, bottles.get(item.from_bottle))
        parts.append(Part(item.tank, brings, label_shortfall_percent(source, law), off))
    held = {item.entry_id for item in each(items)}
    for source, mg_per_l in zip(blend.shelf.sources, blend.amounts_mg_per_l.tolist(), strict=True):
        if mg_per_l > 0.0 and source.key not in held:
            parts.append(Part("", source.brings * mg_per_l, label_shortfall_percent(source, law), POURED_PERCENT))
    return parts


def _off_percent(item: ToWeigh, grams: float, bottle: BottleFor | None) -> float:
    """How far a weight is off at most 19 times of 20 [%]."""
    if bottle is not None:
        dissolved = bottle.bottle.grams_to_dissolve[bottle.entry_ids.index(item.entry_id)]
        return math.hypot(weighing_percent(dissolved, bottle.scale.readability_g), POURED_PERCENT)
    if item.millilitres is not None:
        return POURED_PERCENT
    return weighing_percent(grams, item.step_g, len(item.loads_g))


def _band_row(row: NutrientRow, band: ErrorBand) -> BandRow:
    place = ROW[row.nutrient]
    return BandRow(
        row=row,
        low_mg_per_l=float(band.low_mg_per_l[place]),
        high_mg_per_l=float(band.high_mg_per_l[place]),
        label_mg_per_l=float(band.label_mg_per_l[place]),
        weighing_mg_per_l=float(band.weighing_mg_per_l[place]),
        volume_mg_per_l=float(band.volume_mg_per_l[place]),
        unlimited=bool(band.unlimited[place]),
    )
