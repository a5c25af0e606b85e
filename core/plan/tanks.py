"""The tanks of a plan: what stands in each, what it weighs on her scales, and whether it stays clear."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from core.bench.quantities import grams_for_tank, millilitres, ml_per_l_of_feed
from core.bench.rounding import relative_error, weigh_together
from core.bench.weighing import Weighing, weigh
from core.blend.alkalinity import is_acid
from core.blend.nutrients import CHARGE, COLUMN, Array
from core.blend.shelf import Source
from core.blend.solve import Blend
from core.chemistry.components import COMPONENTS
from core.chemistry.concentrates import (
    Bounds,
    ConcentrateState,
    Standing,
    StrengthLimit,
    bounded,
    bounded_limit,
    fullness,
    injector_step,
    stand,
    stand_beside,
)
from core.plan.amounts import acid_place, brings_of
from core.plan.records import NearSolid, Tank, TankContent, WeighedOn
from core.recipe.records import NUTRIENTS, Recipe
from core.tanks import Arrangement, Item, TankPlan, arrange, describe, item_of, tank_temperatures_c
from core.tanks.items import LIGANDS
from core.tanks.solubility import solubility_bounds

NOTICED_PERCENT = 0.05
"""Rounding that moves a nutrient by less than this is not listed."""

NEAR_SOLIDS = 3
"""Solids listed per tank: those nearest to coming out."""

HOLDS_PHOSPHATE, HOLDS_ACID = 1e-3, 1e-2
"""Phosphate [mol/L] or free acid or base [eq/L] in a tank from which on its pH is told (this program's own choice:
calcium nitrate of 15.5-0-0 grade is sold with a pH of 5.6 to 6.8 and no more than traces to hold it, READ)."""


_WEAK_EQ_PER_MOL = np.array(
    [2.0 if name == "Mo" else 1.0 if name in (*LIGANDS, "B") else 0.0 for name in COMPONENTS], dtype=float
)
"""Of each total whose own acid or base the chemistry of concentrates does not follow the most of it [eq/mol]."""


@dataclass(frozen=True)
class SplitTanks:
    """The tanks of a blend: what stands in each, and the chemistry of each in the same order."""

    plans: tuple[TankPlan, ...]
    standings: tuple[TankStanding, ...]


@dataclass(frozen=True)
class TankStanding:
    """How one tank stands; ratios of the coldest room, None where nothing comes out before the model ends."""

    ratio_limit: float | None
    limited_by: str | None
    clear_ratio: float | None
    clear_limited_by: str | None
    near: tuple[NearSolid, ...]
    beyond_model: bool
    ph: float | None
    density_kg_per_l: float
    water_kg_per_l: float


def tank_items(blend: Blend) -> tuple[Item, ...]:
    """The products that go into tanks; acid only where the recipe puts it there."""
    return tuple([unit_item(source).times(amount) for source, amount in _in_tanks(blend)])


def _in_tanks(blend: Blend) -> list[tuple[Source, float]]:
    """The sources that go into tanks, and how much of each [mg per litre of finished feed]."""
    in_tank = acid_place(blend) == "tank"
    return [(source, amount) for source, amount in blend.used if in_tank or not is_acid(source)]


@lru_cache(maxsize=64)
def _bounds_of(sources: tuple[Source, ...], temperatures_c: tuple[float, ...]) -> Bounds:
    """What tanks of these products are held against by the products' own solubility."""
    return solubility_bounds([unit_item(source) for source in sources], temperatures_c)


@lru_cache(maxsize=512)
def unit_item(source: Source) -> Item:
    """A milligram of a product per litre of finished feed."""
    return item_of(source.key, source.salt, 1e-3, source.totals * 1e-3)


def fill_water_mol_per_l(blend: Blend) -> Array | None:
    """What a litre of the water brings that the tanks are filled up with, (n_components,) [mol/L]; None where pure.

    Counted as if a whole litre of it went into a litre of tank.
    """
    if blend.recipe.tanks.fill_water != "recipe":
        return None
    totals = blend.water.totals
    if acid_place(blend) == "water":
        acid = np.array([is_acid(source) for source in blend.shelf.sources], dtype=bool)
        totals = totals + blend.shelf.totals[:, acid] @ blend.amounts_mg_per_l[acid]
    return np.maximum(totals, 0.0) * 1e-3


