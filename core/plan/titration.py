"""A titration of this very feed: what an acid or a base does to its pH, closed and aired, dose by dose.

Where the blend holds the product, the feed is taken without it, so the curve begins at the first drop and passes the
blend's own point on its way; where it does not, without all the blend's acids (or bases), which it then stands in for.
Worked out only when somebody looks at it.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
from msgspec import Struct

from core.blend.alkalinity import is_acid, is_base
from core.blend.nutrients import Array
from core.blend.shelf import Source, source_of
from core.blend.solve import Blend
from core.chemistry import Speciation, saturation_indices
from core.plan.chemistry_details import closed_and_aired
from core.recipe.records import Recipe, ShelfEntry

POINTS = 61
SEARCHED = 25
SEARCHED_MEQ_PER_L = 3.0
"""How far beyond the alkalinity doses are looked at to find where the curve should end."""

ROUND_OFF = 1e-9
"""What is left of a total beside this share of it was not there."""

ABSENT = -20.0
"""Stands for the saturation index of a solid one of whose ions is not there."""

ACID_END_PH, BASE_END_PH = 4.0, 8.5
"""Closed pH at which the curve ends: nobody goes beyond on purpose."""


class Titration(Struct, frozen=True):
    """The curve, one value per dose; doses in mL of a liquid or g of a solid per 1000 L of feed, as `unit` says.

    `brushite`, `brushite_aired`: saturation index of calcium phosphate; None where it cannot form at any dose.
    `planned_dose`: what the blend holds of this product, None where it holds none. `alkalinity_meq_per_l` by formula,
    before the first dose; `ph_planned`: closed and aired pH of the blend as it is; `ph_wanted`: the aim's, if any.
    """

    acid_id: str
    strength_percent: float | None
    is_base: bool
    unit: Literal["mL", "g"]
    dose_per_1000_l: tuple[float, ...]
    ph_closed: tuple[float, ...]
    ph_aired: tuple[float, ...]
    brushite: tuple[float, ...] | None
    brushite_aired: tuple[float, ...] | None
    planned_dose: float | None
    ph_planned: tuple[float, float]
    ph_wanted: float | None
    alkalinity_meq_per_l: float

    @property
    def ml_per_1000_l(self) -> tuple[float, ...] | None:
        """Doses of a liquid [mL per 1000 L]; None for a solid."""
        return self.dose_per_1000_l if self.unit == "mL" else None

    def dose_for(self, ph_closed: float) -> float | None:
        """Dose that brings the closed feed to a pH; None where the curve does not pass it."""
        ph, dose = np.array(self.ph_closed), np.array(self.dose_per_1000_l)
        if not ph.min() <= ph_closed <= ph.max():
            return None
        rising = ph[-1] > ph[0]
        return float(np.interp(ph_closed, ph if rising else ph[::-1], dose if rising else dose[::-1]))

    def at(self, dose: float) -> tuple[float, float]:
        """Closed and aired pH at a dose within the curve."""
        doses = self.dose_per_1000_l
        return float(np.interp(dose, doses, self.ph_closed)), float(np.interp(dose, doses, self.ph_aired))


def titration(recipe: Recipe, blend: Blend, acid_id: str, strength: float | None = None) -> Titration:
    """Titrate the blend's feed.

    Parameters
    ----------
    recipe : Recipe the blend was solved for
    acid_id : a shelf entry's key or a catalog id, of an acid or a base
    strength : float [% by mass]; None for the entry's own, or what it is usually sold at

    Raises
    ------
    OutOfRange : the feed is outside what the chemistry holds for.
    ValueError : the product is neither an acid nor a base.
    """
    source = _source(recipe, acid_id, strength)
    totals, alkalinity, planned = _without(blend, source)
    mg_per_unit = 1000.0 if source.density_kg_per_l is None else 1000.0 * source.density_kg_per_l
    most = max(_last_dose(source, totals, alkalinity, blend.water.temperature_c), 1.15 * planned)
    amounts = np.linspace(0.0, most, POINTS)
    if planned:  # so that the curve passes the blend's own point, not a straight line near it
        amounts[np.abs(amounts - planned).argmin()] = planned
    found = _dosed(source, totals, alkalinity, amounts, blend.water.temperature_c)
    ours = closed_and_aired(blend.totals[:, None], np.array([blend.alkalinity]), blend.water.temperature_c)
    brushite = np.maximum(saturation_indices(found)["brushite"], ABSENT)
    present = bool((brushite > ABSENT).any())
    return Titration(
        acid_id=acid_id,
        strength_percent=source.strength_percent,
        is_base=is_base(source),
        unit="g" if source.density_kg_per_l is None else "mL",
        dose_per_1000_l=_plain(1000.0 * amounts / mg_per_unit),
        ph_closed=_plain(found.ph[:POINTS]),
        ph_aired=_plain(found.ph[POINTS:]),
        brushite=_plain(brushite[:POINTS]) if present else None,
        brushite_aired=_plain(brushite[POINTS:]) if present else None,
        planned_dose=1000.0 * planned / mg_per_unit if planned else None,
        ph_planned=(float(ours.ph[0]), float(ours.ph[1])),
        ph_wanted=blend.aim.ph,
        alkalinity_meq_per_l=alkalinity,
    )


def _plain(values: Array) -> tuple[float, ...]:
    return tuple(values.tolist())


def _source(recipe: Recipe, acid_id: str, strength: float | None) -> Source:
    entry = next((one for one in recipe.shelf if one.key == acid_id), None)
    if entry is None or (strength is not None and strength != entry.strength_percent):
        salt = acid_id if entry is None else entry.salt
        entry = ShelfEntry(salt=salt, strength_percent=strength)
    source = source_of(entry)
    if not (is_acid(source) or is_base(source)) or source.alkalinity == 0.0:
        raise ValueError(f"{acid_id} is neither an acid nor a base.")
    return source


def _without(blend: Blend, source: Source) -> tuple[Array, float, float]:
    """Totals [mmol/L] and alkalinity [meq/L] before the first drop; and the blend's own dose of the product [mg/L]."""
    same_kind = is_base if is_base(source) else is_acid
    used = zip(blend.shelf.sources, blend.amounts_mg_per_l.tolist(), strict=True)
    rivals = [(one, amount) for one, amount in used if amount > 0.0 and same_kind(one)]
    own = [(one, amount) for one, amount in rivals if _same(one, source)]
    totals, alkalinity = blend.totals.copy(), blend.alkalinity
    for one, amount in own or rivals:
        totals -= one.totals * amount
        alkalinity -= one.alkalinity * amount
    totals[totals < ROUND_OFF * blend.totals] = 0.0
    return totals, alkalinity, sum(amount for _, amount in own)


