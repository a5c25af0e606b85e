"""Trace bottles for the small weights of one tank: which weights want one, and which may share it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from core.bench.steps import TRACE_METALS, Content, group_of
from core.bench.trace_bottle import TraceBottle, plan_trace_bottle, wants_trace_bottle
from core.bench.weighing import LEAST_DIVISIONS
from core.catalog import salts, solubility_g_per_l
from core.recipe.records import Scale

if TYPE_CHECKING:
    from core.blend.shelf import Source
    from core.blend.solve import Blend

ROOM_C = 20.0
BOTTLE_ML = 1000.0
LEAST_SHARE = 0.05
"""A product that brings less of a nutrient than this share of the feed's is not weighed for it."""


@dataclass(frozen=True)
class Serves:
    """What a product is weighed for: the nutrient's tolerance [%], and the share of it this product brings (0 to 1)."""

    tolerance_percent: float
    share: float


@dataclass(frozen=True)
class BottleFor:
    """A bottle and the entries it holds, in the order of its weights; `scale` is the one it is weighed on."""

    entry_ids: tuple[str, ...]
    bottle: TraceBottle
    scale: Scale


def trace_products(blend: Blend) -> dict[str, Serves]:
    """Return the used products that are bought for a trace nutrient, with the one whose tolerance is strictest.

    The tolerance is the aim's where it names the nutrient, else the usual one.
    """
    used = zip(blend.shelf.sources, blend.amounts_mg_per_l.tolist(), strict=True)
    found = {source.key: _serves(blend, source, amount) for source, amount in used if amount > 0.0 and source.is_trace}
    return {key: serves for key, serves in found.items() if serves is not None}


def bottles_for(
    contents: Sequence[Content], scales: Sequence[Scale], serves: Mapping[str, Serves]
) -> tuple[BottleFor, ...]:
    """Return the bottles this tank's small weights want; none without a scale.

    Sulfates of trace metals and boron share a bottle, as they stay dissolved together at this strength; molybdate,
    chelates and anything else stand alone.

    Parameters
    ----------
    contents : what the tank holds
    scales : the scales at hand
    serves : entry -> what it is weighed for; entries left out want no bottle
    """
    if not scales:
        return ()
    finest = min(scales, key=lambda scale: scale.readability_g)
    groups: dict[str, list[Content]] = {}
    for content in contents:
        served = serves.get(content.entry_id)
        if served is not None and _wants(content, finest, served):
            groups.setdefault(_bottle_of(content), []).append(content)
    return tuple(_bottle(members, finest, serves) for members in groups.values())


def _serves(blend: Blend, source: Source, amount_mg_per_l: float) -> Serves | None:
    from core.blend.demands import DEFAULT_TOLERANCE_PERCENT, target_row
    from core.blend.nutrients import ROW

    targets = {target.nutrient: target_row(target) for target in blend.aim.targets if target.mg_per_l > 0.0}
    choices = []
    for name in TRACE_METALS:
        feed = float(blend.nutrients_mg_per_l[ROW[name]])
        share = amount_mg_per_l * float(source.brings[ROW[name]]) / feed if feed > 0.0 else 0.0
        tolerance = min(DEFAULT_TOLERANCE_PERCENT[name])
        if name in targets:
            row = targets[name]
            tolerance = 100.0 * min(row.target - row.low, row.high - row.target) / row.target
        if share >= LEAST_SHARE and tolerance > 0.0:
            choices.append(Serves(tolerance, min(share, 1.0)))
    return min(choices, key=lambda serves: serves.tolerance_percent / serves.share, default=None)


def _wants(content: Content, scale: Scale, served: Serves) -> bool:
    coarse = content.grams < LEAST_DIVISIONS * scale.readability_g
    return coarse or wants_trace_bottle(content.grams, scale.readability_g, served.tolerance_percent, served.share)


def _bottle_of(content: Content) -> str:
    item = salts().get(content.salt)
    together = item is not None and group_of(content.salt) == "cup" and "Mo" not in item.elements
    return "metals and boron" if together else content.entry_id


def _bottle(members: list[Content], scale: Scale, serves: Mapping[str, Serves]) -> BottleFor:
    wanted = [serves[content.entry_id] for content in members]
    bottle = plan_trace_bottle(
        [content.grams for content in members],
        scale.readability_g,
        [one.tolerance_percent / one.share for one in wanted],
        BOTTLE_ML,
        [solubility_g_per_l(salts()[c.salt], ROOM_C) if c.salt in salts() else None for c in members],
    )
    return BottleFor(tuple(content.entry_id for content in members), bottle, scale)
