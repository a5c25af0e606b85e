"""A diary replayed by mass balance: what a reservoir holds after each entry, and how far the meter is from that."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from core.blend.nutrients import ATOMS, COLUMN, MG_PER_MMOL, ROW, Array, close_with_inert
from core.blend.strength import alkalinity_at_ph
from core.blend.waters import HCO3_MG_PER_MEQ
from core.catalog import ATOMIC_WEIGHTS
from core.logbook.moves import Doubt, Move, moves
from core.logbook.records import Entry, Logbook, Reservoir
from core.logbook.stores import NOTHING, Amounts, Stores
from core.plan.feed_contents import Contents, look
from core.recipe.records import NUTRIENTS

Basis = Literal["", "filled", "analysis", "assumed"]

PH_HOLDS_SHARE = 0.05
"""Once the crop has used more than this share of the volume since the alkalinity was known, no pH is foretold: what
roots take changes it (this program's own choice)."""

_NITROGEN = {"NO3": 1, "NH4": 1, "urea": 2}


@dataclass(frozen=True, eq=False)
class Foretold:
    """What a reservoir holds after one entry.

    Attributes
    ----------
    move : the entry by volume
    basis : what the contents were counted from last: a filling, an analysis, or a feed assumed from an EC reading;
        "" where nothing is known
    anchored : whether that happened at this very entry
    contents : the solution, None where nothing is known
    mg_per_l : nutrient -> concentration, empty where nothing is known
    ec_ms_per_cm : at 25 degC, None where nothing is known or outside the chemistry's range
    step_ec_ms_per_cm : the same, counted from the reading before rather than from the beginning
    ph, ph_aired : fresh, and at rest with the air; None where the alkalinity is not known
    residual_percent, step_residual_percent : reading over forecast, less one; None without either
    """

    move: Move
    basis: Basis
    anchored: bool
    contents: Contents | None
    mg_per_l: dict[str, float]
    ec_ms_per_cm: float | None
    step_ec_ms_per_cm: float | None
    ph: float | None
    ph_aired: float | None
    residual_percent: float | None
    step_residual_percent: float | None

    @property
    def doubts(self) -> tuple[Doubt, ...]:
        """What does not add up in the volumes, or had to be assumed."""
        return self.move.doubts


@dataclass(frozen=True, eq=False)
class _State:
    """Amounts in the reservoir, None where unknown; how much of them the crop has had water from since the anchor."""

    amounts: Amounts | None
    basis: Basis = ""
    anchored: bool = False
    used_share: float = 0.0
    ph_known: bool = False


def forecast(
    logbook: Logbook, reservoir: Reservoir, uptake_mg_per_l: dict[str, float] | None = None
) -> tuple[Foretold, ...]:
    """Replay a reservoir's diary.

    Salts stay, water is used; a filling from empty begins anew and a laboratory analysis sets right what it names.
    A diary that begins with a reservoir in use begins at its first EC reading, with the batch's feed at that EC.

    Parameters
    ----------
    logbook : Logbook that holds the batches
    reservoir : Reservoir of it
    uptake_mg_per_l : nutrient -> what the crop takes per litre of water it uses [mg/L]; None counts none

    Returns
    -------
    Foretold of every entry.
    """
    stores, steps = Stores(logbook, reservoir), moves(reservoir)
    taken = uptake_mmol_per_l(uptake_mg_per_l or {})
    states = _replayed(stores, steps, taken)
    return _told(stores, steps, states)


def uptake_mmol_per_l(uptake_mg_per_l: dict[str, float]) -> Array:
    """Return an uptake as totals, (n_components,) ndarray [mmol/L]; nitrogen without a form is nitrate."""
    taken = np.zeros(len(COLUMN))
    forms = {"NO3-N", "NH4-N", "urea-N"} & uptake_mg_per_l.keys()
    for nutrient, mg_per_l in uptake_mg_per_l.items():
        if nutrient != "N" or not forms:
            column, weight = _counted_in(nutrient)
            taken[column] += mg_per_l / weight
    return taken


def _replayed(stores: Stores, steps: tuple[Move, ...], taken: Array) -> list[_State]:
    states: list[_State] = []
    state = _State(None)
    for index, (entry, move) in enumerate(zip(stores.reservoir.entries, steps, strict=True)):
        state = _after(stores, index, entry, move, replace(state, anchored=False), taken)
        state = _set_right(stores, index, entry, move, state)
        states.append(state)
    return states


def _after(stores: Stores, index: int, entry: Entry, move: Move, state: _State, taken: Array) -> _State:
    """The state once water was used, drained and added."""
    if entry.fresh:
        if entry.parts_ml or entry.acid_ml or entry.water_l:
            return _State(stores.added(index, move.added_l), "filled", True, 0.0, True)
        return _State(None)  # a level alone does not say what it was filled with
    if state.amounts is None:
        return state
    used = move.used_l or 0.0
    left = Amounts(
        state.amounts.volume_l, np.maximum(state.amounts.totals - used * taken, 0.0), state.amounts.alkalinity
    )
    whole = left.times(move.kept_share).plus(stores.added(index, move.added_l + move.unlogged_l))
    share = state.used_share + (used / move.before_l if move.before_l else 0.0)
    return replace(state, amounts=replace(whole, volume_l=move.after_l), used_share=share)


def _set_right(stores: Stores, index: int, entry: Entry, move: Move, state: _State) -> _State:
    """The state after a laboratory's report, or after the first reading of a reservoir nothing was known of."""
    if move.after_l <= 0.0:
        return state
    if entry.analysis_mg_per_l:
        known = _known_before(stores, index, entry, move, state)
        if known is None:  # a few nutrients are no feed, and EC from them alone would be far too low
            return state
        contents, ph_known = analysed(entry, known)
        amounts = Amounts(move.after_l, contents.totals * move.after_l, contents.alkalinity * move.after_l)
        return _State(amounts, "analysis", True, 0.0, ph_known)
    if state.amounts is None and entry.ec_ms_per_cm is not None:
        feed = stores.feed_of_ec(index, entry.ec_ms_per_cm)
        if feed is not None:
            amounts = Amounts(move.after_l, feed.totals * move.after_l, feed.alkalinity * move.after_l)
            return _State(amounts, "assumed", True)
    return state


def _known_before(stores: Stores, index: int, entry: Entry, move: Move, state: _State) -> Contents | None:
    """What a report is put on top of; where nothing was known and it names too little, a feed of the EC read."""
    if state.amounts is not None or _is_whole(entry):
        return (state.amounts or NOTHING).contents(move.after_l, stores.temperature_c(index))
    return None if entry.ec_ms_per_cm is None else stores.feed_of_ec(index, entry.ec_ms_per_cm)


def _is_whole(entry: Entry) -> bool:
    """Whether a report names all that carries a feed's EC, but for what balances its charge."""
    named = entry.analysis_mg_per_l.keys()
    return bool({"N", "NO3-N"} & named) and {"K", "Ca", "Mg", "S"} <= named


def analysed(entry: Entry, known: Contents) -> tuple[Contents, bool]:
    """Return the contents as a laboratory found them, and whether its alkalinity is known.

    What the report does not name stays as it was counted; a total of nitrogen without forms keeps their shares.
    """
    totals = known.totals.copy()
    report = dict(entry.analysis_mg_per_l)
    for nutrient, mg_per_l in report.items():
        if nutrient == "N" and not {"NO3-N", "NH4-N", "urea-N"} & report.keys():
            _set_nitrogen(totals, mg_per_l)
        elif nutrient != "N":
            _set_total(totals, nutrient, mg_per_l)
    totals[COLUMN["inert+"]] = totals[COLUMN["inert-"]] = 0.0
    alkalinity, ph_known = known.alkalinity, False
    if entry.hco3_mg_per_l is not None:
        alkalinity, ph_known = entry.hco3_mg_per_l / HCO3_MG_PER_MEQ, True
    elif entry.ph is not None:
        found = alkalinity_at_ph(totals, entry.ph, known.temperature_c)
        alkalinity, ph_known = (alkalinity, False) if found is None else (found, True)
    close_with_inert(totals, alkalinity)
    return replace(known, totals=totals, alkalinity=alkalinity), ph_known


def _set_nitrogen(totals: Array, mg_per_l: float) -> None:
    wanted = mg_per_l / ATOMIC_WEIGHTS["N"]
    held = sum(atoms * totals[COLUMN[name]] for name, atoms in _NITROGEN.items())
    if held > 0.0:
        for name in _NITROGEN:
            totals[COLUMN[name]] *= wanted / held
    else:
        totals[COLUMN["NO3"]] = wanted


def _set_total(totals: Array, nutrient: str, mg_per_l: float) -> None:
    """Set a nutrient; iron keeps the shares of its two forms."""
    columns = [COLUMN[name] for name in ATOMS[nutrient]]
    first, weight = _counted_in(nutrient)
    held = float(sum(totals[column] for column in columns))
    if held > 0.0:
        for column in columns:
            totals[column] *= mg_per_l / weight / held
    else:
        totals[first] = mg_per_l / weight


def _counted_in(nutrient: str) -> tuple[int, float]:
    """The total a nutrient is counted in, and its mg per mmol."""
    component, (element, atoms) = next(iter(ATOMS[nutrient].items()))
    return COLUMN[component], atoms * ATOMIC_WEIGHTS[element]


def _told(stores: Stores, steps: tuple[Move, ...], states: list[_State]) -> tuple[Foretold, ...]:
    """Work out EC and pH of all states at once, then how far the readings are from them."""
    known = {
        index: state.amounts.contents(move.after_l, stores.temperature_c(index))
        for index, (state, move) in enumerate(zip(states, steps, strict=True))
        if state.amounts is not None and move.after_l > 0.0
    }
    seen = look(tuple(known.values())) if known else None
    place = {index: number for number, index in enumerate(known)}
    told: list[Foretold] = []
    for index, (entry, state, move) in enumerate(zip(stores.reservoir.entries, states, steps, strict=True)):
        at = place.get(index)
        ec = None if seen is None or at is None else _finite(seen.ec_ms_per_cm[at])
        held = state.ph_known and state.used_share <= PH_HOLDS_SHARE and seen is not None and at is not None
        step = None if ec is None else ec + _carried(stores.reservoir, told, index, move, state)
        told.append(
            Foretold(
                move=move,
                basis=state.basis,
                anchored=state.anchored,
                contents=known.get(index),
                mg_per_l=_nutrients(known.get(index)),
                ec_ms_per_cm=ec,
                step_ec_ms_per_cm=step,
                ph=_finite(seen.ph[at]) if held and seen is not None and at is not None else None,
                ph_aired=_finite(seen.ph_aired[at]) if held and seen is not None and at is not None else None,
                residual_percent=_off(entry.ec_ms_per_cm, ec),
                step_residual_percent=_off(entry.ec_ms_per_cm, step),
            )
        )
    return tuple(told)


def _carried(reservoir: Reservoir, told: list[Foretold], index: int, move: Move, state: _State) -> float:
    """What the last reading was off by [mS/cm], thinned by what came in since; 0 after a new beginning."""
    if state.anchored or index == 0 or move.after_l <= 0.0:
        return 0.0
    before = told[index - 1]
    if before.ec_ms_per_cm is None or before.step_ec_ms_per_cm is None:
        return 0.0
    read = reservoir.entries[index - 1].ec_ms_per_cm
    off = (before.step_ec_ms_per_cm if read is None else read) - before.ec_ms_per_cm
    return off * move.kept_share * (move.before_l or 0.0) / move.after_l


def _off(read: float | None, foretold: float | None) -> float | None:
    return None if read is None or foretold is None or foretold <= 0.0 else 100.0 * (read / foretold - 1.0)


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _nutrients(contents: Contents | None) -> dict[str, float]:
    if contents is None:
        return {}
    values = MG_PER_MMOL @ contents.totals
    return {name: float(values[ROW[name]]) for name in NUTRIENTS}
