"""The next test for a cause: what to read, and which figure speaks for it and which against."""

from __future__ import annotations

from dataclasses import replace

from core.logbook.moves import ML_PER_L
from core.logbook.triage_records import Ask
from core.logbook.triage_tweaks import AS_WRITTEN, SCALES, Candidate
from core.logbook.triage_walk import Walk

STANDARD_MS_PER_CM = 1.413
"""Potassium chloride 0.01 mol/L at 25 degC, the standard sold for meters of this range (table of standards in a meter's
manual, READ; Standard Methods 2510, table I, has 1.412)."""


def ask_for(walk: Walk, candidate: Candidate, index: int) -> Ask:
    """Return the test that tells this candidate from a diary that is as written."""
    entry = walk.entry(index)
    match candidate.code:
        case "meter":
            return Ask("standard", "", STANDARD_MS_PER_CM * candidate.factor, STANDARD_MS_PER_CM)
        case "temperature":
            return Ask("at-25", "", walk.true_ms_per_cm(candidate, index), (entry.ec_ms_per_cm or 0.0))
        case "scale":
            shown = (entry.ec_ms_per_cm or 0.0) * SCALES[candidate.what]
            return Ask("display", candidate.other, shown, None)
        case "volume" | "gallon":
            volume = walk.volume_l(index)
            return Ask("volume", "", volume * candidate.factor, volume)
        case "dose-forgotten" | "dose-twice":
            tank, poured = next(iter(walk.poured_ml().items()))
            return Ask("tank-level", tank, poured * candidate.factor, poured)
        case "part-missing" | "part-dose" | "part-twice":
            poured = walk.poured_ml().get(candidate.what, 0.0)
            return Ask("tank-level", candidate.what, poured * candidate.factor, poured)
        case "salt-forgotten" | "salt-doubled" | "wrong-hydrate" | "tank-volume":
            return _part_alone(walk, candidate, index)
        case "water":
            return Ask("plain-water", "", *walk.water_ms_per_cm(candidate.tweak, index))
        case "acid":
            acid, millilitres = next(iter(walk.acid_ml().items()))
            return Ask("tank-level", acid, candidate.factor * millilitres, millilitres)
        case "uptake":
            return Ask("analysis")


def _part_alone(walk: Walk, candidate: Candidate, index: int) -> Ask:
    """A litre of water with one part alone, at the planned dose."""
    tank = candidate.what if candidate.code == "tank-volume" else walk.tank_with(candidate.what, index)
    dose = ML_PER_L / walk.batch(index).recipe.tanks.ratio
    tweak = replace(candidate.tweak, water=1.0)
    true = walk.part_alone_ms_per_cm(tank, dose, tweak, index)
    return Ask("part-alone", tank, true, walk.part_alone_ms_per_cm(tank, dose, AS_WRITTEN, index), dose)
