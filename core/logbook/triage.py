"""Why a reading is not the one foretold: a search through the causes growers meet, by how well each explains it.

Every candidate foretells the readings of a stretch of the diary, before and after the one in question; its weight is
how plausible it is beforehand times how near it comes to them all. A cause that may be off by any amount explains any
one reading, and pays for that by spreading its weight over all of them.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from core.blend.nutrients import Array
from core.logbook.forecast import Foretold, forecast
from core.logbook.records import Entry, Logbook, Reservoir
from core.logbook.stores import Stores
from core.logbook.triage_asks import ask_for
from core.logbook.triage_records import Cause, Triage
from core.logbook.triage_tweaks import Candidate, candidates
from core.logbook.triage_walk import Walk, Walked, same_day
from core.plan.feed_contents import conductivities_ms_per_cm

WORTH_ASKING_PERCENT = 10.0
"""Off by less than this a reading is as near as growers expect (our own choice)."""

READING_SPREAD, PH_SPREAD = 0.03, 0.35
"""What readings scatter by: EC as a share (meter 2 %, pouring and weighing 2 %), pH as pH (our own choice)."""

WORST_READING, UNKNOWN = 40.0, 45.0
"""What one reading may speak against a candidate at the most, and what a forecast that cannot be made does (our own
choice)."""

WORST_PH = 8.0
"""What a pH may speak against a candidate at the most: meters of pH are off by themselves (our own choice)."""

BEFORE, AFTER = 10, 8
"""Readings looked at before and after the one in question (our own choice)."""

TOLD_SHARE = 0.02
"""Causes with less of the weight than this are not told of (our own choice)."""

ALSO, ONSETS = 3, 2
"""Subjects named beside the first of a cause, and odd readings from which a fault may date (our own choice)."""

LEAST_MS_PER_CM = 0.2
"""Below this a meter's last digit is a good part of the reading (our own choice)."""

LAST_DIGIT_MS_PER_CM = 0.015
"""What a reading scatters by however small it is (our own choice)."""


def suspect(reservoir: Reservoir, told: Sequence[Foretold]) -> int | None:
    """Return the entry whose reading last left the course of those before it, or None where all went as expected.

    Of several lines of one day it is the first that did.

    A slow drift from the balance is no surprise: that is what the crop takes.
    """
    odd = surprises(reservoir, told)
    return min(set(odd) & set(same_day(reservoir.entries, odd[-1]))) if odd else None


def surprises(reservoir: Reservoir, told: Sequence[Foretold]) -> tuple[int, ...]:
    """Return the places of all entries whose reading left the course of those before it."""
    return tuple(index for index, one in enumerate(told) if surprising(reservoir.entries[index], one))


def surprising(entry: Entry, one: Foretold) -> bool:
    """Return whether a reading is further from what was foretold for it than growers expect.

    The forecast leaves all salts where they were, so a crop can only bring a reading down: so much it may be lower
    besides, but no higher.
    """
    off, foretold = one.step_residual_percent, one.step_ec_ms_per_cm or 0.0
    if off is None or max(foretold, entry.ec_ms_per_cm or 0.0) < LEAST_MS_PER_CM:
        return False
    return off > WORTH_ASKING_PERCENT or -off > WORTH_ASKING_PERCENT + 100.0 * _used_share(one)


def _used_share(one: Foretold) -> float:
    return (one.move.used_l or 0.0) / one.move.before_l if one.move.before_l else 0.0


def triage(logbook: Logbook, reservoir: Reservoir, index: int | None = None) -> Triage | None:
    """Search for the cause.

    Parameters
    ----------
    logbook, reservoir : the diary
    index : the entry asked about; None takes `suspect`

    Returns
    -------
    Triage, or None where nothing is off or the entry has no reading and forecast to compare.
    """
    told = forecast(logbook, reservoir)
    index = suspect(reservoir, told) if index is None else index
    if index is None:
        return None
    entry, one = reservoir.entries[index], told[index]
    if entry.ec_ms_per_cm is None or one.step_ec_ms_per_cm is None or one.step_residual_percent is None:
        return None
    stores = Stores(logbook, reservoir)
    walk, span = Walk(stores, told, index), _span(reservoir, told, index)
    water = float(conductivities_ms_per_cm((stores.of_water(index, 1.0).contents(1.0),))[0])
    day = [reservoir.entries[n] for n in same_day(reservoir.entries, index)]
    found = candidates(
        stores.batch_in_use(index),
        entry,
        tuple(sorted({tank for line in day for tank in line.parts_ml})),
        any(line.acid_ml for line in day),
        water,
        _used_share(one),
        _onsets(reservoir, told, span, index),
    )
    walked = walk.walk(span, found)
    causes = _causes(reservoir, walk, walked, found, index)
    return Triage(
        index,
        entry.ec_ms_per_cm,
        one.step_ec_ms_per_cm,
        one.step_residual_percent,
        len(walked.indices),
        tuple(causes),
    )


