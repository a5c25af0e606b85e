"""What becomes of the iron once the feed has aired: chelated, bare, or held by something no label names."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from core.blend.nutrients import COLUMN
from core.blend.shelf import Source
from core.blend.solve import Blend
from core.blend.waters import REFERENCE_C
from core.chemistry import NotConverged, Speciation, kg_water_per_l
from core.chemistry.species import CHELATORS
from core.plan.cautions import caution
from core.plan.feed import Forecast
from core.plan.records import Caution

LEAST_CHELATED_PERCENT = 80.0
"""Share of the iron that should stay dissolved (this program's own choice: a fifth lost is what a trace element's usual
tolerance allows)."""

PLAINLY_PERCENT = 0.1
"""Per cent beyond that at which a bound needs no closer look (own choice: more than any round-off)."""

FERROUS_STANDS_PH = 5.3
"""Up to here bare ferrous iron outlives a week of air: half of it turns ferric in about seven days, at pH 6 in seven
hours (DERIVED from the rate law of Singer & Stumm 1970, its constant 8e13 /(min M2 atm) from MEMORY)."""

LIGAND_DECIDES_PH = 6.0
"""From here on it matters which ligand holds the iron: EDTA begins to let go (trade, READ: EDTA to pH 6-6.5)."""

_FERROUS, _FERRIC = COLUMN["Fe"], COLUMN["Fe3"]
_IRON = [_FERROUS, _FERRIC]
_LIGANDS = [COLUMN[name] for name in sorted(CHELATORS)]


@dataclass(frozen=True)
class _Iron:
    """The products in use that bring iron, by what holds it, with their amounts [mg/L]."""

    chelated: tuple[tuple[Source, float], ...]
    bare: tuple[tuple[Source, float], ...]
    unknown: tuple[tuple[Source, float], ...]


def iron_cautions(blend: Blend, told: Forecast) -> Iterator[Caution]:
    """Iron that settles as hydroxide, or that other metals push out, at the pH the feed comes to rest at."""
    iron = _sorted_out(blend)
    if told.aired is None or not (iron.chelated or iron.bare or iron.unknown):
        return
    ph, kg_per_l = float(told.aired.ph[0]), float(kg_water_per_l(blend.totals[:, None] * 1e-3, REFERENCE_C)[0])
    turned = _turned(iron, ph)
    chelated, bare = (_mol_per_kg(products, kg_per_l) for products in (iron.chelated, turned))
    cases = [*([chelated] if chelated > 0.0 else []), *([chelated + bare] if bare > 0.0 else [])]
    kept = _kept_mol_per_kg(told.aired, iron, cases, kg_per_l, _Enough(chelated, bare)) if cases else []
    if kept and chelated > 0.0 and 100.0 * kept[0][0] / chelated < LEAST_CHELATED_PERCENT:
        share_percent = 100.0 * kept[0][0] / chelated
        yield caution("chelate-ph", ph=ph, salts=_names(iron.chelated), share_percent=share_percent)
    if kept and bare > 0.0 and 100.0 * (1.0 - kept[-1][1] / bare) < LEAST_CHELATED_PERCENT:
        share_percent = min(100.0 * kept[-1][1] / bare, 100.0)
        yield caution("bare-iron", ph=ph, salts=_names(turned), share_percent=share_percent)
    if iron.unknown and ph > LIGAND_DECIDES_PH:
        yield caution("ligand-unknown", ph=ph, entry_ids=[source.key for source, _ in iron.unknown])


def _sorted_out(blend: Blend) -> _Iron:
    held: dict[str, list[tuple[Source, float]]] = {"chelated": [], "bare": [], "unknown": []}
    for source, x in blend.used:
        if _iron_mmol_per_mg(source) > 0.0:
            held[_held_by(source)].append((source, x))
    return _Iron(*(tuple(products) for products in held.values()))


@lru_cache(maxsize=512)
def _iron_mmol_per_mg(source: Source) -> float:
    return float(source.totals[_IRON].sum())


def _held_by(source: Source) -> str:
    """Of a bought blend no label says it; the totals of a salt or of a tank already mixed do."""
    if source.salt is None and not source.entry.mixed_mmol_per_g:
        return "unknown"
    return "chelated" if source.totals[_LIGANDS].any() else "bare"


def _turned(iron: _Iron, ph: float) -> tuple[tuple[Source, float], ...]:
    """Bare iron counts as ferric, which the air makes of it; ferrous iron has time in a sour feed."""
    return tuple((source, x) for source, x in iron.bare if source.totals[_FERRIC] > 0.0 or ph > FERROUS_STANDS_PH)


def _names(products: tuple[tuple[Source, float], ...]) -> list[str]:
    return [source.key if source.salt is None else source.entry.salt for source, _ in products]


def _mol_per_kg(products: tuple[tuple[Source, float], ...], kg_per_l: float) -> float:
    """Iron of some products [mol/kg]."""
    return sum([_iron_mmol_per_mg(source) * x for source, x in products]) * 1e-3 / kg_per_l


@dataclass(frozen=True)
class _Enough:
    """When there is nothing to caution of: iron brought by chelates, and bare iron beside it [mol/kg]."""

    chelated: float
    bare: float

    def is_held(self, held: list[float]) -> bool:
        """Whether no less iron than this, in the case without and with the bare iron [mol/kg], is plainly enough."""
        share = (LEAST_CHELATED_PERCENT + PLAINLY_PERCENT) / 100.0
        from_chelates = not self.chelated or held[0] >= share * self.chelated
        return from_chelates and (not self.bare or held[-1] >= self.chelated + share * self.bare)


def _kept_mol_per_kg(
    aired: Speciation, iron: _Iron, ferric_mol_per_kg: list[float], kg_per_l: float, enough: _Enough
) -> list[tuple[float, float]]:
    """Iron held by the known ligands, and iron that settles, for each amount of ferric iron in the feed [mol/kg].

    Nothing where a bound says at once that it is enough.
    """
    from core.chemistry.chelation import conditions, iron_surely_held, shared_out

    totals = np.repeat(aired.totals_mol_per_kg, len(ferric_mol_per_kg), axis=1)
    totals[_FERROUS], totals[_FERRIC] = 0.0, ferric_mol_per_kg
    for source, x in iron.unknown:
        totals[_LIGANDS] -= source.totals[_LIGANDS, None] * x * 1e-3 / kg_per_l
    totals[_LIGANDS] = np.where(totals[_LIGANDS] > 1e-12, totals[_LIGANDS], 0.0)
    given = conditions(aired)
    if enough.is_held(iron_surely_held(given, totals)):
        return []
    try:
        found = shared_out(given, totals)
    except NotConverged:  # never seen; a plan is made all the same
        return []
    held, settled = (found.iron_chelated * totals[_FERRIC]).tolist(), (found.iron_settled * totals[_FERRIC]).tolist()
    return list(zip(held, settled, strict=True))
