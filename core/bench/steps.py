"""Which steps fill one tank, in which order, and in which order the tanks are used: codes and data, no words.

Only steps this very tank needs are listed. The order: part-filled tank, acid or base or silicate, sulfates, traces
from a cup, nitrates, phosphates, chelates last, cup rinsed back, filled to the mark last. Sulfates before nitrates
before phosphates, part-filling and rinsing back are common practice (trade pages, read; rinsing recalled).
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Protocol

from core.catalog import Salt, salts, solubility_g_per_l

WARM_C = 40.0
"""Warm water for dissolving, hand-warm (common practice, recalled)."""

USUAL_PART, LARGE_PART = 0.5, 0.75
"""Shares of the tank to fill first: half as a rule, more where half would be near saturation (this program's own)."""

CROWDED = 0.7
"""Share of saturation, summed over the salts at room temperature, from which half a tank of water is too little."""

TRACE_METALS = ("Fe", "Mn", "Zn", "Cu", "Mo", "B")
DISSOLVED = ("sulfates", "cup", "bottle", "nitrates", "phosphates", "others", "blends")
"""Groups of salts in the order they are stirred in, before the chelates."""

LIGHT_SENSITIVE = ("EDTA", "DTPA")
COOLING = ("NO3", "urea")
HEATING = ("calcium-chloride-dihydrate", "magnesium-sulfate-anhydrous", "potassium-hydroxide")


class Content(Protocol):
    """One product in one tank, as the plan's tank contents are."""

    @property
    def entry_id(self) -> str:
        """Its name on the shelf."""

    @property
    def salt(self) -> str:
        """Its catalog id, or "blend:<own name>"."""

    @property
    def grams(self) -> float:
        """How much the tank takes [g]."""


@dataclass(frozen=True)
class Step:
    """One step.

    Attributes
    ----------
    code : what is done; see the wording of steps
    entry_ids : what goes in, in this order
    litres : a level to fill to [L]
    celsius : a temperature [degC]
    marks : remarks: "cools", "heats" the water; "dark"
    """

    code: str
    entry_ids: tuple[str, ...] = ()
    litres: float | None = None
    celsius: float | None = None
    marks: tuple[str, ...] = ()


def tank_steps(
    contents: Sequence[Content], volume_l: float, coldest_c: float | None, from_bottle: Collection[str] = ()
) -> tuple[Step, ...]:
    """Return the steps that fill one tank.

    Parameters
    ----------
    contents : what goes in, as much as the whole tank takes
    volume_l : the tank's volume [L]
    coldest_c : coldest temperature the tank was judged clear at; None where it was not [degC]
    from_bottle : entries that are measured out of a trace bottle
    """
    if not contents:
        return ()
    groups = _groups(contents, from_bottle)
    first = [_first(groups, contents, volume_l), *_step(groups, "acid"), *_step(groups, "base")]
    stirred = [step for group in DISSOLVED for step in _step(groups, group)]
    last = [*_step(groups, "chelates"), Step("rinse"), Step("fill", litres=volume_l)]
    dark = ("dark",) if any(_chelate(content) in LIGHT_SENSITIVE for content in contents) else ()
    keep = [Step("keep", celsius=coldest_c, marks=dark), *_sealed(contents)]
    return (*first, *_step(groups, "silicate"), *stirred, *last, *keep)


def dosing_steps(tank_contents: Sequence[str], acid_into_water: bool, acid_into_reservoir: bool) -> tuple[Step, ...]:
    """Return how the tanks make feed: silicate, bulk acid, the parts, EC, then pH.

    Parameters
    ----------
    tank_contents : what kind each tank is, such as "calcium" or "silicate"; their words go where entry_ids go
    acid_into_water, acid_into_reservoir : whether acid goes first into the water, last into the reservoir
    """
    parts = tuple(content for content in tank_contents if content != "silicate")
    if not tank_contents:
        return ()
    return (
        Step("dose-water"),
        *([Step("dose-silicate")] if len(parts) < len(tank_contents) else []),
        *([Step("dose-acid")] if acid_into_water else []),
        *([Step("dose-parts", parts)] if parts else []),
        Step("dose-read"),
        Step("dose-acid-last" if acid_into_reservoir else "dose-ph"),
    )


def _groups(contents: Sequence[Content], from_bottle: Collection[str]) -> dict[str, list[Content]]:
    """Contents by group, the heaviest of each group first."""
    groups: dict[str, list[Content]] = {}
    for content in sorted(contents, key=lambda content: -content.grams):
        group = "bottle" if content.entry_id in from_bottle else group_of(content.salt)
        groups.setdefault(group, []).append(content)
    return groups


def group_of(salt_id: str) -> str:
    """Return how a product is handled: "acid", "base", "silicate", "chelates", or one of DISSOLVED."""
    item = salts().get(salt_id)
    if item is None:
        return "blends"
    if item.kind in ("acid", "base", "silicate"):
        return item.kind
    if item.chelate is not None:
        return "chelates"
    if any(metal in item.elements for metal in TRACE_METALS):
        return "cup"
    return next((group for ion, group in _BY_ION if ion in item.ions), "others")


_BY_ION = (("S", "sulfates"), ("P", "phosphates"), ("NO3", "nitrates"))


def _first(groups: dict[str, list[Content]], contents: Sequence[Content], volume_l: float) -> Step:
    level = volume_l * _part(contents, volume_l)
    if any(group in groups for group in ("acid", "base")):
        return Step("part-fill-cool", litres=level)
    if set(groups) == {"silicate"}:
        return Step("part-fill", litres=level)
    return Step("part-fill-warm", litres=level, celsius=WARM_C)


def _part(contents: Sequence[Content], volume_l: float) -> float:
    """Share of the tank to fill first: enough to dissolve everything, and room left for it."""
    limits = [(content.grams, _limit_g_per_l(content.salt)) for content in contents]
    needed_l = sum(grams / limit for grams, limit in limits if limit)
    return USUAL_PART if needed_l <= CROWDED * USUAL_PART * volume_l else LARGE_PART


def _limit_g_per_l(salt_id: str) -> float | None:
    return solubility_g_per_l(salts()[salt_id], 20.0) if salt_id in salts() else None


def _step(groups: dict[str, list[Content]], group: str) -> list[Step]:
    members = groups.get(group, [])
    if not members:
        return []
    marks = []
    if any(_has_ion(content, COOLING) for content in members) and group != "acid":
        marks.append("cools")
    if any(_heats(content, group) for content in members):
        marks.append("heats")
    return [Step(group, tuple(content.entry_id for content in members), marks=tuple(marks))]


def _heats(content: Content, group: str) -> bool:
    """A strong acid that is poured heats the water; so do a few solids."""
    item = _salt(content)
    return content.salt in HEATING or (group == "acid" and item is not None and item.strong_acid and item.liquid)


def _sealed(contents: Sequence[Content]) -> list[Step]:
    """Bags that must not stand open."""
    wet = tuple(content.entry_id for content in contents if (item := _salt(content)) and item.hygroscopic)
    return [Step("seal", wet)] if wet else []


def _has_ion(content: Content, ions: tuple[str, ...]) -> bool:
    item = _salt(content)
    return item is not None and any(ion in item.ions for ion in ions)


def _chelate(content: Content) -> str | None:
    item = _salt(content)
    return None if item is None else item.chelate


def _salt(content: Content) -> Salt | None:
    return salts().get(content.salt)
