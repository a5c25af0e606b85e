"""The candidates of a triage: each is a way in which a diary, its tanks or its meter may be otherwise than written."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from core.catalog import salts
from core.logbook.batches import tanks_of_batch
from core.logbook.records import Entry, MadeBatch
from core.logbook.triage_records import CauseCode
from core.units import value_in

Scope = Literal["event", "since", "always", "batch"]
"""On the day asked about; from an entry on; in all of the diary; wherever its batch was poured."""

PLAUSIBLE: dict[CauseCode, float] = {
    "meter": 0.16, "temperature": 0.06, "scale": 0.07, "volume": 0.15, "gallon": 0.03, "dose-forgotten": 0.03,
    "dose-twice": 0.05, "part-missing": 0.07, "part-dose": 0.08, "part-twice": 0.05, "salt-forgotten": 0.09,
    "salt-doubled": 0.05, "wrong-hydrate": 0.05, "tank-volume": 0.05, "water": 0.05, "acid": 0.03, "uptake": 0.10,
}  # fmt: skip
"""How often each is the cause, before any number is looked at: this program's own choice, after what growers report
(an unused meter half a unit off in six months, one salt left out or weighed twice; READ)."""

METER_SPREAD, VOLUME_SPREAD = 0.15, 0.20
"""How far a meter and a volume are off when they are: standard deviations of the logarithm (our own choice)."""

GALLONS = 4.54609 / 3.785411784
"""An imperial gallon over a US gallon (exact definitions)."""

SCALES = {scale: value_in(1.0, "ec", scale) for scale in ("ppm-500", "ppm-640", "ppm-700", "CF", "mS/cm")}
"""What each scale shows at 1 mS/cm."""

_MIXED_UP = (
    ("ppm-500", "ppm-700", 0.35), ("ppm-700", "ppm-500", 0.35), ("ppm-500", "ppm-640", 0.08),
    ("ppm-640", "ppm-500", 0.08), ("ppm-640", "ppm-700", 0.05), ("ppm-700", "ppm-640", 0.05),
    ("mS/cm", "CF", 0.02), ("CF", "mS/cm", 0.02),
)  # fmt: skip
"""Scale the figure was taken for, scale it was on, and how often of all such slips (our own choice)."""

APPETITES = (0.0, 0.5, 1.0, 1.5, 2.0, 3.0)
"""Salts the crop takes with its water, over what the water holds (steps that are tried; our own choice)."""

USED_SHARE = 0.02
"""Without more water used than this share of the volume the crop is no cause (our own choice)."""


@dataclass(frozen=True)
class Tweak:
    """What is otherwise than written.

    Attributes
    ----------
    salts : entry of the batch's shelf -> factor of its weight
    tanks : tank -> factor of its strength
    parts : tank -> factor of what was poured
    exchanged : tank -> tank that was poured in its place
    filling : factor of the volume filled, at the filling before the entry asked about
    water, added_meq_per_l : factor of the water's ions, and calcium bicarbonate in it beside them
    acid : factor of the acid
    appetite : salts taken up per litre used, over those in a litre; None as usual
    reading : factor of the meter
    no_compensation : the meter shows the conductivity at the temperature it is in
    assumed_c : the temperature where none is noted
    """

    salts: Mapping[str, float] = field(default_factory=dict)
    tanks: Mapping[str, float] = field(default_factory=dict)
    parts: Mapping[str, float] = field(default_factory=dict)
    exchanged: Mapping[str, str] = field(default_factory=dict)
    filling: float = 1.0
    water: float = 1.0
    added_meq_per_l: float = 0.0
    acid: float = 1.0
    appetite: float | None = None
    reading: float = 1.0
    no_compensation: bool = False
    assumed_c: float = 25.0


@dataclass(frozen=True)
class Candidate:
    """A tweak, when it holds, and how plausible it is before any number is looked at.

    `onset` is the place of the entry from which on it holds, for the scope "since".
    """

    code: CauseCode
    tweak: Tweak
    scope: Scope
    prior: float
    what: str = ""
    other: str = ""
    factor: float = 1.0
    onset: int = 0


AS_WRITTEN = Tweak()


def candidates(
    batch: MadeBatch | None,
    entry: Entry,
    poured: tuple[str, ...],
    acid: bool,
    water_ms_per_cm: float,
    used_share: float,
    onsets: tuple[int, ...],
) -> tuple[Candidate, ...]:
    """Return every way in which the reading at an entry may have come about.

    Parameters
    ----------
    batch : the batch in use, None where there is none
    entry : the entry asked about
    poured, acid : whether tanks, by name, and acid were poured that day
    water_ms_per_cm : EC of its water by the report
    used_share : share of the volume the crop used before it
    onsets : places of entries where something that lasts may have begun
    """
    found = [*_of_the_meter(entry), *_of_the_water(water_ms_per_cm)]
    if used_share > USED_SHARE:
        found += [Candidate("uptake", Tweak(appetite=a), "event", 1.0, factor=a) for a in APPETITES]
    if batch is not None and batch.weighed:
        found += _of_the_batch(batch)
        found += _of_the_volume(tanks_of_batch(batch))
    if batch is not None and poured:
        found += _of_the_pour(poured, tanks_of_batch(batch))
    if acid:
        found += [Candidate("acid", Tweak(acid=f), "event", 0.5, factor=f) for f in (0.0, 2.0)]
    return tuple(_weighted(_begun(found, onsets)))


def _begun(found: list[Candidate], onsets: tuple[int, ...]) -> list[Candidate]:
    """What lasts may have begun at any of the entries."""
    spread: list[Candidate] = []
    for one in found:
        if one.scope == "since":
            spread += [replace(one, onset=onset, prior=one.prior / len(onsets)) for onset in onsets]
        else:
            spread.append(one)
    return spread


def _weighted(found: list[Candidate]) -> Iterable[Candidate]:
    """Share out the plausibility of each cause among its candidates."""
    sums: dict[str, float] = {}
    for one in found:
        sums[one.code] = sums.get(one.code, 0.0) + one.prior
    for one in found:
        yield replace(one, prior=PLAUSIBLE[one.code] * one.prior / sums[one.code])


def _log_normal(spread: float) -> list[tuple[float, float]]:
    """Factors around 1 and the weight of each; what is within 5 % is no fault."""
    steps = [0.04 * number for number in range(-15, 16)]
    return [(math.exp(step), math.exp(-0.5 * (step / spread) ** 2)) for step in steps if abs(step) > 0.05]


def _of_the_meter(entry: Entry) -> list[Candidate]:
    scopes: tuple[Scope, ...] = ("since", "always")
    found = [
        Candidate("meter", Tweak(reading=factor), scope, weight, factor=factor)
        for factor, weight in _log_normal(METER_SPREAD)
        for scope in scopes
    ]
    assumed = (None,) if entry.temperature_c is not None else (8.0, 12.0, 16.0, 20.0, 30.0)
    for scope in scopes:
        for temperature_c in assumed:
            tweak = Tweak(no_compensation=True, assumed_c=25.0 if temperature_c is None else temperature_c)
            found.append(Candidate("temperature", tweak, scope, 1.0))
    slips: tuple[Scope, ...] = ("event", "since")
    stated = {"µS/cm": "mS/cm"}.get(entry.meter, entry.meter)
    for taken_for, was, weight in _MIXED_UP:
        if stated in SCALES and taken_for != stated:
            continue  # it was typed on another scale than this slip is about
        factor = SCALES[was] / SCALES[taken_for]
        found += [Candidate("scale", Tweak(reading=factor), scope, weight, taken_for, was, factor) for scope in slips]
    return found


def _of_the_water(water_ms_per_cm: float) -> list[Candidate]:
    """Another water than reported; one that was pure may hold lime."""
    found = [Candidate("water", Tweak(added_meq_per_l=meq), "since", 1.0, factor=meq) for meq in (1.0, 2.0, 3.5, 5.0)]
    if water_ms_per_cm > 0.1:
        found += [
            Candidate("water", Tweak(water=factor), "since", 1.0, factor=factor) for factor in (0.0, 0.5, 1.5, 2.0)
        ]
    return found


def _of_the_batch(batch: MadeBatch) -> list[Candidate]:
    found = []
    for entry_id in dict.fromkeys(one.entry_id for one in batch.weighed if one.weighed_g > 0.0):
        found += [_of_a_salt("salt-forgotten", entry_id, 0.0), _of_a_salt("salt-doubled", entry_id, 2.0)]
        salt_id = next(one.salt for one in batch.recipe.shelf if one.key == entry_id)
        found += [
            _of_a_salt("wrong-hydrate", entry_id, factor, other) for other, factor in other_hydrates(salt_id).items()
        ]
    tanks = tanks_of_batch(batch)
    for factor in (0.5, 0.67, 0.8, 0.9, 1.11, 1.25, 1.5, 2.0):
        found += [
            Candidate("tank-volume", Tweak(tanks={tank: factor}), "batch", 1.0, tank, factor=factor) for tank in tanks
        ]
    return found


def _of_a_salt(code: CauseCode, entry_id: str, factor: float, other: str = "") -> Candidate:
    return Candidate(code, Tweak(salts={entry_id: factor}), "batch", 1.0, entry_id, other, factor)


def other_hydrates(salt_id: str) -> dict[str, float]:
    """Return the same salt with another share of water -> how much more of it a gram of that holds."""
    known = salts()
    if salt_id not in known or known[salt_id].kind not in ("salt", "boron"):
        return {}
    salt = known[salt_id]
    return {
        other.id: salt.molar_mass_g_per_mol / other.molar_mass_g_per_mol
        for other in known.values()
        if other.id != salt_id and other.ions == salt.ions and not other.label_percent and not salt.label_percent
    }


def _of_the_volume(tanks: tuple[str, ...]) -> list[Candidate]:
    """One filling of another volume than written, or marks on the vessel that are off: those thin every part alike."""
    gallons = [(GALLONS, 1.0), (1.0 / GALLONS, 1.0)]
    kinds: tuple[tuple[CauseCode, list[tuple[float, float]]], ...] = (
        ("volume", _log_normal(VOLUME_SPREAD)),
        ("gallon", gallons),
    )
    found = []
    for code, factors in kinds:
        for factor, weight in factors:
            thinned = Tweak(parts=dict.fromkeys(tanks, 1.0 / factor), acid=1.0 / factor)
            found.append(Candidate(code, Tweak(filling=factor), "always", 2.0 * weight, factor=factor))
            found.append(Candidate(code, thinned, "since", weight, factor=factor))
            found.append(Candidate(code, thinned, "always", weight, factor=factor))
    return found


def _of_the_pour(poured: tuple[str, ...], tanks: tuple[str, ...]) -> list[Candidate]:
    """What may have gone wrong while pouring."""
    found = []
    if len(poured) > 1:
        nothing, double = dict.fromkeys(poured, 0.0), dict.fromkeys(poured, 2.0)
        found.append(Candidate("dose-forgotten", Tweak(parts=nothing), "event", 1.0, factor=0.0))
        found.append(Candidate("dose-twice", Tweak(parts=double), "event", 1.0, factor=2.0))
    for tank in poured:
        found.append(Candidate("part-missing", Tweak(parts={tank: 0.0}), "event", 1.0, tank, factor=0.0))
        for factor in (0.5, 0.67, 0.8, 1.25, 1.5, 2.0):
            tweak = Tweak(parts={tank: factor})
            found.append(Candidate("part-dose", tweak, "event", 1.0, tank, factor=factor))
            found.append(Candidate("part-dose", tweak, "since", 1.0, tank, factor=factor))
        found += [
            Candidate("part-twice", Tweak(exchanged={tank: other}), "event", 1.0, other, tank, 2.0)
            for other in tanks
            if other != tank
        ]
    return found
