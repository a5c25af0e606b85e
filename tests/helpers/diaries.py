"""Short ways to make batches and diaries in tests."""

from __future__ import annotations

from msgspec import structs

from core.logbook.records import Entry, Logbook, MadeBatch, Reservoir, Weighed
from core.plan import plan
from core.recipe.records import Recipe


def batch_of(recipe: Recipe, batch_id: str = "1", **rest) -> MadeBatch:
    """A batch of this recipe, weighed just as planned; without acid that goes into no tank."""
    weighed = [
        Weighed(tank.name, content.entry_id, content.grams, content.grams)
        for tank in plan(recipe).tanks
        for content in tank.contents
    ]
    return MadeBatch(batch_id, "2026-03-01", recipe, weighed=tuple(weighed), **rest)


def with_weight(batch: MadeBatch, entry_id: str, factor: float) -> MadeBatch:
    """The batch with another weight of one product than was planned."""
    weighed = tuple(
        structs.replace(one, weighed_g=one.weighed_g * factor) if one.entry_id == entry_id else one
        for one in batch.weighed
    )
    return structs.replace(batch, weighed=weighed)


def diary(batch: MadeBatch, *entries: Entry, volume_l: float = 300.0, **rest) -> Logbook:
    """A logbook of one batch and one reservoir."""
    return Logbook(batches=(batch,), reservoirs=(Reservoir("Tunnel 1", volume_l, entries=entries, **rest),))
