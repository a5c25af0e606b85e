"""How much alkalinity the feed keeps, and which acids or bases may see to it.

Alkalinity by formula counts every total in its reference form, phosphorus as H2PO4- and citrate without protons. What
an acid takes away is less clear-cut: phosphate gives off a little more than one proton at a feed's pH, citrate keeps
some of its three, fewer where calcium and magnesium hold it. So acids are counted by the protons their anions hold in
this very feed, and the alkalinity left counts them the same way.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

import numpy as np
from numpy.typing import NDArray

from core.blend.nutrients import COLUMN, ROW, Array, read_only
from core.blend.shelf import Shelf, Source
from core.recipe.records import Aim

if TYPE_CHECKING:
    from core.blend.demands import Demands

USUAL_RESIDUAL_MEQ_PER_L = 0.5
"""Alkalinity left in the feed when the aim says nothing (greenhouse practice, trade page on nitric acid; READ:
"leave 0.5 meq/L")."""

COUNTED_PH = (4.5, 7.0)
"""Range of pH in which acids are counted before the feed itself is known (own choice: a start, not a result)."""

CLOSE_MEQ_PER_L = 1e-4
"""Alkalinities this close are the same: a tenth of a millilitre of strong acid in 10 L."""

HOLDERS = ("P", "citrate")
"""Totals of acids whose anions hold or give off protons within a feed's range of pH."""


@dataclass(frozen=True)
class AcidUse:
    """How acids count and which of the shelf's acids and bases may be used.

    Attributes
    ----------
    held : total -> protons an anion of an acid holds beyond its reference form [mol/mol]; what is missing counts by
        formula
    serve : "acid" brings the alkalinity down to the goal, "base" up to it, "none" has the salts keep to it, "free" lets
        them bring what they will; None decides by what water and fixed amounts bring
    salts_at_most_meq_per_l : the most alkalinity salts may bring beside an acid: what they bring without it. The acid
        that undoes it follows from the row, so the two cannot contradict each other
    aside_meq_per_l : alkalinity that traces (see `set_aside`) are expected to bring; their columns are no part of the
        row, or a sour chelate would be taken for an acid and borax for a base
    """

    held: Mapping[str, float] = field(default_factory=dict)
    serve: Literal["acid", "base", "none", "free"] | None = None
    salts_at_most_meq_per_l: float = math.inf
    aside_meq_per_l: float = 0.0


BY_FORMULA = AcidUse()


@dataclass(frozen=True, eq=False)
class AlkalinityRow:
    """The alkalinity row of one solve.

    Attributes
    ----------
    coefficients : (n_sources,) ndarray [meq per mg]
    exactly, at_most : float or None [meq/L], the row's right-hand side; both None for no row
    excluded : shelf columns that must not be used
    goal : float or None [meq/L], what the feed should keep
    notes : codes of what could not be done as asked
    """

    coefficients: Array
    exactly: float | None
    at_most: float | None
    excluded: frozenset[int]
    goal: float | None
    notes: tuple[str, ...] = ()


def is_base(source: Source) -> bool:
    """True for hydroxides, carbonates and lime: what only ever serves alkalinity."""
    return source.kind == "base"


def is_acid(source: Source) -> bool:
    """True for acids."""
    return source.kind == "acid"


def is_free(source: Source) -> bool:
    """True where the recipe leaves the amount to the solve."""
    return source.entry.exactly_mg_per_l is None


def residual_goal(aim: Aim, water_alkalinity: float, *, acid_on_shelf: bool) -> float | None:
    """Alkalinity the feed should keep [meq/L]: the aim's, else at most the usual residual where there is an acid."""
    if aim.residual_alkalinity_meq_per_l is not None:
        return aim.residual_alkalinity_meq_per_l
    return min(water_alkalinity, USUAL_RESIDUAL_MEQ_PER_L) if acid_on_shelf else None


def counting_ph(aim: Aim, goal: float | None, carbon_mmol_per_l: float) -> float:
    """The pH at which acids are first counted: the aim's, else this water's with its alkalinity brought down.

    Closed carbonate balance, pK1 6.35 at 25 °C (Plummer & Busenberg 1982, READ): pH = pK1 + log(HCO3/CO2).
    """
    if aim.ph is not None:
        return aim.ph
    free_co2 = carbon_mmol_per_l - (goal or 0.0)
    if not goal or goal <= 0.0 or free_co2 <= 0.0:
        return COUNTED_PH[0]
    least = 10.0 ** (COUNTED_PH[0] - 6.35)
    return min(6.35 + math.log10(max(goal / free_co2, least)), COUNTED_PH[1])


