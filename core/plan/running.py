"""A feed that runs: what its injector really gives, and how much of a closed loop must be let go."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from core.bench.injector import bleed_share, injector_share, ratio_from_share
from core.blend.nutrients import COLUMN
from core.catalog.closed_loop import Ballast, ClosedLoop, closed_loops
from core.plan.feed_contents import conductivities_ms_per_cm
from core.plan.feed_tanks import FeedTanks

FINE_SHARE, CHECK_SHARE = 0.03, 0.10
"""How far an injector may be off before it is to be looked at, and before anything else is done (this program's own
choice; common practice lets pass 0.02 to 0.03 mS/cm)."""

MEQ_PER_MMOL = 1.0
"""Sodium and chloride carry one charge."""


class InjectorAnswer(Struct, frozen=True):
    """What an injector gives: share of what it is set to, the ratio in use beside the one set, and how that is."""

    share: float
    set_ratio: float
    true_ratio: float
    expected_rise_ms_per_cm: float
    verdict: Literal["fine", "check", "off", "nothing"]


class Bleed(Struct, frozen=True):
    """Share of the inflow to let go for an ion so that it stays at its limit; None where nothing holds it."""

    ion: Ballast
    inflow_meq_per_l: float
    uptake_meq_per_l: float
    most_meq_per_l: float
    share: float | None


def planned_rise_ms_per_cm(tanks: FeedTanks) -> float:
    """Return the EC that the tanks add behind an injector set to the planned ratio [mS/cm]."""
    dose = tanks.dose_l(1.0, 1.0)
    full = tanks.poured(tanks.of_water(max(1.0 - sum(dose.values()), 0.1)), dose)
    water, feed = conductivities_ms_per_cm((tanks.of_water(1.0), full)).tolist()
    return float(feed - water)


def injector_answer(
    tanks: FeedTanks, hose_ms_per_cm: float, water_ms_per_cm: float, expected_rise_ms_per_cm: float | None = None
) -> InjectorAnswer:
    """Judge an injector by the EC of hose and water [mS/cm].

    expected_rise_ms_per_cm : what the concentrates should add at the ratio set; None for the forecast of these tanks
    """
    rise = planned_rise_ms_per_cm(tanks) if expected_rise_ms_per_cm is None else expected_rise_ms_per_cm
    ratio = tanks.recipe.tanks.ratio
    share = injector_share(hose_ms_per_cm, water_ms_per_cm, rise)
    if not share > 0.0:
        return InjectorAnswer(share, ratio, 0.0, rise, "nothing")
    off = abs(share - 1.0)
    verdict: Literal["fine", "check", "off"] = "fine" if off <= FINE_SHARE else "check" if off <= CHECK_SHARE else "off"
    return InjectorAnswer(share, ratio, ratio_from_share(ratio, share), rise, verdict)


def inflow_meq_per_l(tanks: FeedTanks) -> dict[Ballast, float]:
    """Return the sodium and chloride that come in with the feed, water and salts together [meq/L]."""
    dose = tanks.dose_l(1.0, 1.0)
    full = tanks.poured(tanks.with_first_acid(tanks.of_water(max(1.0 - sum(dose.values()), 0.1)), 1.0), dose)
    return {ion: MEQ_PER_MMOL * float(full.totals[COLUMN[ion]]) for ion in ("Na", "Cl")}


def bleeds(inflow: dict[Ballast, float], loop: ClosedLoop) -> tuple[Bleed, ...]:
    """Return the share to let go for sodium and for chloride.

    inflow : of each [meq/L], see `inflow_meq_per_l`
    loop : what the crop takes and stands, from the catalog or typed
    """
    found = []
    for ion, amount in inflow.items():
        uptake, most = loop.uptake_meq_per_l[ion], loop.most_meq_per_l[ion]
        share = bleed_share(amount, uptake, most)
        found.append(Bleed(ion, amount, uptake, most, share if share < 1.0 else None))
    return tuple(found)


def loop_for(crop: str) -> ClosedLoop:
    """Return the figures of a crop, those of the first one listed where there are none."""
    return next((one for one in closed_loops() if one.crop == crop), closed_loops()[0])