class _Looks:
    """The chemistry of the tanks, looked at while they are being chosen wherever the first hope for them comes true.

    Kept by the arrangement itself, which stays alive with it: another one may come to lie at the address of one gone.
    """

    def __init__(self, ratio: float, temperatures_c: tuple[float, ...], water: Array | None) -> None:
        self._how, self._seen = (ratio, temperatures_c, water), dict[Arrangement, Standing]()

    def ahead(self, others_mol_per_l: Array, hoped: Arrangement) -> ConcentrateState | None:
        """How other tanks stand; those hoped for are looked at along with them."""
        found = stand_beside(others_mol_per_l, hoped.mol_per_l_feed, *self._how)
        if found is None:
            return None
        others, self._seen[hoped] = found
        return others

    def standing(self, arranged: Arrangement) -> Standing:
        """How the tanks chosen stand."""
        return self._seen.get(arranged) or stand(arranged.mol_per_l_feed, *self._how)


def split_blend(blend: Blend) -> SplitTanks:
    """Split a blend into its recipe's tanks and judge them."""
    setup, items, water = blend.recipe.tanks, tank_items(blend), fill_water_mol_per_l(blend)
    if not items:
        return SplitTanks((), ())
    temperatures_c = tank_temperatures_c(setup.temperature_c, setup.coldest_c)
    looks = _Looks(setup.ratio, temperatures_c, water)
    arranged = arrange(
        items, setup.count, setup.ratio, temperatures_c[0], setup.pins, fill_water=water, ahead=looks.ahead
    )
    contents = arranged.mol_per_l_feed
    state, limit = looks.standing(arranged)
    filled = setup.ratio * contents if water is None else setup.ratio * contents + water[:, None]
    bounds = _bounds_of(tuple([source for source, _ in _in_tanks(blend)]), temperatures_c)
    names = state.solids + bounds.ids
    if bounds.ids:
        full = fullness(filled, state.water_kg_per_l, bounds)
        limit = bounded_limit(limit, full, setup.ratio, state.water_kg_per_l, bounds)
        state = bounded(state, full, bounds)
    plans = describe(arranged, state)
    held = _holds_its_ph(setup.ratio * contents)
    return SplitTanks(plans, tuple(_standing(state, limit, names, setup.ratio, *tank) for tank in enumerate(held)))


def _holds_its_ph(contents_mol_per_l: Array) -> list[bool]:
    """Whether each tank's pH is more than chance: phosphate or free acid or base enough to outweigh impurities.

    A proton that a chelate, a borate or a molybdate brings along is a weak acid, and told of no tank.
    """
    acid = np.abs(CHARGE @ contents_mol_per_l) - _WEAK_EQ_PER_MOL @ contents_mol_per_l
    held: list[bool] = ((contents_mol_per_l[COLUMN["P"]] >= HOLDS_PHOSPHATE) | (acid >= HOLDS_ACID)).tolist()
    return held


def _standing(
    state: ConcentrateState, limit: StrengthLimit, names: tuple[str, ...], ratio: float, tank: int, holds_ph: bool
) -> TankStanding:
    """How a tank stands; `names` of the solids the limit is told of."""
    each, beyond = limit.solid_ratio[0, :, tank].tolist(), bool(state.beyond_model[:, tank].any())
    clear, ends = limit.clear_ratio[0, tank], limit.model_ends_at[tank]
    finite = [place for place, found in enumerate(each) if 0.0 < found < np.inf]
    nearest = sorted(finite, key=lambda place: each[place])[:NEAR_SOLIDS]
    return TankStanding(
        ratio_limit=_finite(limit.saturated_ratio[0, tank]),
        limited_by=limit.limited_by[0][tank],
        clear_ratio=_finite(min(clear, ends) if beyond else clear),
        clear_limited_by=None if beyond and ends < clear else limit.clear_limited_by[0][tank],
        near=tuple(NearSolid(names[place], each[place], ratio / each[place]) for place in nearest),
        beyond_model=beyond,
        ph=float(state.ph[-1, tank]) if holds_ph and state.pitzer_valid[-1, tank] else None,
        density_kg_per_l=float(state.density_kg_per_l[tank]),
        water_kg_per_l=float(state.water_kg_per_l[tank]),
    )