def _same(one: Source, source: Source) -> bool:
    return (one.entry.salt, one.strength_percent) == (source.entry.salt, source.strength_percent)


def _dosed(
    source: Source, totals: Array, alkalinity: float, amounts_mg_per_l: Array, temperature_c: float
) -> Speciation:
    columns = totals[:, None] + source.totals[:, None] * amounts_mg_per_l
    return closed_and_aired(columns, alkalinity + source.alkalinity * amounts_mg_per_l, temperature_c)


def _last_dose(source: Source, totals: Array, alkalinity: float, temperature_c: float) -> float:
    """Dose [mg/L] at which the closed feed passes the pH the curve should end at."""
    reach = SEARCHED_MEQ_PER_L + (max(alkalinity, 0.0) if source.alkalinity < 0.0 else max(-alkalinity, 0.0))
    amounts = np.linspace(0.0, 1.5 * reach / abs(source.alkalinity), SEARCHED)
    ph = _dosed(source, totals, alkalinity, amounts, temperature_c).ph[:SEARCHED]
    sign, end = (-1.0, ACID_END_PH) if source.alkalinity < 0.0 else (1.0, BASE_END_PH)
    beyond = np.flatnonzero(sign * ph > sign * end)
    if not len(beyond):
        return float(amounts[-1])
    last = max(int(beyond[0]), 1)
    return float(np.interp(sign * end, sign * ph[last - 1 : last + 1], amounts[last - 1 : last + 1]))
