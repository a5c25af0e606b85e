"""The tanks of a plan: what stands in each, what it weighs on her scales, and whether it stays clear."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.bench.quantities import grams_for_tank, millilitres, ml_per_l_of_feed
from core.bench.rounding import change_percent, weigh_together
from core.bench.weighing import Weighing
from core.blend.alkalinity import is_acid
from core.blend.nutrients import Array
from core.blend.shelf import Source
from core.blend.solve import Blend
from core.chemistry.concentrates.strength import injector_step, strength_limit
from core.plan.amounts import acid_place
from core.plan.records import Tank, TankContent, WeighedOn
from core.recipe.records import NUTRIENTS, Recipe
from core.tanks import Item, TankPlan, item_of, split

NOTICED_PERCENT = 0.05
"""Rounding that moves a nutrient by less than this is not listed."""


def tank_items(blend: Blend) -> tuple[Item, ...]:
    """The products that go into tanks; acid only where the recipe puts it there."""
    in_tank = acid_place(blend) == "tank"
    return tuple(
        item_of(source.key, source.salt, float(amount) / 1000.0, source.totals * float(amount) / 1000.0)
        for source, amount in zip(blend.shelf.sources, blend.amounts_mg_per_l, strict=True)
        if amount > 0.0 and (in_tank or not is_acid(source))
    )


def split_blend(blend: Blend) -> tuple[TankPlan, ...]:
    """Split a blend into its recipe's tanks."""
    setup = blend.recipe.tanks
    coldest = setup.temperature_c if setup.coldest_c is None else setup.coldest_c
    return split(tank_items(blend), setup.count, setup.ratio, setup.temperature_c, coldest, setup.pins)


@dataclass(frozen=True)
class Strength:
    """How strong one tank may be in the coldest room; None where nothing comes out before the model ends."""

    ratio_limit: float | None
    limited_by: str | None
    clear_ratio: float | None


def strengths(blend: Blend, plans: tuple[TankPlan, ...]) -> tuple[Strength, ...]:
    """Find the strength limit of every tank, filled with pure water."""
    if not plans:
        return ()
    items = {item.key: np.array(item.ions) for item in tank_items(blend)}
    contents = np.stack([sum(p.share * items[p.key] for p in plan.contents) for plan in plans], axis=1)
    setup = blend.recipe.tanks
    coldest = setup.temperature_c if setup.coldest_c is None else min(setup.coldest_c, setup.temperature_c)
    found = strength_limit(contents, (coldest,))
    return tuple(
        Strength(_finite(found.saturated_ratio[0, i]), found.limited_by[0][i], _finite(found.clear_ratio[0, i]))
        for i in range(len(plans))
    )


def _finite(ratio: float) -> float | None:
    return float(ratio) if np.isfinite(ratio) else None


def tanks_of(blend: Blend, plans: tuple[TankPlan, ...]) -> tuple[tuple[Tank, ...], tuple[tuple[Weighing, ...], ...]]:
    """The tanks with their weights, and the weighings behind them in the same order."""
    sources = {source.key: place for place, source in enumerate(blend.shelf.sources)}
    tanks, weighings = [], []
    for plan, strength in zip(plans, strengths(blend, plans), strict=True):
        parts = [_part(blend, sources[place.key], place.share) for place in plan.contents]
        weighed = _weigh(blend, parts)
        contents = _contents(blend, parts, weighed)
        tanks.append(_tank(blend.recipe, plan, contents, strength))
        weighings.append(weighed)
    return tuple(tanks), tuple(weighings)


def _part(blend: Blend, index: int, share: float) -> tuple[Source, float]:
    """A source and how much of it this tank takes [mg per litre of finished feed]."""
    return blend.shelf.sources[index], float(blend.amounts_mg_per_l[index]) * share


def _weigh(blend: Blend, parts: list[tuple[Source, float]]) -> tuple[Weighing, ...]:
    recipe = blend.recipe
    grams = [grams_for_tank(mg, recipe.tanks.ratio, recipe.batch.tank_volume_l) for _, mg in parts]
    return weigh_together(grams, recipe.batch.scales, _brings(parts), blend.nutrients_mg_per_l)


def _brings(parts: list[tuple[Source, float]]) -> Array:
    return np.array([source.brings * mg for source, mg in parts]).reshape(len(parts), len(NUTRIENTS))


def _contents(
    blend: Blend, parts: list[tuple[Source, float]], weighed: tuple[Weighing, ...]
) -> tuple[TankContent, ...]:
    changes = change_percent(weighed, _brings(parts), blend.nutrients_mg_per_l)
    contents = []
    for (source, _), weighing, change in zip(parts, weighed, changes, strict=True):
        scale = None if weighing.scale is None else WeighedOn(weighing.scale.capacity_g, weighing.scale.readability_g)
        noticed = {n: float(c) for n, c in zip(NUTRIENTS, change, strict=True) if abs(c) >= NOTICED_PERCENT}
        density = source.density_kg_per_l
        volume = None if density is None else millilitres(weighing.grams, density)
        contents.append(
            TankContent(source.key, source.entry.salt, weighing.grams, weighing.grams_to_weigh, scale, volume, noticed)
        )
    return tuple(contents)


def _tank(recipe: Recipe, plan: TankPlan, contents: tuple[TankContent, ...], strength: Strength) -> Tank:
    ratio = recipe.tanks.ratio
    return Tank(
        name=plan.name,
        content=plan.content,
        ratio=ratio,
        volume_l=recipe.batch.tank_volume_l,
        ml_per_l=ml_per_l_of_feed(ratio),
        contents=contents,
        verdict=plan.verdict,
        cold_verdict=plan.cold_verdict,
        ratio_limit=strength.ratio_limit,
        limited_by=strength.limited_by or plan.limited_by,
        clear_ratio=strength.clear_ratio,
        injector_step=None if strength.clear_ratio is None else injector_step(strength.clear_ratio),
        fullness=None if strength.ratio_limit is None else ratio / strength.ratio_limit,
        settling=plan.settling,
        reasons=tuple(place.reason for place in plan.contents),
        broken=plan.broken,
    )
