"""A recipe turned into another: for another crop or water, from tanks already mixed, or to another strength.

Each way answers with a new recipe; the old one stays as it is. What changed is told by comparing their plans.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from msgspec.structs import replace

from core.blend.alkalinity import is_acid
from core.blend.choose import USED_MG_PER_L
from core.blend.fewest import fewest
from core.blend.judge import misses
from core.blend.mixed_tanks import MixedTank
from core.blend.ranges import ranges_of
from core.blend.shelf import compile_shelf, source_of
from core.blend.solve import Blend, preferences, solve
from core.catalog import CropProfile, crop
from core.recipe.records import NUTRIENTS, TRACES, Aim, Recipe, ShelfEntry, Target, Water


@dataclass(frozen=True)
class Dose:
    """How much of a tank already mixed goes into each litre of feed, beside how it was meant to be used."""

    entry_id: str
    ml_per_l: float
    meant_ml_per_l: float


@dataclass(frozen=True, eq=False)
class Adapted:
    """A new recipe made from another.

    Attributes
    ----------
    recipe : Recipe, ready to plan
    blend : Blend of it
    parent : title of the recipe it came from
    doses : for tanks already mixed
    supplements : keys added to them
    in_range : bool, every target in its range
    kept_traces : nutrients whose targets the new crop's profile leaves open and the parent's stand for
    """

    recipe: Recipe
    blend: Blend
    parent: str
    doses: tuple[Dose, ...] = ()
    supplements: tuple[str, ...] = ()
    in_range: bool = True
    kept_traces: tuple[str, ...] = ()


def for_crop(recipe: Recipe, crop_id: str) -> Adapted:
    """The same shelf and water for another crop's profile.

    Targets become the profile's; trace elements it does not name keep the recipe's targets. Limits stay, as they
    belong to the water and the system; a share of ammonium, a pH or an EC stated for the old crop go.

    Raises
    ------
    core.catalog.UnknownCrop : no such profile.
    ValueError : the profile states no targets.
    """
    profile = crop(crop_id)
    if not profile.targets:
        raise ValueError(f"the profile {crop_id} states no targets, only EC and pH")
    aim, kept = aim_from_profile(recipe.aim, profile)
    return _adapted(recipe, replace(recipe, aim=aim), kept_traces=kept)


def aim_from_profile(old: Aim, profile: CropProfile) -> tuple[Aim, tuple[str, ...]]:
    """An aim with a crop profile's targets, and the trace elements whose targets were kept from the old one.

    Trace elements the profile does not name keep their targets and limits stay, as they belong to the water and the
    system; a share of ammonium, a pH or an EC stated for the old crop go.
    """
    wanted = tuple(
        Target(t.nutrient, t.mg_per_l, low_mg_per_l=t.low_mg_per_l, high_mg_per_l=t.high_mg_per_l)  # type: ignore[arg-type]
        for t in profile.targets
    )
    named = {target.nutrient for target in wanted}
    kept = tuple(t for t in old.targets if t.nutrient in TRACES and t.nutrient not in named)
    aim = Aim(
        targets=tuple(sorted((*wanted, *kept), key=lambda target: NUTRIENTS.index(target.nutrient))),
        limits=tuple(limit for limit in old.limits if limit.nutrient not in named),
        urea=old.urea,
        residual_alkalinity_meq_per_l=old.residual_alkalinity_meq_per_l,
        crop=profile.id,
    )
    return aim, tuple(target.nutrient for target in kept)


def for_water(recipe: Recipe, water: Water) -> Adapted:
    """The same aim and shelf in another water, which takes the place of both waters a recipe may blend."""
    return _adapted(recipe, replace(recipe, water=water, second_water=None, second_water_share_percent=0.0))


def from_tanks(
    recipe: Recipe,
    tanks: tuple[MixedTank, ...],
    candidates: tuple[ShelfEntry, ...],
    *,
    seconds: float | None = None,
    stop: Callable[[], bool] | None = None,
) -> Adapted:
    """A recipe's aim from tanks already mixed, in unequal doses, and as few supplements as bring it into range.

    Parameters
    ----------
    recipe : the aim and water to go for; of its shelf only what `candidates` holds is used
    tanks : the concentrates there are
    candidates : what may be added, the supplements to choose from; acids among them serve the alkalinity and are kept
    seconds, stop : see `core.blend.fewest.fewest`

    Returns
    -------
    Adapted; where no set of supplements brings every target into range, all may be used for the nearest feed and
    `in_range` says so.
    """
    ready = tuple(tank.entry for tank in tanks)
    whole = replace(recipe, shelf=(*ready, *candidates), goal="closest", tanks=replace(recipe.tanks, pins={}))
    chosen = _fewest_supplements(whole, len(ready), seconds, stop)
    kept = [entry for entry in candidates if chosen is None or entry.key in chosen or is_acid(source_of(entry))]
    new = replace(whole, shelf=(*ready, *kept))
    made = _adapted(recipe, new)
    if chosen is not None and not made.in_range:
        made = _adapted(recipe, replace(new, goal="fewest"))
    amounts = dict(zip((s.key for s in made.blend.shelf.sources), made.blend.amounts_mg_per_l.tolist(), strict=True))
    doses = tuple(Dose(t.entry.key, amounts[t.entry.key] / t.g_per_l, t.ml_per_l) for t in tanks)
    added = tuple(entry.key for entry in kept if amounts[entry.key] > 0.0 and not is_acid(source_of(entry)))
    return Adapted(made.recipe, made.blend, recipe.title, doses, added, made.in_range)


def _fewest_supplements(
    recipe: Recipe, ready: int, seconds: float | None, stop: Callable[[], bool] | None
) -> tuple[str, ...] | None:
    """Keys of the fewest supplements that bring every target into range, None where none do."""
    shelf = compile_shelf(recipe.shelf)
    blend = solve(recipe)
    demands = blend.demands
    found = fewest(
        ranges_of(blend.aim, demands, shelf), demands, shelf, preferences(demands, shelf),
        counted=np.array([column >= ready and not is_acid(shelf.sources[column]) for column in demands.free]),
        seconds=seconds, stop=stop,
    )  # fmt: skip
    if found is None:
        return None
    used = [int(column) for column, x in zip(demands.free, found.x, strict=True) if x > USED_MG_PER_L]
    return tuple(shelf.sources[column].key for column in used if column >= ready)


def _adapted(parent: Recipe, recipe: Recipe, kept_traces: tuple[str, ...] = ()) -> Adapted:
    recipe = replace(recipe, parent=parent.title)
    blend = solve(recipe)
    return Adapted(recipe, blend, parent.title, in_range=not misses(blend), kept_traces=kept_traces)
