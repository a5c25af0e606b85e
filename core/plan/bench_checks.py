"""What the tanks and the scales give reason to say."""

from __future__ import annotations

from collections.abc import Iterator

from core.bench.weighing import Weighing
from core.blend.solve import Blend
from core.catalog import salts
from core.plan.cautions import caution
from core.plan.records import Caution, Cost, Tank
from core.tanks import TankPlan

CHELATE_IN_ACID = "chelate-acid"


def tank_cautions(blend: Blend, tanks: tuple[Tank, ...], plans: tuple[TankPlan, ...]) -> Iterator[Caution]:
    """Tanks that settle, now or on a cold night, or stand too close to it; chelates beside strong acid."""
    setup = blend.recipe.tanks
    coldest = setup.temperature_c if setup.coldest_c is None else setup.coldest_c
    for tank, plan in zip(tanks, plans, strict=True):
        solids = list(tank.settling) or ([tank.limited_by] if tank.limited_by else [])
        if tank.verdict == "settles":
            yield caution("settles", content=tank.content, solids=solids)
        elif tank.cold_verdict == "settles":
            yield caution("cold-store", content=tank.content, solids=solids, coldest_c=coldest)
        elif "doubtful" in (tank.verdict, tank.cold_verdict):
            yield caution("doubtful-tank", content=tank.content, solids=solids)
        if tank.ratio_limit is not None and tank.ratio > tank.ratio_limit and tank.verdict != "clear":
            yield caution("strength-too-high", content=tank.content, ratio=tank.ratio, ratio_limit=tank.ratio_limit)
        if CHELATE_IN_ACID in plan.broken:
            yield caution("chelate-acid", salts=[c.salt for c in tank.contents if _is_chelate(c.salt)])
        if tank.content == "silicate":
            yield caution("silicate-first")
    if setup.coldest_c is None and tanks:
        yield caution("coldest-assumed", coldest_c=coldest)


def _is_chelate(salt_id: str) -> bool:
    return salt_id in salts() and salts()[salt_id].chelate is not None


def weighing_cautions(
    blend: Blend, tanks: tuple[Tank, ...], weighings: tuple[tuple[Weighing, ...], ...]
) -> Iterator[Caution]:
    """Weights too small or too large for the scales at hand."""
    if not blend.recipe.batch.scales and tanks:
        yield caution("scale-assumed")
    tiny = []
    for tank, weighed in zip(tanks, weighings, strict=True):
        for content, weighing in zip(tank.contents, weighed, strict=True):
            if weighing.advice == "trace-bottle":
                tiny.append(content.salt)
            elif weighing.advice == "check" and weighing.scale is not None:
                step = weighing.scale.readability_g
                data = {"weight_g": weighing.grams, "readability_g": step, "percent": 50.0 * step / weighing.grams}
                yield caution("scale-coarse", salt=content.salt, **data)
            if len(weighing.loads_g) > 1 and weighing.scale is not None:
                data = {"weight_g": weighing.grams, "capacity_g": weighing.scale.capacity_g}
                yield caution("scale-capacity", salt=content.salt, **data)
    if tiny:
        yield caution("scale-trace", salts=tiny)


def cost_cautions(cost: Cost) -> Iterator[Caution]:
    """Products in the blend without a price, where others have one."""
    if cost.missing and cost.per_1000_l is not None:
        yield caution("price-missing", entry_ids=list(cost.missing))
