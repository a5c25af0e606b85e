"""Recipes drawn at random: a crop of the catalog, a priced shelf that can serve it, any water, acids and bases."""

from __future__ import annotations

import random
from functools import lru_cache

from msgspec.structs import replace

from core.blend.nutrients import ROW
from core.blend.shelf import compile_shelf
from core.catalog import crops, salts
from core.recipe.records import TRACES, Aim, Recipe, ShelfEntry, Target, Water, WaterContents

ONE_OF_EACH = (
    ("calcium-nitrate-tetrahydrate", "calcium-nitrate-greenhouse"),
    ("potassium-nitrate",),
    ("potassium-sulfate",),
    ("monopotassium-phosphate", "dipotassium-phosphate", "monoammonium-phosphate", "diammonium-phosphate"),
    ("magnesium-sulfate-heptahydrate", "magnesium-nitrate-hexahydrate"),
    ("iron-edta-13", "iron-dtpa-11", "iron-eddha-6", "iron-sulfate-heptahydrate"),
    ("manganese-sulfate-monohydrate", "manganese-edta-13"),
    ("zinc-sulfate-heptahydrate", "zinc-edta-15"),
    ("borax-decahydrate", "boric-acid", "disodium-octaborate-tetrahydrate"),
    ("copper-sulfate-pentahydrate", "copper-edta-15"),
    ("sodium-molybdate-dihydrate", "ammonium-heptamolybdate-tetrahydrate"),
)  # fmt: skip
ALKALINE = ("dipotassium-phosphate", "diammonium-phosphate", "potassium-silicate-solution")
"""Salts that bring alkalinity an acid could undo."""


@lru_cache(maxsize=128)
def _traces(salt: str) -> frozenset[str]:
    brings = compile_shelf((ShelfEntry(salt),)).brings
    return frozenset(trace for trace in TRACES if trace != "Si" and brings[ROW[trace], 0] > 0.0)


def _water(draw: random.Random) -> Water:
    """A water balanced in charge, its bicarbonate often a round figure."""
    alkalinity = draw.choice((0.0, 0.3, 0.5, draw.uniform(0.0, 1.0), draw.uniform(1.0, 5.0)))
    sodium, chloride, sulfate = draw.uniform(0.0, 1.5), draw.uniform(0.0, 1.0), draw.uniform(0.0, 0.5)
    hardness = max(0.0, alkalinity + chloride + 2.0 * sulfate - sodium)
    calcium = hardness / 2.0 * draw.uniform(0.6, 0.9)
    contents = WaterContents(
        ca=round(40.08 * calcium, 1), mg=round(24.3 * (hardness / 2.0 - calcium), 1), na=round(22.99 * sodium, 1),
        cl=round(35.45 * chloride, 1), s=round(32.06 * sulfate, 1), hco3=61.017 * alkalinity,
    )  # fmt: skip
    return Water("drawn", contents, ph=7.4)


def random_recipe(seed: int) -> Recipe:
    """A recipe for the closest fit; traces are on the shelf only where the crop's profile names them."""
    draw = random.Random(seed)
    profile = draw.choice([crop for crop in crops() if crop.targets])
    named = {target.nutrient for target in profile.targets}
    kinds = {salt.id: salt.kind for salt in salts().values()}
    ids = [draw.choice(one) for one in ONE_OF_EACH]
    others = [salt for salt, kind in kinds.items() if kind not in ("acid", "base") and salt not in ids]
    ids += draw.sample(others, draw.choice((0, 2, 5)))
    ids += draw.sample([salt for salt, kind in kinds.items() if kind == "acid"], draw.choice((0, 1, 1, 2)))
    if draw.random() < 0.35:
        ids += draw.sample([salt for salt, kind in kinds.items() if kind == "base"], 1)
    served = [salt for salt in ids if not _traces(salt) or _traces(salt) & named]
    draw.shuffle(served)
    residual = draw.choice((0.0, 0.3, 0.5, 1.0))
    asked = draw.choice((Aim(), Aim(), Aim(residual_alkalinity_meq_per_l=residual), Aim(ph=5.8)))
    targets = tuple(
        Target(t.nutrient, t.mg_per_l, low_mg_per_l=t.low_mg_per_l, high_mg_per_l=t.high_mg_per_l)  # type: ignore[arg-type]
        for t in profile.targets
    )
    shelf = tuple(ShelfEntry(salt, price_per_kg=round(draw.lognormvariate(0.5, 0.8), 2)) for salt in served)
    aim = replace(asked, targets=targets, crop=profile.id)
    return Recipe(format="saltwright-recipe", schema=1, shelf=shelf, aim=aim, water=_water(draw))


def with_acid_and_what_it_undoes(seed: int) -> Recipe:
    """A random recipe with wider ranges, an acid on its shelf in any case and alkaline salts beside it."""
    recipe, draw = random_recipe(seed), random.Random(-seed)
    held = {entry.salt for entry in recipe.shelf}
    acids = {salt.id for salt in salts().values() if salt.kind == "acid"}
    added = [salt for salt in ALKALINE if salt not in held and draw.random() < 0.6]
    added += [] if held & acids else ["nitric-acid"]
    shelf = (*recipe.shelf, *(ShelfEntry(salt, price_per_kg=round(draw.lognormvariate(0.5, 0.8), 2)) for salt in added))
    width = draw.choice((8.0, 12.0, 20.0))
    targets = tuple(Target(t.nutrient, t.mg_per_l, tolerance_percent=width) for t in recipe.aim.targets)
    return replace(recipe, shelf=shelf, aim=replace(recipe.aim, targets=targets, crop=None))
