"""What the tanks and the scales give reason to say."""

from __future__ import annotations

from collections.abc import Iterator

from core.bench.weighing import Weighing
from core.blend.solve import Blend
from core.catalog import salts
from core.plan.cautions import caution
from core.plan.margins import over
from core.plan.records import Caution, Cost, Tank
from core.recipe.records import TankSetup
from core.tanks import TankPlan
from core.tanks.solubility import known_by

CHELATE_IN_ACID = "chelate-acid"
TABULATED_C = (0.0, 40.0)
"""Temperatures the solubilities of concentrates are tabulated for; beyond them the nearer end is used."""


def tank_cautions(blend: Blend, tanks: tuple[Tank, ...], plans: tuple[TankPlan, ...]) -> Iterator[Caution]:
    """Tanks that settle, now or on a cold night, or stand too close to it; rules of compatibility that are broken."""
    setup = blend.recipe.tanks
    coldest = setup.temperature_c if setup.coldest_c is None else min(setup.coldest_c, setup.temperature_c)
    for tank, plan in zip(tanks, plans, strict=True):
        solids = list(tank.settling) or ([tank.limited_by] if tank.limited_by else [])
        if tank.verdict == "settles":
            yield caution("settles", content=tank.content, solids=solids)
        elif tank.cold_verdict == "settles":
            yield caution("cold-store", content=tank.content, solids=solids, coldest_c=coldest)
        elif tank.beyond_model and not tank.settling:
            yield caution("tank-beyond-model", content=tank.content, ratio=tank.ratio, clear_ratio=tank.clear_ratio)
        elif "doubtful" in (tank.verdict, tank.cold_verdict):
            yield caution("doubtful-tank", content=tank.content, solids=solids)
        if tank.ratio_limit is not None and over(tank.ratio, tank.ratio_limit) and tank.verdict != "clear":
            yield caution("strength-too-high", content=tank.content, ratio=tank.ratio, ratio_limit=tank.ratio_limit)
        yield from _broken_rules(tank, plan)
        if tank.content == "silicate":
            yield caution("silicate-first")
    if tanks:
        yield from _store_cautions(setup)
        unknown = sorted({c.salt for tank in tanks for c in tank.contents if known_by(c.salt) == "unknown"})
        if unknown:
            yield caution("solubility-unknown", salts=unknown)


def _broken_rules(tank: Tank, plan: TankPlan) -> Iterator[Caution]:
    """Every rule of compatibility that is broken in a tank, with the products that break it."""
    salt_of = {content.entry_id: content.salt for content in tank.contents}
    for rule, keys in zip(plan.broken, plan.breakers, strict=True):
        salts = list(dict.fromkeys(salt_of[key] for key in keys))
        if rule == CHELATE_IN_ACID:
            yield caution(rule, salts=[salt for salt in salts if _is_chelate(salt)])
        else:
            yield caution(rule, content=tank.content, salts=salts)


def _store_cautions(setup: TankSetup) -> Iterator[Caution]:
    """A coldest night that was not stated, is no coldest, or lies where no solubility is known."""
    coldest_c = setup.coldest_c
    if coldest_c is None:
        yield caution("coldest-assumed", coldest_c=setup.temperature_c)
    elif coldest_c > setup.temperature_c:
        yield caution("coldest-warmer", coldest_c=coldest_c, temperature_c=setup.temperature_c)
    low_c, high_c = TABULATED_C
    for temperature_c in dict.fromkeys((setup.temperature_c, setup.temperature_c if coldest_c is None else coldest_c)):
        if not low_c <= temperature_c <= high_c:
            yield caution("tank-temperature", temperature_c=temperature_c, low_c=low_c, high_c=high_c)


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