def _span(reservoir: Reservoir, told: Sequence[Foretold], index: int) -> range:
    """The stretch of the diary that says something of the reading at an entry."""
    readings = [
        number
        for number, (entry, one) in enumerate(zip(reservoir.entries, told, strict=True))
        if entry.ec_ms_per_cm is not None and one.ec_ms_per_cm is not None
    ]
    before = [number for number in readings if number <= index][-BEFORE - 1 :]
    after = [number for number in readings if number > index][:AFTER]
    return range(before[0], (after or before)[-1] + 1)


def _onsets(reservoir: Reservoir, told: Sequence[Foretold], span: range, index: int) -> tuple[int, ...]:
    """Where something that lasts may have begun: at the first surprises of the stretch, or at the entry itself."""
    odd = [n for n in span if n <= index and surprising(reservoir.entries[n], told[n])]
    return tuple(dict.fromkeys((*odd[:ONSETS], index)))


def _causes(reservoir: Reservoir, walk: Walk, walked: Walked, found: Sequence[Candidate], index: int) -> list[Cause]:
    weights = weights_of(reservoir.entries, walked, found)
    foretold = walked.ec_ms_per_cm[walked.indices.index(index)]
    best: dict[str, list[int]] = {}
    for number in np.argsort(-weights):
        best.setdefault(found[number].code, []).append(int(number))
    sums = {code: float(weights[members].sum()) for code, members in best.items()}
    ranked = sorted(sums, key=lambda code: -sums[code])
    return [
        _cause(walk, found, best[code], weights, float(foretold[best[code][0]]), sums[code], index)
        for code in ranked
        if sums[code] >= TOLD_SHARE
    ]


def weights_of(entries: Sequence[Entry], walked: Walked, found: Sequence[Candidate]) -> Array:
    """Return the share of each candidate in the plausibility of all, (n_candidates,) ndarray."""
    logs = np.log([one.prior for one in found])
    for row, index in enumerate(walked.indices):
        read, ph = entries[index].ec_ms_per_cm, entries[index].ph
        foretold = walked.ec_ms_per_cm[row]
        spread = np.hypot(READING_SPREAD * foretold, LAST_DIGIT_MS_PER_CM)
        off = ((read or 0.0) - foretold) / spread
        logs -= np.where(np.isfinite(off), np.minimum(0.5 * off**2, WORST_READING) + np.log(spread), UNKNOWN)
        if ph is not None:
            beyond = np.maximum(np.maximum(walked.ph_low[row] - ph, ph - walked.ph_high[row]), 0.0)
            logs -= np.where(np.isfinite(beyond), np.minimum(0.5 * (beyond / PH_SPREAD) ** 2, WORST_PH), 0.0)
    weights: Array = np.exp(logs - logs.max())
    weights /= weights.sum()
    return weights


def _cause(
    walk: Walk,
    found: Sequence[Candidate],
    members: list[int],
    weights: Array,
    foretold: float,
    share: float,
    index: int,
) -> Cause:
    """One cause by its likeliest candidate; others of the same kind that are nearly as likely are named beside it."""
    first = found[members[0]]
    close = [found[n].what for n in members if weights[n] > 0.2 * weights[members[0]] and found[n].what]
    also = tuple(dict.fromkeys(what for what in close if what != first.what))[:ALSO]
    return Cause(
        first.code,
        100.0 * share,
        foretold,
        ask_for(walk, first, index),
        first.what,
        first.other,
        first.factor,
        also,
    )