def _finite(ratio: float) -> float | None:
    return float(ratio) if np.isfinite(ratio) else None


def tanks_of(blend: Blend, split: SplitTanks) -> tuple[tuple[Tank, ...], tuple[tuple[Weighing, ...], ...]]:
    """The tanks with their weights, and the weighings behind them in the same order."""
    used = {source.key: (source, amount) for source, amount in blend.used}
    feed = dict(zip(NUTRIENTS, blend.nutrients_mg_per_l.tolist(), strict=True))
    tanks, weighings = [], []
    for plan, standing in zip(split.plans, split.standings, strict=True):
        parts = [_part(*used[place.key], place.share) for place in plan.contents]
        weighed = _weigh(blend, parts)
        contents = tuple([_content(*part, weighing, feed) for part, weighing in zip(parts, weighed, strict=True)])
        tanks.append(_tank(blend.recipe, plan, contents, standing))
        weighings.append(weighed)
    return tuple(tanks), tuple(weighings)


def _part(source: Source, amount: float, share: float) -> tuple[Source, float]:
    """A source and how much of it this tank takes [mg per litre of finished feed]."""
    return source, amount * share


def _weigh(blend: Blend, parts: list[tuple[Source, float]]) -> tuple[Weighing, ...]:
    recipe = blend.recipe
    grams = [grams_for_tank(mg, recipe.tanks.ratio, recipe.batch.tank_volume_l) for _, mg in parts]
    if not recipe.batch.scales:
        return weigh(grams, ())
    brings = np.array([source.brings * mg for source, mg in parts]).reshape(len(parts), len(NUTRIENTS))
    return weigh_together(grams, recipe.batch.scales, brings, blend.nutrients_mg_per_l)


def _content(source: Source, mg_per_l: float, weighing: Weighing, feed_mg_per_l: dict[str, float]) -> TankContent:
    scale = None if weighing.scale is None else WeighedOn(weighing.scale.capacity_g, weighing.scale.readability_g)
    off, changes = 100.0 * relative_error(weighing), {}
    for nutrient, per_mg in brings_of(source) if off else ():
        change = off * (per_mg * mg_per_l / feed_mg_per_l[nutrient])
        if abs(change) >= NOTICED_PERCENT:
            changes[nutrient] = change
    density = source.density_kg_per_l
    volume = None if density is None else millilitres(weighing.grams, density)
    salt, grams = source.entry.salt, weighing.grams
    return TankContent(source.key, salt, grams, weighing.grams_to_weigh, scale, volume, changes)


def _tank(recipe: Recipe, plan: TankPlan, contents: tuple[TankContent, ...], standing: TankStanding) -> Tank:
    ratio = recipe.tanks.ratio
    return Tank(
        name=plan.name,
        content=plan.content,
        ratio=ratio,
        volume_l=recipe.batch.tank_volume_l,
        ml_per_l=ml_per_l_of_feed(ratio),
        contents=contents,
        verdict=plan.verdict,
        cold_verdict=plan.cold_verdict,
        ratio_limit=standing.ratio_limit,
        limited_by=standing.limited_by or plan.limited_by,
        clear_ratio=standing.clear_ratio,
        injector_step=None if standing.clear_ratio is None else injector_step(standing.clear_ratio),
        fullness=None if standing.ratio_limit is None else ratio / standing.ratio_limit,
        settling=plan.settling,
        reasons=tuple(place.reason for place in plan.contents),
        broken=plan.broken,
        near=standing.near,
        beyond_model=standing.beyond_model,
        ph=standing.ph,
        density_kg_per_l=standing.density_kg_per_l,
        water_kg=standing.water_kg_per_l * recipe.batch.tank_volume_l,
        clear_limited_by=standing.clear_limited_by,
    )
