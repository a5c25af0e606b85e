"""What is read out of a diary, worked out behind the window."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from app.wording.logbook import part_title
from app.wording.phrases import product_parts

if TYPE_CHECKING:
    from core.logbook.forecast import Foretold
    from core.logbook.records import Logbook, MadeBatch, Reservoir
    from core.logbook.uptake import Uptake

Span = tuple[float, float]
Titles = dict[str, dict[str, str]]
"""Batch -> tank letter -> what the tank is called."""


class Told(NamedTuple):
    """Of a reservoir, all that is read out of its diary.

    `balance` of every entry is counted from the filling on, with what the crop is known to take; `foretold` from the
    reading before it by water and salts alone, as the search for a cause does. `odd` are the entries that are marked,
    `asked` the one the search is for.
    """

    reservoir: Reservoir
    balance: tuple[Foretold, ...]
    foretold: tuple[Foretold, ...]
    uptakes: tuple[Uptake, ...]
    wanted_ec: Span | None
    wanted_ph: Span | None
    odd: frozenset[int]
    asked: int | None
    titles: Titles
    batches: tuple[MadeBatch, ...] = ()


def read_diary(logbook: Logbook, reservoir: Reservoir, titles: Titles) -> Told:
    """Work out all that is shown of a diary but the causes; `titles` are those known already."""
    from core.logbook.forecast import forecast
    from core.logbook.stores import Stores
    from core.logbook.triage import surprises, suspect
    from core.logbook.uptake import learned_uptake, uptakes

    told = forecast(logbook, reservoir, learned_uptake(logbook, reservoir))
    batch = Stores(logbook, reservoir).batch_in_use(len(reservoir.entries) - 1) if reservoir.entries else None
    batch = batch or (logbook.batches[-1] if logbook.batches else None)
    ec, ph = (None, None) if batch is None else _wanted(batch)
    used = {entry.batch_id for entry in reservoir.entries} | ({batch.batch_id} if batch else set())
    fresh = {one.batch_id: _titles(one) for one in logbook.batches if one.batch_id in used - titles.keys()}
    bare = forecast(logbook, reservoir)
    return Told(
        reservoir, told, bare, uptakes(logbook, reservoir), ec, ph, frozenset(surprises(reservoir, bare)),
        suspect(reservoir, bare), titles | fresh, logbook.batches,
    )  # fmt: skip


def _wanted(batch: MadeBatch) -> tuple[Span | None, Span | None]:
    """The EC and pH the batch's recipe is meant for."""
    from core.plan.feed_tanks import NoTanks, feed_tanks

    try:
        tanks = feed_tanks(batch.recipe)
    except NoTanks:
        return None, None
    return tanks.wanted_ms_per_cm, tanks.wanted_ph


def _titles(batch: MadeBatch) -> dict[str, str]:
    from core.plan import plan

    return {tank.name: part_title(tank.content, tank.name) for tank in plan(batch.recipe).tanks}


def product_names(batch: MadeBatch | None) -> dict[str, str]:
    """Return entry of the batch's shelf -> what it is called."""
    if batch is None:
        return {}
    return {entry.key: " ".join(filter(None, product_parts(entry))) for entry in batch.recipe.shelf}


def acids_of(batch: MadeBatch | None) -> tuple[str, ...]:
    """Return the liquid acids and bases of the batch's shelf."""
    if batch is None:
        return ()
    from core.blend.shelf import source_of

    sources = (source_of(entry) for entry in batch.recipe.shelf)
    return tuple(one.key for one in sources if one.kind in ("acid", "base") and one.density_kg_per_l is not None)


def letters_of(batch: MadeBatch | None) -> tuple[str, ...]:
    """Return the tanks something was weighed into."""
    return () if batch is None else tuple(sorted({one.tank for one in batch.weighed if one.tank in "ABCD"}))


def planned_batch(recipe: object, batch_id: str, day: str, mark: str, note: str) -> MadeBatch:
    """Return a recipe's tanks as if they had been mixed just as planned."""
    from core.logbook.records import MadeBatch, Weighed
    from core.plan import plan
    from core.recipe.records import Recipe

    assert isinstance(recipe, Recipe)
    weighed = tuple(
        Weighed(tank.name, one.entry_id, one.grams_to_weigh, one.grams_to_weigh)
        for tank in plan(recipe).tanks
        for one in tank.contents
    )
    return MadeBatch(batch_id, day, recipe, mark, weighed, note=note)
