"""Whether tanks stay clear: the chemistry of concentrates, and what broken rules add that it does not cover."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from core.tanks.compatibility import (
    BASE_ACID,
    BASE_AMMONIUM,
    BASE_CHELATE,
    BASE_HARDNESS,
    BASE_METALS,
    BASE_PHOSPHATE,
    CHELATE_ACID,
    SILICATE_ALONE,
)
from core.tanks.items import Array, Item
from core.tanks.plans import VERDICTS, Verdict


class Saturation(Protocol):
    """How tanks stand at some temperatures; core.chemistry.concentrates.ConcentrateState is one."""

    @property
    def rank(self) -> NDArray[np.int64]:
        """(n_temperatures, n_tanks) 0 clear, 1 doubtful, 2 settles."""

    @property
    def margin(self) -> Array:
        """(n_temperatures, n_tanks) distance to where "clear" ends [log10 of the saturation ratio]."""

    @property
    def solids(self) -> tuple[str, ...]:
        """Ids of the solids that were looked at."""

    @property
    def excess(self) -> Array:
        """(n_temperatures, n_solids, n_tanks) how far each solid is beyond where "clear" ends [log10]."""

    def limited_by(self, temperature: int, tank: int) -> str | None:
        """Solid nearest to coming out, or None."""

    def settling(self, temperature: int, tank: int) -> tuple[str, ...]:
        """Solids that are not clear, the worst first."""


Assess = Callable[[Array, Sequence[float]], Saturation]
"""(n_components, n_tanks) totals [mol per litre of concentrate] and temperatures [°C] -> Saturation."""


ROUGH = ("brushite", "newberyite", "struvite")
"""Solids whose margin hangs on rough constants and a rough pH: good for a verdict, not for weighing one way to fill
tanks against another."""


def salt_margin(saturation: Saturation, temperature: int) -> Array:
    """Return the distance of each tank to the first solid that is not in ROUGH, (n_tanks,) [log10]."""
    margin: Array = -saturation.excess[temperature, _firm(saturation.solids)].max(axis=0)
    return margin


@lru_cache(maxsize=64)
def _firm(solids: tuple[str, ...]) -> NDArray[np.intp]:
    """Places of the solids that are not in ROUGH."""
    return np.array([number for number, solid in enumerate(solids) if solid not in ROUGH], dtype=np.intp)


@dataclass(frozen=True)
class Judgement:
    """One tank at one temperature."""

    verdict: Verdict
    margin: float
    limited_by: str | None
    settling: tuple[str, ...]


_FLOORS: dict[str, tuple[Verdict, str]] = {
    SILICATE_ALONE: ("settles", "silica"),
    BASE_HARDNESS: ("settles", "carbonate"),
    BASE_METALS: ("settles", "hydroxide"),
    BASE_PHOSPHATE: ("doubtful", "phosphate"),
    BASE_CHELATE: ("doubtful", "hydroxide"),
    BASE_ACID: ("doubtful", "foam"),
    BASE_AMMONIUM: ("doubtful", "ammonia"),
    CHELATE_ACID: ("doubtful", "chelate"),
}
"""Broken rule -> the best that can be said of its tank, and what leaves the solution. The rules on calcium, magnesium,
phosphate and sulfate are not here: the chemistry knows those solids."""

FALLS_IN_ACID = ("EDDHA", "HBED")
"""Chelates that drop out of a tank with strong acid; EDTA and DTPA only weaken below pH 3."""


def with_rules(
    saturation: Saturation, temperature: int, tank: int, broken: Sequence[str], items: Sequence[Item]
) -> Judgement:
    """Return the verdict on one tank of `saturation`, made worse where a rule is broken that it knows nothing of."""
    rank, limited_by = int(saturation.rank[temperature, tank]), saturation.limited_by(temperature, tank)
    settling = list(saturation.settling(temperature, tank))
    for rule in broken:
        floor, solid = _floor(rule, items)
        if floor != "clear":
            settling.append(solid)
        if VERDICTS.index(floor) > rank:
            rank, limited_by = VERDICTS.index(floor), solid
    return Judgement(VERDICTS[rank], float(saturation.margin[temperature, tank]), limited_by, tuple(settling))


def _floor(rule: str, items: Sequence[Item]) -> tuple[Verdict, str]:
    floor, solid = _FLOORS.get(rule, ("clear", ""))
    if rule == CHELATE_ACID and any(item.chelate in FALLS_IN_ACID for item in items):
        return "settles", solid
    return floor, solid
