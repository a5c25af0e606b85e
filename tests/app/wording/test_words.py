"""Codes of the engine become words; what has no word stays as it is."""

from __future__ import annotations

from typing import get_args, get_type_hints

import pytest

from app.wording import joined, level_word, nutrient_word, place_word, salt_name, solid_word, tank_title, verdict_word
from core.catalog import salts
from core.plan.records import Level, NutrientRow, Tank, Verdict
from core.recipe.records import NUTRIENTS


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