@lru_cache(maxsize=256)
def _protons(total: str, ph: float) -> float:
    from core.chemistry import protons_gained_per_mol

    return float(protons_gained_per_mol(total, ph)[0])


def held_at(shelf: Shelf, ph: float) -> dict[str, float]:
    """Protons the anions of the shelf's acids hold at a pH, without the metals of the feed [mol/mol]."""
    acids = [shelf.sources[i] for i in shelf.of_kind("acid")]
    return {t: _protons(t, round(ph, 3)) for t in HOLDERS if any(s.totals[COLUMN[t]] > 0.0 for s in acids)}


ROUND_OFF_MEQ_PER_L = 1e-6
"""What a programme may be off by."""

NEUTRAL_MEQ_PER_MG = 1e-9
"""Less than this is round-off of a neutral product's charges; real acids and bases bring 1e-3 and more."""


def coefficients(shelf: Shelf, held: Mapping[str, float]) -> Array:
    """Alkalinity per mg of each source, (n_sources,) [meq/mg]; acids as much of it as their anions give off.

    held : protons per total, as `AcidUse`
    """
    return _coefficients(shelf, tuple(held.items()))


@lru_cache(maxsize=64)
def _coefficients(shelf: Shelf, held: tuple[tuple[str, float], ...]) -> Array:
    counted = np.where(np.abs(shelf.alkalinity) < NEUTRAL_MEQ_PER_MG, 0.0, shelf.alkalinity)
    for index in shelf.of_kind("acid"):
        totals = shelf.sources[index].totals
        counted[index] += sum(protons * totals[COLUMN[total]] for total, protons in held)
    read_only(counted)
    return counted


def set_aside(aim: Aim, shelf: Shelf, use: AcidUse) -> NDArray[np.bool_]:
    """Which columns bring alkalinity only by the way, (n_sources,): traces whose amount is solved for.

    And silicate where silicon is aimed at, which does not come without its alkalinity, unless acid answers for it.
    """
    silicate = use.serve != "acid" and any(t.nutrient == "Si" and t.mg_per_l > 0.0 for t in aim.targets)
    return _aside(shelf, silicate)


@lru_cache(maxsize=64)
def _aside(shelf: Shelf, silicate: bool) -> NDArray[np.bool_]:
    aside = [is_free(s) and (is_minor(s) or (silicate and s.kind == "silicate")) for s in shelf.sources]
    return np.array(aside, dtype=bool)


def is_minor(source: Source) -> bool:
    """True for a product bought for a trace element, none of the acids and bases."""
    return source.is_trace and not is_acid(source) and not is_base(source)


def aside_meq_per_l(aim: Aim, shelf: Shelf, amounts_mg_per_l: Array, use: AcidUse) -> float:
    """Alkalinity that what is set aside brings [meq/L]."""
    return float(shelf.alkalinity @ (amounts_mg_per_l * set_aside(aim, shelf, use)))


def aside_expected(aim: Aim, shelf: Shelf, base_mg_per_l: Array, use: AcidUse) -> float:
    """Alkalinity that what is set aside will bring, where each target has one source to come from [meq/L].

    base_mg_per_l : (n_nutrients,) ndarray, what water and fixed amounts hold
    """
    expected, aside = 0.0, set_aside(aim, shelf, use)
    for target in aim.targets:
        row = ROW[target.nutrient]
        source = shelf.sole_source.get(row)
        if source is not None and aside[source]:
            missing = max(target.mg_per_l - float(base_mg_per_l[row]), 0.0)
            expected += float(shelf.alkalinity[source]) * missing / float(shelf.brings[row, source])
    return expected


def acid_meq_per_l(shelf: Shelf, amounts_mg_per_l: Array, held: Mapping[str, float]) -> float:
    """Alkalinity that the acids of a blend take away [meq/L]."""
    return -float((coefficients(shelf, held) * amounts_mg_per_l)[list(shelf.of_kind("acid"))].sum())


def alkalinity_left(shelf: Shelf, amounts_mg_per_l: Array, water_alkalinity: float, held: Mapping[str, float]) -> float:
    """Alkalinity of a feed with its acids counted by what they give off [meq/L]."""
    return water_alkalinity + float(coefficients(shelf, held) @ amounts_mg_per_l)


def free_acids(aim: Aim, shelf: Shelf) -> frozenset[int]:
    """Columns of the acids a solve may use: not fixed, no urea where none is allowed, no base fixed beside them."""
    urea_allowed = aim.urea or any(t.nutrient == "urea-N" and t.mg_per_l > 0.0 for t in aim.targets)
    if any(shelf.sources[i].entry.exactly_mg_per_l for i in shelf.of_kind("base")):
        return frozenset()
    acids = [(i, shelf.sources[i]) for i in shelf.of_kind("acid")]
    return frozenset(i for i, s in acids if is_free(s) and (urea_allowed or s.brings[ROW["urea-N"]] == 0.0))


