"""What the blend and its feed give reason to say: one small function per question."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from typing import Any

from core.blend.alkalinity import is_acid
from core.blend.ammonium import ammonium_share_percent
from core.blend.nutrients import ROW
from core.blend.shelf import Source
from core.blend.solve import Blend, crop_ammonium_share_percent
from core.blend.strength import wanted_ec_ms_per_cm
from core.catalog import feed_limits, salts
from core.catalog.crops import highest_published_mg_per_l
from core.plan.acid_checks import alkalinity_cautions, crop_profile, ph_cautions
from core.plan.cautions import caution
from core.plan.charge import aim_charge_gap_percent
from core.plan.handling_checks import handling_cautions
from core.plan.label_checks import label_cautions
from core.plan.margins import over, under
from core.plan.records import Caution, Feed, NutrientRow
from core.plan.water_checks import GAP_PERCENT, water_cautions
from core.recipe.records import NITROGEN_FORMS, ShelfEntry, Target

CLOSE = 1e-3
"""Relative distance under which two amounts are the same to anyone at a bench."""


def aim_cautions(blend: Blend, rows: tuple[NutrientRow, ...]) -> Iterator[Caution]:
    """Targets missed, water over target, nitrogen and charge that contradict themselves."""
    for row in rows:
        if row.target_mg_per_l is None or row.verdict in ("met", "fine"):
            continue
        data: dict[str, Any] = {"nutrient": row.nutrient, "target_mg_per_l": row.target_mg_per_l}
        if row.verdict == "over" and row.high_mg_per_l is not None and over(row.water_mg_per_l, row.high_mg_per_l):
            yield caution("water-over-target", water_mg_per_l=row.water_mg_per_l, **data)
            continue
        data["percent"] = abs(row.feed_mg_per_l / row.target_mg_per_l - 1.0) * 100.0 if row.target_mg_per_l else 100.0
        data["feed_mg_per_l"] = row.feed_mg_per_l
        if row.verdict == "over":
            yield caution("target-over", **data)
        else:
            yield caution("target-short", because=_why_short(blend, row.nutrient), **data)
    yield from _nitrogen_contradiction({target.nutrient: target for target in blend.aim.targets})
    gap = aim_charge_gap_percent(blend)
    if gap is not None and over(abs(gap), GAP_PERCENT):
        yield caution("aim-charge-gap", gap_percent=abs(gap))


def _why_short(blend: Blend, nutrient: str) -> str:
    """Why a target is not reached: "no-source" on the shelf, "held" by what the recipe states, or the "rest"."""
    brings = blend.shelf.brings[ROW[nutrient]]
    sources = [(s, x) for s, x, b in zip(blend.shelf.sources, blend.amounts_mg_per_l, brings, strict=True) if b > 0.0]
    if not sources:
        return "no-source"
    return "held" if all(is_held(source.entry, float(amount)) for source, amount in sources) else "rest"


def is_held(entry: ShelfEntry, amount_mg_per_l: float) -> bool:
    """True where the recipe states this amount of a product, or lets in no more of it."""
    most = entry.at_most_mg_per_l
    return entry.exactly_mg_per_l is not None or (most is not None and not under(amount_mg_per_l, most))


def _nitrogen_contradiction(targets: dict[str, Target]) -> Iterator[Caution]:
    forms = [targets[name].mg_per_l for name in NITROGEN_FORMS if name in targets]
    if "N" not in targets or not forms:
        return
    total, parts = targets["N"].mg_per_l, sum(forms)
    complete = {"NO3-N", "NH4-N"} <= targets.keys()
    if over(parts, total * 1.01) or (complete and under(parts, total * 0.99)):
        yield caution("aim-nitrogen-contradiction", target_mg_per_l=total, sum_mg_per_l=parts)


def limit_cautions(blend: Blend) -> Iterator[Caution]:
    """Limits the aim wrote that the feed does not keep."""
    for row in blend.demands.limits:
        if row.code != "limit":
            continue
        feed = float(blend.nutrients_mg_per_l[ROW[row.about]])
        above, below = feed > row.asked * (1 + CLOSE) + 1e-6, feed < row.asked * (1 - CLOSE) - 1e-6
        if above if row.side == "at most" else below:
            alone = float(blend.water_mg_per_l[ROW[row.about]])
            impossible = row.side == "at least" or alone > row.asked * (1 + CLOSE)
            code = "limit-impossible" if impossible else "limit-missed"
            yield caution(code, nutrient=row.about, feed_mg_per_l=feed, limit_mg_per_l=row.asked)


def bound_cautions(blend: Blend) -> Iterator[Caution]:
    """Bounds written on a shelf entry that its amount does not keep."""
    for source, reached in zip(blend.shelf.sources, blend.amounts_mg_per_l.tolist(), strict=True):
        entry = source.entry
        least, most = entry.at_least_mg_per_l, entry.at_most_mg_per_l
        if least is not None and reached < least * (1 - CLOSE) - 1e-6:
            yield caution("bound-missed", entry_id=entry.key, amount_mg_per_l=reached, bound_mg_per_l=least)
        if most is not None and reached > most * (1 + CLOSE) + 1e-6:
            yield caution("bound-missed", entry_id=entry.key, amount_mg_per_l=reached, bound_mg_per_l=most)


def toxicity_cautions(blend: Blend) -> Iterator[Caution]:
    """Nutrients above what crops stand; sodium and chloride above what closed systems stand."""
    own = {limit.nutrient for limit in blend.aim.limits if limit.at_most_mg_per_l is not None}
    for limit in feed_limits():
        feed = float(blend.nutrients_mg_per_l[ROW[limit.nutrient]])
        if feed <= limit.at_most_mg_per_l * (1 + CLOSE):
            continue
        if limit.harm == "toxic":
            data = {"nutrient": limit.nutrient, "feed_mg_per_l": feed, "limit_mg_per_l": limit.at_most_mg_per_l}
            yield caution("toxic", **data)
        elif limit.nutrient not in own:
            code = "sodium-high" if limit.nutrient == "Na" else "chloride-high"
            yield caution(code, feed_mg_per_l=feed, limit_mg_per_l=limit.at_most_mg_per_l)


def published_cautions(blend: Blend) -> Iterator[Caution]:
    """Iron and molybdenum, for which no limit was found, above every feed the catalog holds: most likely a slip."""
    for nutrient in ("Fe", "Mo"):
        feed, most = float(blend.nutrients_mg_per_l[ROW[nutrient]]), highest_published_mg_per_l(nutrient)
        if feed > most * (1 + CLOSE):
            yield caution("above-published", nutrient=nutrient, feed_mg_per_l=feed, limit_mg_per_l=most)


def nitrogen_cautions(blend: Blend) -> Iterator[Caution]:
    """Too much nitrogen as ammonium; any as urea that nobody allowed."""
    reduced = float(blend.nutrients_mg_per_l[ROW["NH4-N"]] + blend.nutrients_mg_per_l[ROW["urea-N"]])
    total = float(blend.nutrients_mg_per_l[ROW["N"]])
    allowed = ammonium_share_percent(blend.aim, crop_ammonium_share_percent(blend.recipe))
    share = 100.0 * reduced / total if total > 0.0 else 0.0
    if share > allowed * (1 + CLOSE) + 1e-6:
        yield caution("ammonium-share", share_percent=share, limit_percent=allowed)
    urea = float(blend.nutrients_mg_per_l[ROW["urea-N"]])
    if urea > 0.0 and not blend.aim.urea:
        yield caution("urea-used", feed_mg_per_l=urea)


def feed_cautions(blend: Blend, feed: Feed) -> Iterator[Caution]:
    """pH, clouding, EC."""
    if feed.ec_ms_per_cm is None or feed.ph is None:
        yield caution("out-of-range")
        return
    yield from ph_cautions(blend, feed)
    if over(feed.saturation_index.get("brushite", -9.0), 0.0):
        yield caution("phosphate-clouds", ph=feed.ph)
    wanted = wanted_ec_ms_per_cm(blend.recipe, blend.water)
    if wanted is not None and over(abs(feed.ec_ms_per_cm - wanted), max(0.05, 0.04 * wanted)):
        yield caution("ec-aim-missed", feed_ms_per_cm=feed.ec_ms_per_cm, target_ms_per_cm=wanted)


def shelf_cautions(blend: Blend) -> Iterator[Caution]:
    """What was assumed of products, and how to handle them."""
    used = [source for source, _ in blend.used]
    for source in used:
        stated = source.entry.strength_percent is not None or source.entry.label_percent
        if is_acid(source) and not stated and source.strength_percent is not None:
            yield caution("acid-strength-assumed", salt=source.entry.salt, strength_percent=source.strength_percent)
    yield from _from_memory(blend, used)
    yield from handling_cautions(used)
    blends = [source.key for source in used if source.salt is None and not source.entry.mixed_mmol_per_g]
    if blends:
        yield caution("label-only", entry_ids=blends)
    if not used:
        yield caution("nothing-to-do")
    elif not blend.aim.targets:
        yield caution("exact-only")


def _from_memory(blend: Blend, used: list[Source]) -> Iterator[Caution]:
    """Contents and targets that rest on memory and that the grower has not replaced by her own label."""
    recalled = [s.entry.salt for s in used if s.salt is not None and not s.entry.label_percent and _recalled(s.salt.id)]
    if recalled:
        yield caution("memory-value", salts=recalled)
    profile = crop_profile(blend)
    if profile is not None and profile.known.how_known == "MEMORY":
        yield caution("memory-crop", crop=f"{profile.crop}, {profile.stage}")


@cache
def _recalled(salt_id: str) -> bool:
    salt = salts()[salt_id]
    decisive = "label_percent" if salt.label_percent else "solute_percent" if salt.solute_percent else "composition"
    return decisive in salt.known and salt.known[decisive].how_known == "MEMORY"


BLEND_CHECKS: tuple[Callable[[Blend], Iterator[Caution]], ...] = (
    limit_cautions,
    bound_cautions,
    toxicity_cautions,
    nitrogen_cautions,
    published_cautions,
    water_cautions,
    alkalinity_cautions,
    label_cautions,
    shelf_cautions,
)
