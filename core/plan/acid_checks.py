"""What there is to say of a feed's alkalinity and pH, and of the acid or base that serves them."""

from __future__ import annotations

from collections.abc import Iterator

from core.blend.alkalinity import USUAL_RESIDUAL_MEQ_PER_L, free_acids, free_bases, is_acid
from core.blend.serving import steers_ph
from core.blend.solve import Blend
from core.catalog import CropProfile, crops
from core.plan.cautions import caution
from core.plan.margins import over, under
from core.plan.records import Caution, Feed

PH_RANGE = (4.5, 7.0)
"""Where the closed feed's pH gives no reason for a word (this program's own choice)."""

PH_EXTREME = (3.0, 9.0)
"""Beyond these a feed burns roots or throws down what it holds (this program's own choice)."""

PH_CLOSE = 0.05
"""A forecast this near to the pH aimed for has met it: meters tell no less (own choice)."""

CROP_PH_WIDTH = 0.6
"""A crop's range of pH counts as at least this wide: growers hold pH to 0.3 (DERIVED), and some sources print one
figure."""

UNBUFFERED_MEQ_PER_L = 0.3
"""Alkalinity under which a feed hardly holds its pH (this program's own choice)."""

HARD_WATER_MEQ_PER_L = 1.5
"""Alkalinity above which acid goes into the water first (FAO 29: no restriction below 1.5 meq/L HCO3, READ)."""

CLOSE_MEQ_PER_L = 0.02
"""Distance from the alkalinity wanted that nobody would notice: 1 mg/L as CaCO3 (this program's own choice)."""


SHOWN_MEQ_PER_L = 1e-3
"""Alkalinity is told no finer than this, and what traces bring is foreseen to a tenth of it."""

SHOWN_PH = 0.005
"""Half of the last digit a pH is told with; a pH steered to the end of a range is in it."""


def is_hard(alkalinity_meq_per_l: float) -> bool:
    """True for water so hard that acid goes into it before anything else."""
    return over(alkalinity_meq_per_l, HARD_WATER_MEQ_PER_L)


def alkalinity_cautions(blend: Blend) -> Iterator[Caution]:
    """Alkalinity left over or short, acid that is missing, feeds that hold no pH."""
    goal, left, water = blend.demands.alkalinity_goal, blend.alkalinity_left, blend.water.alkalinity
    hard = is_hard(min(water, left)) and blend.amounts_mg_per_l.any()
    unserved = goal is None and hard and not acids_used(blend)
    if unserved and any(is_acid(source) for source in blend.shelf.sources):
        yield caution("alkalinity-left", alkalinity_meq_per_l=left, target_meq_per_l=USUAL_RESIDUAL_MEQ_PER_L)
    elif unserved or "no-acid" in blend.demands.notes:
        yield caution("no-acid", alkalinity_meq_per_l=left)
    if goal is not None and not steers_ph(blend.aim, blend.shelf):
        yield from _against_goal(blend, goal, left)
    if under(left, UNBUFFERED_MEQ_PER_L, SHOWN_MEQ_PER_L) and blend.amounts_mg_per_l.any():
        yield caution("soft-water")


def _against_goal(blend: Blend, goal: float, left: float) -> Iterator[Caution]:
    stated = blend.aim.residual_alkalinity_meq_per_l is not None
    if over(left, goal + CLOSE_MEQ_PER_L):
        if stated or "no-acid" not in blend.demands.notes:
            yield caution("alkalinity-left", alkalinity_meq_per_l=left, target_meq_per_l=goal)
    elif under(left, goal - CLOSE_MEQ_PER_L) and acids_used(blend):
        yield caution("alkalinity-short", alkalinity_meq_per_l=left, target_meq_per_l=goal)
    elif over(blend.water.alkalinity - goal, 0.05) and acids_used(blend):
        yield caution("acid-needed", alkalinity_meq_per_l=blend.water.alkalinity, target_meq_per_l=goal)
    elif stated and under(left, goal - CLOSE_MEQ_PER_L):
        yield caution("base-not-asked", short_meq_per_l=goal - left)


def acids_used(blend: Blend) -> list[str]:
    """Keys of the acids in the blend."""
    return [source.key for source, _ in blend.used if is_acid(source)]


def ph_cautions(blend: Blend, feed: Feed) -> Iterator[Caution]:
    """A pH that harms, that hinders, that this crop is not used to, or that is not the one aimed for."""
    if feed.ph is None or not blend.amounts_mg_per_l.any():
        return
    (low, high), (lowest, highest), profile = PH_RANGE, PH_EXTREME, crop_profile(blend)
    if _out_of(feed.ph, lowest, highest):
        yield caution("ph-extreme", ph=feed.ph)
    elif _out_of(feed.ph, low, high):
        yield caution("ph-out-of-range", ph=feed.ph, low_ph=low, high_ph=high)
    elif profile is not None and profile.ph_low is not None and profile.ph_high is not None:
        spare = max(CROP_PH_WIDTH - (profile.ph_high - profile.ph_low), 0.0) / 2.0
        if _out_of(feed.ph, profile.ph_low - spare, profile.ph_high + spare):
            named = f"{profile.crop}, {profile.stage}"
            yield caution("crop-ph", crop=named, ph=feed.ph, low_ph=profile.ph_low, high_ph=profile.ph_high)
    wanted = blend.aim.ph
    if wanted is not None and over(abs(feed.ph - wanted), PH_CLOSE):
        yield caution("ph-aim-missed", ph=feed.ph, target_ph=wanted, why=_why_missed(blend, feed.ph, wanted))


def _out_of(ph: float, low: float, high: float) -> bool:
    return not low - SHOWN_PH <= ph <= high + SHOWN_PH


def crop_profile(blend: Blend) -> CropProfile | None:
    """The catalog profile the aim was taken from, if any."""
    return next((one for one in crops() if one.id == blend.aim.crop), None) if blend.aim.crop else None


def _why_missed(blend: Blend, ph: float, wanted: float) -> str:
    """Why a pH was missed: "residual", "no-acid", "no-base", "rounds" or "held-back"."""
    if blend.aim.residual_alkalinity_meq_per_l is not None:
        return "residual"
    if not blend.settled:
        return "rounds"
    helpers = free_acids(blend.aim, blend.shelf) if ph > wanted else free_bases(blend.shelf)
    if not helpers:
        return "no-acid" if ph > wanted else "no-base"
    return "held-back"
