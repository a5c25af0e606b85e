"""Codes of the engine become words; what has no word stays as it is."""

from __future__ import annotations

from typing import get_args, get_type_hints

import pytest

from app.wording import joined, level_word, nutrient_word, place_word, salt_name, solid_word, tank_title, verdict_word
from app.wording.words import salt_in_sentence
from core.catalog import salts
from core.chemistry import solids as feed
from core.chemistry.concentrates import solids as concentrates
from core.plan.records import Level, NutrientRow, Tank, Verdict
from core.recipe.records import NUTRIENTS
from core.tanks import saturation


@pytest.mark.parametrize("nutrient", NUTRIENTS)
def test_every_nutrient_has_a_word(nutrient: str) -> None:
    assert nutrient_word(nutrient) not in ("", nutrient)


def test_every_tank_content_has_a_title_without_a_letter() -> None:
    for content in get_args(get_type_hints(Tank)["content"]):
        assert len(tank_title(content)) > 3


def test_every_verdict_and_level_has_a_word() -> None:
    for verdict in (*get_args(Verdict), *get_args(get_type_hints(NutrientRow)["verdict"])):
        assert verdict_word(verdict)
    assert [level_word(level) for level in get_args(Level)] == ["note", "check", "stop"]


def test_every_solid_the_engine_can_name_has_a_word() -> None:
    named = [solid.id for solid in concentrates.solids()] + [solid.name for solid in feed.solids()]
    named += [solid for _verdict, solid in saturation._FLOORS.values()]
    assert [solid for solid in named if solid_word(solid) == solid and solid not in ("urea",)] == []


def test_salts_are_called_as_in_the_catalog() -> None:
    assert all(salt_name(salt_id) == salt.name for salt_id, salt in salts().items())


def test_a_bought_blend_is_called_what_its_owner_calls_it() -> None:
    assert salt_name("blend:all but calcium") == "all but calcium"
    assert salt_name("blend: ") == "unnamed blend"


def test_what_has_no_word_stays() -> None:
    assert [f("xyz") for f in (nutrient_word, tank_title, verdict_word, level_word, place_word, solid_word)] == [
        "xyz"
    ] * 6


@pytest.mark.parametrize(
    ("names", "text"), [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (("a", "b", "c"), "a, b and c")]
)
def test_joined(names: list[str], text: str) -> None:
    assert joined(names) == text


def test_inside_a_sentence_names_of_the_catalog_begin_small() -> None:
    assert salt_in_sentence("nitric-acid") == "nitric acid"
    assert salt_in_sentence("blend:House mix") == "House mix"
    assert salt_in_sentence("Bag 1") == "Bag 1"
