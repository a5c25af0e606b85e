"""What the blend and its feed give reason to say: one small function per question."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from core.blend.alkalinity import is_acid
from core.blend.demands import ammonium_share_percent
from core.blend.nutrients import ROW
from core.blend.shelf import Source
from core.blend.solve import Blend, crop_ammonium_share_percent
from core.blend.waters import alkalinity_meq_per_l
from core.catalog import Salt, crops, feed_limits
from core.plan.cautions import caution
from core.plan.charge import aim_charge_gap_percent
from core.plan.records import Caution, Feed, NutrientRow
from core.recipe.records import Target

CLOSE = 1e-3
"""Relative distance under which two amounts are the same to anyone at a bench."""

GAP_PERCENT = 5.0
"""Charge gap of a water report or an aim worth a word (usual laboratory check: within 5 %)."""

PH_RANGE = (4.5, 7.0)
"""Where the closed feed's pH gives no reason for a word when the aim's crop names no range."""

UNBUFFERED_MEQ_PER_L = 0.3
"""Alkalinity under which a feed hardly holds its pH (this program's own choice)."""

HARD_WATER_MEQ_PER_L = 1.5
"""Alkalinity above which acid goes into the water first (FAO 29: no restriction below 1.5 meq/L HCO3, READ)."""


def aim_cautions(blend: Blend, rows: tuple[NutrientRow, ...]) -> Iterator[Caution]:
    """Targets missed, water over target, nitrogen and charge that contradict themselves."""
    for row in rows:
        if row.target_mg_per_l is None or row.verdict in ("met", "fine"):
            continue
        data = {"nutrient": row.nutrient, "target_mg_per_l": row.target_mg_per_l}
        if row.verdict == "over" and row.high_mg_per_l is not None and row.water_mg_per_l > row.high_mg_per_l:
            yield caution("water-over-target", water_mg_per_l=row.water_mg_per_l, **data)
            continue
        code = "target-short" if row.verdict == "short" else "target-over"
        percent = abs(row.feed_mg_per_l / row.target_mg_per_l - 1.0) * 100.0 if row.target_mg_per_l else 100.0
        yield caution(code, feed_mg_per_l=row.feed_mg_per_l, percent=percent, **data)
    yield from _nitrogen_contradiction({target.nutrient: target for target in blend.aim.targets})
    gap = aim_charge_gap_percent(blend)
    if gap is not None and abs(gap) > GAP_PERCENT:
        yield caution("aim-charge-gap", gap_percent=abs(gap))


def _nitrogen_contradiction(targets: dict[str, Target]) -> Iterator[Caution]:
    forms = [targets[name].mg_per_l for name in ("NO3-N", "NH4-N", "urea-N") if name in targets]
    if "N" not in targets or not forms:
        return
    total, parts = targets["N"].mg_per_l, sum(forms)
    complete = {"NO3-N", "NH4-N"} <= targets.keys()
    if parts > total * 1.01 or (complete and parts < total * 0.99):
        yield caution("aim-nitrogen-contradiction", target_mg_per_l=total, sum_mg_per_l=parts)


def limit_cautions(blend: Blend) -> Iterator[Caution]:
    """Limits the aim wrote that the feed does not keep."""
    for row in blend.demands.limits:
        if row.code != "limit":
            continue
        feed = float(blend.nutrients_mg_per_l[ROW[row.about]])
        over, under = feed > row.asked * (1 + CLOSE) + 1e-6, feed < row.asked * (1 - CLOSE) - 1e-6
        if over if row.side == "at most" else under:
            alone = float(blend.water_mg_per_l[ROW[row.about]])
            impossible = row.side == "at least" or alone > row.asked * (1 + CLOSE)
            code = "limit-impossible" if impossible else "limit-missed"
            yield caution(code, nutrient=row.about, feed_mg_per_l=feed, limit_mg_per_l=row.asked)


def bound_cautions(blend: Blend) -> Iterator[Caution]:
    """Bounds written on a shelf entry that its amount does not keep."""
    for source, amount in zip(blend.shelf.sources, blend.amounts_mg_per_l, strict=True):
        entry, reached = source.entry, float(amount)
        for bound, missed in (
            (entry.at_least_mg_per_l, reached < (entry.at_least_mg_per_l or 0.0) * (1 - CLOSE) - 1e-6),
            (entry.at_most_mg_per_l, reached > (entry.at_most_mg_per_l or 0.0) * (1 + CLOSE) + 1e-6),
        ):
            if bound is not None and missed:
                yield caution("bound-missed", entry_id=entry.key, amount_mg_per_l=reached, bound_mg_per_l=bound)


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


def water_cautions(blend: Blend) -> Iterator[Caution]:
    """What the water report leaves open."""
    water = blend.recipe.water
    if not water.mg_per_l and not water.name:
        yield caution("water-assumed-pure")
    if water.mg_per_l and alkalinity_meq_per_l(water) is None:
        yield caution("alkalinity-unknown")
    if not blend.water.ph_agrees:
        yield caution("water-ph-contradiction", ph=water.ph, alkalinity_meq_per_l=blend.water.alkalinity)
    gap, charge = abs(blend.water.gap), blend.water.charge
    if water.mg_per_l and charge > 0.2 and 100.0 * gap / (2.0 * charge) > GAP_PERCENT:
        yield caution("water-charge-gap", gap_percent=100.0 * gap / (2.0 * charge))


def alkalinity_cautions(blend: Blend) -> Iterator[Caution]:
    """Alkalinity left over, acid that is missing, feeds that hold no pH."""
    goal, left, water = blend.demands.alkalinity_goal, _alkalinity_by_row(blend), blend.water.alkalinity
    if "no-acid" in blend.demands.notes or (
        goal is None and min(water, left) > HARD_WATER_MEQ_PER_L and not acids_used(blend)
    ):
        yield caution("no-acid", alkalinity_meq_per_l=left)
    if goal is not None and left > goal + 0.02:
        if blend.aim.residual_alkalinity_meq_per_l is not None or "no-acid" not in blend.demands.notes:
            yield caution("alkalinity-left", alkalinity_meq_per_l=left, target_meq_per_l=goal)
    elif goal is not None and water - goal > 0.05 and acids_used(blend):
        yield caution("acid-needed", alkalinity_meq_per_l=water, target_meq_per_l=goal)
    elif (
        blend.aim.residual_alkalinity_meq_per_l is not None and goal is not None and water > 0.0 and left < goal - 0.02
    ):
        yield caution("base-not-asked", short_meq_per_l=goal - left)
    if left < UNBUFFERED_MEQ_PER_L and blend.amounts_mg_per_l.any():
        yield caution("soft-water")


def _alkalinity_by_row(blend: Blend) -> float:
    """Alkalinity of the feed as the solve counted it: acids by what they give at the pH they are counted at [meq/L]."""
    problem, goal = blend.demands.problem, blend.demands.alkalinity_goal
    if goal is None or not problem.e.shape[0]:
        return blend.alkalinity
    free = blend.amounts_mg_per_l[blend.demands.free]
    return goal + float(problem.e[0] @ free - problem.e_rhs[0])


def acids_used(blend: Blend) -> list[str]:
    """Keys of the acids in the blend."""
    return [s.key for s, x in zip(blend.shelf.sources, blend.amounts_mg_per_l, strict=True) if x > 0.0 and is_acid(s)]


def feed_cautions(blend: Blend, feed: Feed) -> Iterator[Caution]:
    """pH, clouding, EC."""
    if feed.ec_ms_per_cm is None or feed.ph is None:
        yield caution("out-of-range")
        return
    low, high = PH_RANGE
    if blend.amounts_mg_per_l.any() and not low <= feed.ph <= high:
        yield caution("ph-out-of-range", ph=feed.ph, low_ph=low, high_ph=high)
    if feed.saturation_index.get("brushite", -9.0) > 0.0:
        yield caution("phosphate-clouds", ph=feed.ph)
    wanted = blend.recipe.aim.ec_ms_per_cm
    if wanted is not None and blend.recipe.aim.ec_is_rise_over_water:
        wanted += feed.water_ec_ms_per_cm or 0.0
    if wanted is not None and abs(feed.ec_ms_per_cm - wanted) > max(0.05, 0.04 * wanted):
        yield caution("ec-aim-missed", feed_ms_per_cm=feed.ec_ms_per_cm, target_ms_per_cm=wanted)


def shelf_cautions(blend: Blend) -> Iterator[Caution]:
    """What was assumed of products, and how to handle them."""
    used = [s for s, x in zip(blend.shelf.sources, blend.amounts_mg_per_l, strict=True) if x > 0.0]
    for source in used:
        if is_acid(source) and source.entry.strength_percent is None and source.strength_percent is not None:
            yield caution("acid-strength-assumed", salt=source.entry.salt, strength_percent=source.strength_percent)
    yield from _from_memory(blend, used)
    acids = [source.entry.salt for source in used if is_acid(source)]
    if acids:
        yield caution("acid-handling", salts=acids)
    oxidisers = [source.entry.salt for source in used if source.salt is not None and source.salt.oxidiser]
    if oxidisers:
        yield caution("oxidiser-handling", salts=oxidisers)
    blends = [source.key for source in used if source.salt is None]
    if blends:
        yield caution("label-only", entry_ids=blends)
    if not used:
        yield caution("nothing-to-do")
    elif not blend.aim.targets:
        yield caution("exact-only")


def _from_memory(blend: Blend, used: list[Source]) -> Iterator[Caution]:
    """Contents and targets that rest on memory and that the grower has not replaced by her own label."""
    recalled = [s.entry.salt for s in used if s.salt is not None and not s.entry.label_percent and _recalled(s.salt)]
    if recalled:
        yield caution("memory-value", salts=recalled)
    profile = next((profile for profile in crops() if profile.id == blend.aim.crop), None) if blend.aim.crop else None
    if profile is not None and profile.known.how_known == "MEMORY":
        yield caution("memory-crop", crop=f"{profile.crop}, {profile.stage}")


def _recalled(salt: Salt) -> bool:
    decisive = "label_percent" if salt.label_percent else "solute_percent" if salt.solute_percent else "composition"
    return decisive in salt.known and salt.known[decisive].how_known == "MEMORY"


BLEND_CHECKS: tuple[Callable[[Blend], Iterator[Caution]], ...] = (
    limit_cautions,
    bound_cautions,
    toxicity_cautions,
    nitrogen_cautions,
    water_cautions,
    alkalinity_cautions,
    shelf_cautions,
)
