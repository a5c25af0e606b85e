"""What the blend could not take or keep, and why: ammonium held back or forced in, urea left out, void pins."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from core.blend.alkalinity import is_acid
from core.blend.ammonium import YIELDED, ammonium_share_percent, brings_ammonium, is_bound_in
from core.blend.causes import held_by_ammonium_share
from core.blend.demands import urea_allowed
from core.blend.nutrients import ROW
from core.blend.shelf import Shelf
from core.blend.solve import Blend, crop_ammonium_share_percent
from core.plan.amounts import acid_place
from core.plan.cautions import caution
from core.plan.records import Caution

TANK_LETTERS = "ABCD"


def choice_cautions(blend: Blend) -> Iterator[Caution]:
    """Everything of this kind."""
    yield from _ammonium(blend)
    yield from _urea(blend)
    yield from _pins(blend)
    ready = {s.key: amount / g_per_l for s, amount in blend.used if (g_per_l := s.entry.mixed_g_per_l)}
    if ready:
        yield caution("ready-mixed", entry_ids=list(ready), doses_ml_per_l=list(ready.values()))


def _ammonium(blend: Blend) -> Iterator[Caution]:
    held = held_by_ammonium_share(blend)
    if held:
        share = ammonium_share_percent(blend.aim, crop_ammonium_share_percent(blend.recipe))
        yield caution("ammonium-holds", nutrients=list(held), limit_percent=share)
    if YIELDED in blend.demands.notes:
        forced = [s.key for s in blend.shelf.sources if is_bound_in(s.entry) and brings_ammonium(s)]
        yield caution("ammonium-forced", entry_ids=forced)


def _urea(blend: Blend) -> Iterator[Caution]:
    """Products left out for their urea though they bring more than that; urea itself is left out as the aim says."""
    if urea_allowed(blend.aim):
        return
    left_out = _urea_beside_other(blend.shelf)
    if left_out and blend.aim.targets:
        yield caution("urea-left-out", entry_ids=list(left_out))


@lru_cache(maxsize=64)
def _urea_beside_other(shelf: Shelf) -> tuple[str, ...]:
    """Keys of the products whose amount is solved for that bring urea and something else."""
    other = [row for nutrient, row in ROW.items() if nutrient not in ("N", "urea-N")]
    with_urea = [s for s in shelf.sources if s.entry.exactly_mg_per_l is None and s.brings[ROW["urea-N"]] > 0.0]
    return tuple([source.key for source in with_urea if any(source.brings[row] > 0.0 for row in other)])


def _pins(blend: Blend) -> Iterator[Caution]:
    pins, setup = blend.recipe.tanks.pins, blend.recipe.tanks
    used = {source.key: source for source, _ in blend.used}
    acids = [key for key in pins if key in used and is_acid(used[key])]
    if acids and acid_place(blend) != "tank":
        yield caution("acid-pin", entry_ids=acids)
    shelf = {source.key for source in blend.shelf.sources}
    elsewhere = [key for key in pins if key not in shelf]
    if elsewhere:
        yield caution("pin-unknown", entry_ids=elsewhere)
    letters = TANK_LETTERS[: setup.count]
    beyond = [key for key, letter in pins.items() if key in used and letter not in letters]
    if beyond:
        yield caution("pin-beyond", entry_ids=beyond, count=setup.count)