def free_bases(shelf: Shelf) -> frozenset[int]:
    """Columns of the bases a solve may use: not fixed, no acid fixed beside them."""
    if any(shelf.sources[i].entry.exactly_mg_per_l for i in shelf.of_kind("acid")):
        return frozenset()
    return frozenset(i for i in shelf.of_kind("base") if is_free(shelf.sources[i]))


def alkalinity_row(
    aim: Aim, shelf: Shelf, water_alkalinity: float, base_alkalinity: float, use: AcidUse, *, has_targets: bool
) -> AlkalinityRow:
    """Decide the alkalinity row.

    Acid and base never work together, bases only where the aim asks for more than there is, acids only where there is
    more than the aim wants to keep.

    Parameters
    ----------
    water_alkalinity, base_alkalinity : float [meq/L], of the water, and of the water with the fixed amounts by formula
    use : how acids count, and what may serve
    has_targets : bool, False for a recipe of exact amounts only, which is left alone unless the aim names a residual
    """
    acids, bases = free_acids(aim, shelf), free_bases(shelf)
    never = frozenset(i for i in (*shelf.of_kind("acid"), *shelf.of_kind("base")) if is_free(shelf.sources[i]))
    counted = coefficients(shelf, use.held)
    goal, stated = residual_goal(aim, water_alkalinity, acid_on_shelf=bool(acids)), aim.residual_alkalinity_meq_per_l
    if goal is None or (not has_targets and stated is None):
        return AlkalinityRow(counted, None, None, never, goal)
    # the row counts from the base by formula; what fixed acids hold back and traces bring moves to its right-hand side
    held_back = float((counted - shelf.alkalinity) @ shelf.fixed_mg_per_l)
    known = held_back + use.aside_meq_per_l
    base = base_alkalinity + known
    counted = np.where(set_aside(aim, shelf, use), 0.0, counted)
    serve = use.serve or ("acid" if acids and base > goal else "base" if bases and base < goal else "none")
    if serve == "acid" and acids:
        return AlkalinityRow(counted, goal - known, None, never - acids, goal)
    if serve == "base" and bases and stated is not None:
        return AlkalinityRow(counted, goal - known, None, never - bases, goal)
    if serve == "free":
        return AlkalinityRow(counted, None, None, never, goal)
    notes = ("no-acid",) if base > goal and not any(is_acid(source) for source in shelf.sources) else ()
    # what stands above the goal stays there where nothing takes it away; beside an acid only what is not worth dosing
    most = max(goal, base if not acids else min(base, goal + CLOSE_MEQ_PER_L))
    return AlkalinityRow(counted, None, most - known, never, goal, notes)


def salts_meq_per_mg(aim: Aim, shelf: Shelf) -> Array:
    """Alkalinity per mg of what is neither acid nor set aside beside one, (n_sources,) [meq/mg]."""
    others = set_aside(aim, shelf, AcidUse(serve="acid")).copy()
    others[list(shelf.of_kind("acid"))] = True
    return np.where(others, 0.0, coefficients(shelf, {}))


def with_salts_at_most(demands: Demands, aim: Aim, shelf: Shelf, use: AcidUse) -> Demands:
    """The same demands with the alkalinity of the salts held to the most they may bring beside an acid.

    Where the rows ask for more, as a limit on the acid's own nutrient may, they may bring that.
    """
    if math.isinf(use.salts_at_most_meq_per_l):
        return demands
    from core.blend.demands import LimitRow

    row = salts_meq_per_mg(aim, shelf)[demands.free]
    bound = max(use.salts_at_most_meq_per_l, _least(row, demands))
    problem = replace(
        demands.problem,
        g=np.vstack([demands.problem.g, row[None]]),
        g_rhs=np.append(demands.problem.g_rhs, bound),
    )
    goal = demands.alkalinity_goal or 0.0
    limit = LimitRow("alkalinity", "alkalinity", "at most", goal, goal)
    return replace(demands, problem=problem, limits=(*demands.limits, limit))


def _least(row: Array, demands: Demands) -> float:
    """The least of a row of the free columns under the rows and limits of a solve; -inf where they cannot be kept."""
    from core.blend.programme import load, minimise
    from core.blend.ranges import limit_rows

    size = float(np.abs(row).max(initial=0.0)) or 1.0
    found = minimise(load(limit_rows(demands)), row / size)
    return -math.inf if found is None else float(row @ found) + ROUND_OFF_MEQ_PER_L
