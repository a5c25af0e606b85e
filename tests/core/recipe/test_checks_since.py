"""Checking only what an edit changed finds what checking everything finds."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path

import pytest
from msgspec import structs

from core.recipe import Recipe, RecipeError, check, load
from core.recipe.records import Limit, Scale, ShelfEntry, Target, WaterContents
from core.recipe.strict_json import MAX_MEMBERS

GOLDEN = load(Path(__file__).parent / "golden" / "recipe-1.saltwright")
Edit = Callable[[Recipe], Recipe]


def of(part: str, **changed: object) -> Edit:
    return lambda recipe: structs.replace(recipe, **{part: structs.replace(getattr(recipe, part), **changed)})


def whole(**changed: object) -> Edit:
    return lambda recipe: structs.replace(recipe, **changed)


def entry(**changed: object) -> Edit:
    return lambda recipe: structs.replace(
        recipe, shelf=(*recipe.shelf[:-1], structs.replace(recipe.shelf[-1], **changed))
    )


SOUND: tuple[Edit, ...] = (
    of("aim", ph=6.0),
    of("water", temperature_c=8.0, mg_per_l=WaterContents(ca=40.0)),
    whole(title="another", second_water=None, second_water_share_percent=0.0),
    entry(price_per_kg=2.5),
    of("batch", scales=(Scale(1000, 0.1),)),
)
ODD: tuple[Edit, ...] = (
    of("aim", ph=15.0),
    of("aim", ph=float("nan")),
    of("aim", targets=(*GOLDEN.aim.targets, Target("K", 9.0))),
    of("aim", limits=(Limit("Na", at_most_mg_per_l=1, at_least_mg_per_l=2),)),
    of("water", mg_per_l=WaterContents(n=1.0, no3_n=5.0)),
    of("water", name="a\u202eb"),
    of("tanks", pins={"no such salt": "A"}),
    whole(title="x" * 300),
    whole(currency="euro"),
    whole(shelf=()),
    whole(shelf=tuple(ShelfEntry("potassium-nitrate", entry_id=f"bag {n}") for n in range(MAX_MEMBERS + 1))),
    entry(salt="no-such-salt"),
    entry(at_least_mg_per_l=9.0, at_most_mg_per_l=3.0, exactly_mg_per_l=None),
    lambda recipe: structs.replace(recipe, shelf=(*recipe.shelf, recipe.shelf[0])),
    lambda recipe: structs.replace(recipe, shelf=recipe.shelf[1:]),
)


def refusal(recipe: Recipe, since: Recipe | None = None) -> str:
    try:
        check(recipe, since)
    except RecipeError as error:
        return str(error)
    return ""


@pytest.mark.parametrize("edit", SOUND)
def test_what_is_sound_passes_both_ways(edit: Edit) -> None:
    assert refusal(edit(GOLDEN)) == refusal(edit(GOLDEN), GOLDEN) == ""


@pytest.mark.parametrize("edit", ODD)
def test_the_same_is_refused_in_the_same_words(edit: Edit) -> None:
    assert refusal(edit(GOLDEN), GOLDEN) == refusal(edit(GOLDEN))


def test_one_edit_after_the_other() -> None:
    chance, recipe = random.Random(8), GOLDEN
    refused = 0
    for _edit in range(200):
        edited = chance.choice((*SOUND, *SOUND, *ODD))(recipe)
        told = refusal(edited, recipe)
        assert told == refusal(edited)
        refused += bool(told)
        recipe = recipe if told else edited
    assert 20 < refused < 180
