"""What the reports of the waters leave open or contradict; each water of a recipe is looked at by itself."""

from __future__ import annotations

from collections.abc import Iterator

from core.blend.solve import Blend
from core.blend.strength import analysed_ec_ms_per_cm
from core.blend.waters import alkalinity_meq_per_l, not_credited, water_totals, waters_of
from core.plan.cautions import caution
from core.plan.margins import over
from core.plan.records import Caution
from core.recipe.records import Water

GAP_PERCENT = 10.0
"""Charge gap worth a word, of the mean of cations and anions: 5 % of their sum, the usual laboratory check (MEMORY)."""

TELLS_MEQ_PER_L = 0.2
"""A report of less charge says nothing by its gap: rounding alone makes one (this program's own choice)."""

PURE_MS_PER_CM = 0.05
"""Up to here water is as good as pure: what is dissolved in it is under half a milliequivalent (own choice)."""

EC_APART_PERCENT = 15.0
"""How far the stated EC may be from the one the analysis makes (own choice: an EC pen in the field reads within 5 %,
15 °C read without compensation is 20 % low)."""


def water_cautions(blend: Blend) -> Iterator[Caution]:
    """What each water's report leaves open."""
    for which, water, _share in waters_of(blend.recipe):
        yield from _analysed(which, water) if water.mg_per_l else _unanalysed(which, water)


def _unanalysed(which: str, water: Water) -> Iterator[Caution]:
    if water.ec_ms_per_cm is None:
        yield caution("water-assumed-pure", which_water=which)
    elif water.ec_ms_per_cm > PURE_MS_PER_CM:
        yield caution("water-ec-only", which_water=which, stated_ms_per_cm=water.ec_ms_per_cm)


def _analysed(which: str, water: Water) -> Iterator[Caution]:
    counted = water_totals(water)
    if not_credited(water):
        yield caution("water-iron-not-counted", which_water=which, nutrients=list(not_credited(water)))
    if alkalinity_meq_per_l(water) is None:
        yield caution("alkalinity-unknown", which_water=which)
    if not counted.ph_agrees:
        yield caution("water-ph-contradiction", which_water=which, ph=water.ph, alkalinity_meq_per_l=counted.alkalinity)
    cations, anions = counted.charge, counted.charge - counted.gap
    if over(max(cations, anions), TELLS_MEQ_PER_L) and over(counted.gap_percent, GAP_PERCENT):
        yield caution(
            "water-charge-gap",
            which_water=which,
            cations_meq_per_l=cations,
            anions_meq_per_l=anions,
            gap_percent=counted.gap_percent,
        )
    yield from _ec_apart(which, water)


def _ec_apart(which: str, water: Water) -> Iterator[Caution]:
    """A stated EC that the analysis does not make: one of them is wrong, or something was not analysed."""
    stated = water.ec_ms_per_cm
    made = None if stated is None else analysed_ec_ms_per_cm(water)
    if stated is None or made is None:
        return
    apart = abs(stated - made)
    if over(apart, max(PURE_MS_PER_CM, EC_APART_PERCENT / 100.0 * stated)):
        yield caution("water-ec-contradiction", which_water=which, stated_ms_per_cm=stated, analysis_ms_per_cm=made)
