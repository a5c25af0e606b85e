"""What a made batch really holds, from the weights that went in and the volume each tank was filled to.

The water the tanks are filled up with is not counted: a litre of finished feed counts as a whole litre of its water,
here as in every plan.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from msgspec import structs

from core.blend.nutrients import Array
from core.blend.shelf import source_of
from core.blend.solve import Blend, solve
from core.chemistry.components import COMPONENTS
from core.logbook.records import MadeBatch, Weighed
from core.plan.amounts import acid_place
from core.plan.assembly import derive
from core.plan.records import Amount, Plan, Tank, TankContent
from core.recipe.records import Recipe, ShelfEntry

PART = "{entry_id}, {tank}"
"""What a shelf entry that stands in several tanks is called in all of them but the first."""


def filled_l(batch: MadeBatch, tank: str) -> float:
    """Return the volume a tank was filled to [L]."""
    return batch.tank_volume_l.get(tank, batch.recipe.batch.tank_volume_l)


def tanks_of_batch(batch: MadeBatch) -> tuple[str, ...]:
    """Return the names of the tanks something was weighed into, in order."""
    return tuple(sorted({one.tank for one in batch.weighed if one.weighed_g > 0.0}))


def tank_totals(batch: MadeBatch, tank: str) -> tuple[Array, float]:
    """Return what a millilitre of a tank as mixed brings to a reservoir.

    Returns
    -------
    totals : (n_components,) ndarray [mmol/mL]
    alkalinity : float [meq/mL], by formula
    """
    entries = _entries(batch)
    totals, alkalinity = np.zeros(len(COMPONENTS)), 0.0
    for one in _weighed(batch):
        if one.tank == tank:
            source = source_of(entries[one.entry_id])
            mg_per_ml = one.weighed_g / filled_l(batch, tank)  # g/L are mg/mL
            totals += source.totals * mg_per_ml
            alkalinity += source.alkalinity * mg_per_ml
    return totals, alkalinity


def as_mixed(batch: MadeBatch, blend: Blend | None = None) -> Recipe:
    """Return the recipe whose exact amounts are what was weighed, pinned to the tanks it was weighed into.

    Acid that is poured into the water or the reservoir stays as planned. An entry that stands in two tanks becomes
    two entries, see `PART`. The aim is what the batch was planned for, its target EC already in it. Weights of the plan
    of this recipe are for the volume the recipe names, though a tank may have been filled to another. `blend`: of the
    batch's recipe, where it is at hand.
    """
    return _mixed_recipe(batch, blend or solve(batch.recipe))


def mixed_plan(batch: MadeBatch, blend: Blend | None = None) -> Plan:
    """Return the plan of the tanks as mixed, under the names of the batch's own shelf.

    Each tank holds the grams that were weighed and its volume as filled; everything else is as in any plan.
    """
    recipe = as_mixed(batch, blend)
    plan = derive(recipe, solve(recipe))
    own = {part: entry for _tank, entry, part in _parts(batch)}
    tanks = tuple(_as_weighed(batch, tank, own) for tank in plan.tanks)
    return structs.replace(plan, tanks=tanks, amounts=_merged(plan.amounts, own))


def _mixed_recipe(batch: MadeBatch, blend: Blend) -> Recipe:
    recipe, entries, place = batch.recipe, _entries(batch), acid_place(blend)
    ratio, grams = recipe.tanks.ratio, {(one.tank, one.entry_id): one.weighed_g for one in _weighed(batch)}
    shelf, pins = [], {}
    for tank, entry_id, part in _parts(batch):
        mg_per_l = 1000.0 * grams[tank, entry_id] / (filled_l(batch, tank) * ratio)
        shelf.append(_exactly(entries[entry_id], part, mg_per_l))
        pins[part] = tank
    held = {entry_id for _tank, entry_id in grams}
    for source, mg_per_l in zip(blend.shelf.sources, blend.amounts_mg_per_l.tolist(), strict=True):
        if source.kind == "acid" and source.key not in held and mg_per_l > 0.0 and place != "tank":
            shelf.append(_exactly(source.entry, source.key, mg_per_l))
    return structs.replace(
        recipe,
        aim=structs.replace(blend.aim, ec_ms_per_cm=None, ec_is_rise_over_water=False),
        shelf=tuple(shelf),
        goal="closest",
        acid_into=place,
        tanks=structs.replace(recipe.tanks, pins=pins, count=max(recipe.tanks.count, 1)),
    )


def _exactly(entry: ShelfEntry, key: str, mg_per_l: float) -> ShelfEntry:
    return structs.replace(
        entry,
        entry_id=None if key == entry.salt else key,
        at_least_mg_per_l=None,
        at_most_mg_per_l=None,
        exactly_mg_per_l=mg_per_l,
    )


def _entries(batch: MadeBatch) -> dict[str, ShelfEntry]:
    return {entry.key: entry for entry in batch.recipe.shelf}


def _weighed(batch: MadeBatch) -> Iterator[Weighed]:
    """What went in, each product of each tank once."""
    sums: dict[tuple[str, str], Weighed] = {}
    for one in batch.weighed:
        before = sums.get((one.tank, one.entry_id))
        total = one.weighed_g + (0.0 if before is None else before.weighed_g)
        sums[one.tank, one.entry_id] = structs.replace(one, weighed_g=total)
    yield from (one for one in sums.values() if one.weighed_g > 0.0)


def _parts(batch: MadeBatch) -> Iterator[tuple[str, str, str]]:
    """Tank, entry and the name the entry goes by there."""
    seen = set()
    for one in _weighed(batch):
        first = one.entry_id not in seen
        seen.add(one.entry_id)
        yield one.tank, one.entry_id, one.entry_id if first else PART.format(entry_id=one.entry_id, tank=one.tank)


def _as_weighed(batch: MadeBatch, tank: Tank, own: dict[str, str]) -> Tank:
    weighed = {(one.tank, one.entry_id): one.weighed_g for one in _weighed(batch)}
    contents = []
    for content in tank.contents:
        entry_id = own.get(content.entry_id, content.entry_id)
        contents.append(_content(content, entry_id, weighed.get((tank.name, entry_id), content.grams)))
    return structs.replace(tank, volume_l=filled_l(batch, tank.name), contents=tuple(contents))


def _content(content: TankContent, entry_id: str, grams: float) -> TankContent:
    per_gram = None if content.millilitres is None else content.millilitres / content.grams
    volume = None if per_gram is None else per_gram * grams
    return structs.replace(
        content, entry_id=entry_id, grams=grams, grams_to_weigh=grams, millilitres=volume, change_percent={}
    )


def _merged(amounts: tuple[Amount, ...], own: dict[str, str]) -> tuple[Amount, ...]:
    """Amounts under their own names again, the parts of one entry together."""
    merged: dict[str, Amount] = {}
    for amount in amounts:
        key = own.get(amount.entry_id, amount.entry_id)
        named = structs.replace(amount, entry_id=key)
        merged[key] = named if key not in merged else _together(merged[key], named)
    return tuple(merged.values())


def _together(one: Amount, other: Amount) -> Amount:
    total = one.mg_per_l + other.mg_per_l
    shares = {tank: part.mg_per_l * share / total for part in (one, other) for tank, share in part.shares.items()}
    brings = {
        name: one.brings_mg_per_l.get(name, 0.0) + other.brings_mg_per_l.get(name, 0.0)
        for name in {**one.brings_mg_per_l, **other.brings_mg_per_l}
    }
    summed = {
        name: None if getattr(one, name) is None else getattr(one, name) + getattr(other, name)
        for name in ("ml_per_l", "ml_per_1000_l", "ml_per_filling")
    }
    alkalinity = one.alkalinity_meq_per_l + other.alkalinity_meq_per_l
    return structs.replace(
        one, mg_per_l=total, shares=shares, brings_mg_per_l=brings, alkalinity_meq_per_l=alkalinity, **summed
    )
