"""The amounts of a blend as the plan lists them, with where each goes."""

from __future__ import annotations

from functools import lru_cache

from core.bench.quantities import feed_from_tank_l
from core.blend.alkalinity import is_acid
from core.blend.shelf import Source
from core.blend.solve import Blend
from core.plan.acid_checks import is_hard
from core.plan.records import Amount
from core.recipe.records import NUTRIENTS
from core.tanks import TankPlan


def acid_place(blend: Blend) -> str:
    """Where the acid goes: as the recipe says, else first into hard water and last into a reservoir of soft water."""
    if blend.recipe.acid_into is not None:
        return blend.recipe.acid_into
    return "water" if is_hard(blend.water.alkalinity) else "reservoir"


def amounts_of(blend: Blend, tanks: tuple[TankPlan, ...]) -> tuple[Amount, ...]:
    """Every used entry: macros by mass, traces after them, in shelf order among equals."""
    shares: dict[str, dict[str, float]] = {}
    for tank in tanks:
        for content in tank.contents:
            shares.setdefault(content.key, {})[tank.name] = content.share
    outside = acid_place(blend)
    feed_l = feed_from_tank_l(blend.recipe.batch.tank_volume_l, blend.recipe.tanks.ratio)
    used = []
    for source, amount in blend.used:
        own = shares.get(source.key, {})
        place = max(own, key=lambda name: own[name]) if own else (outside if is_acid(source) else None)
        density = source.density_kg_per_l
        used.append(
            Amount(
                entry_id=source.key,
                salt=source.entry.salt,
                mg_per_l=amount,
                ml_per_l=None if density is None else amount / density / 1000.0,
                tank=place,
                shares=own,
                brings_mg_per_l={nutrient: per_mg * amount for nutrient, per_mg in brings_of(source)},
                alkalinity_meq_per_l=float(source.alkalinity * amount),
                # of a tank already mixed only what is dissolved in a litre is known, which is no density
                density_kg_per_l=density if source.entry.mixed_g_per_l is None else None,
                ml_per_1000_l=None if density is None else amount / density,
                ml_per_filling=None if density is None else amount / density / 1000.0 * feed_l,
                strength_percent=source.strength_percent if is_acid(source) else None,
                fixed=source.entry.exactly_mg_per_l is not None,
            )
        )
    return tuple(sorted(used, key=lambda a: (a.tank not in ("water", "reservoir"), -a.mg_per_l)))


def unused_of(blend: Blend) -> tuple[str, ...]:
    """Keys of the shelf entries the blend does without."""
    amounts = blend.amounts_mg_per_l.tolist()
    return tuple([s.key for s, x in zip(blend.shelf.sources, amounts, strict=True) if x <= 0.0])


@lru_cache(maxsize=512)
def brings_of(source: Source) -> tuple[tuple[str, float], ...]:
    """What a milligram of a product brings, by nutrient [mg]."""
    return tuple([(n, b) for n, b in zip(NUTRIENTS, source.brings.tolist(), strict=True) if b > 0.0])
