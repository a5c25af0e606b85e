"""Whether tanks stay clear: the chemistry of concentrates, and what broken rules add that it does not cover."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

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


@dataclass(frozen=True, eq=False)
class Saturation:
    """Verdicts on tanks at some temperatures.

    Attributes
    ----------
    ranks : (n_temperatures, n_tanks) 0 clear, 1 doubtful, 2 settles
    margins : (n_temperatures, n_tanks) distance to the first solid [log10 of the saturation ratio]
    limited_by : per temperature and tank the solid that comes out first, or None
    settling : per temperature and tank the solids beyond saturation
    """

    ranks: NDArray[np.int64]
    margins: Array
    limited_by: tuple[tuple[str | None, ...], ...]
    settling: tuple[tuple[tuple[str, ...], ...], ...]


Assess = Callable[[Array, tuple[float, ...]], Saturation]
"""(n_tanks, n_components) totals [mol per litre of concentrate] and temperatures [°C] -> Saturation."""


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
    rank = int(saturation.ranks[temperature, tank])
    limited_by = saturation.limited_by[temperature][tank]
    settling = list(saturation.settling[temperature][tank]) if rank == len(VERDICTS) - 1 else []
    for rule in broken:
        floor, solid = _floor(rule, items)
        if VERDICTS.index(floor) > rank:
            rank, limited_by = VERDICTS.index(floor), solid
        if floor == "settles":
            settling.append(solid)
    return Judgement(VERDICTS[rank], float(saturation.margins[temperature, tank]), limited_by, tuple(settling))


def _floor(rule: str, items: Sequence[Item]) -> tuple[Verdict, str]:
    floor, solid = _FLOORS.get(rule, ("clear", ""))
    if rule == CHELATE_ACID and any(item.chelate in FALLS_IN_ACID for item in items):
        return "settles", solid
    return floor, solid


def assess_tanks(totals_mol_per_l: Array, temperatures_c: tuple[float, ...]) -> Saturation:
    """Assess tanks with the program's own chemistry of concentrates."""
    raise NotImplementedError
