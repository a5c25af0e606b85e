"""Writing: the golden file byte for byte, and every recipe back as it was."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import Struct, structs

from core.recipe import RecipeError, dumps, load, loads
from core.recipe.records import Aim, Recipe, ShelfEntry, TankSetup, Target, Water, WaterContents

GOLDEN = Path(__file__).parent / "golden" / "recipe-1.saltwright"
SHELF = (ShelfEntry("potassium-nitrate"),)


def recipe_of(**fields: object) -> Recipe:
    return Recipe(**{"format": "saltwright-recipe", "schema": 1, "shelf": SHELF, **fields})


def test_golden_file_byte_for_byte() -> None:
    data = GOLDEN.read_bytes()
    assert dumps(loads(data)) == data
    assert load(GOLDEN) == loads(data)


def stated_fields(record: Struct) -> set[tuple[str, str]]:
    """Return (record, field) for every field that differs from its default, here and in every record inside."""
    found: set[tuple[str, str]] = set()
    for info in structs.fields(record):
        value = getattr(record, info.name)
        default = info.default_factory() if callable(info.default_factory) else info.default
        if value != default:
            found.add((type(record).__name__, info.name))
        for inner in value if isinstance(value, tuple) else (value,):
            found |= stated_fields(inner) if isinstance(inner, Struct) else set()
    return found


def test_golden_file_states_every_field() -> None:
    stated = stated_fields(load(GOLDEN))
    records = [kind for kind in _records(Recipe) if kind is not Recipe]
    every = {(kind.__name__, info.name) for kind in [*records, Recipe] for info in structs.fields(kind)}
    assert every - stated == set()


def _records(kind: type) -> set[type]:
    from core.recipe.meanings import MEANINGS

    return set(MEANINGS) | {kind}


def test_defaults_are_left_out_and_equal_recipes_are_equal_bytes() -> None:
    plain = recipe_of()
    spelled = recipe_of(aim=Aim(targets=()), water=Water(name="", mg_per_l=WaterContents()), tanks=TankSetup(ratio=100))
    assert plain == spelled
    assert dumps(plain) == dumps(spelled)
    assert json.loads(dumps(plain)) == {
        "format": "saltwright-recipe",
        "schema": 1,
        "shelf": [{"salt": "potassium-nitrate"}],
    }


def test_first_names_and_last_byte() -> None:
    data = dumps(recipe_of(title="t"))
    assert list(json.loads(data)) == ["format", "schema", "title", "shelf"]
    assert data.endswith(b"}\n")


def test_lines_are_short_enough_to_read() -> None:
    assert max(map(len, GOLDEN.read_text("utf-8").splitlines())) <= 100


@pytest.mark.parametrize(("number", "text"), [(128.0, "128"), (0.1 + 0.2, "0.30000000000000004"), (1e-7, "1e-07")])
def test_numbers_are_the_shortest_that_read_back(number: float, text: str) -> None:
    data = dumps(recipe_of(aim=Aim(targets=(Target("K", number),))))
    assert f'"mg_per_l": {text}}}' in data.decode()
    assert loads(data).aim.targets[0].mg_per_l == number


def test_number_that_no_file_can_hold() -> None:
    with pytest.raises(RecipeError, match="holds a number that is not finite"):
        dumps(recipe_of(aim=Aim(ph=float("nan"))))


def test_damaged_text_is_written_and_then_refused_by_name() -> None:
    with pytest.raises(RecipeError, match="U\\+DC80"):
        loads(dumps(recipe_of(title="a\udc80")))


texts = st.text(st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp", "Cf"]), max_size=40)
amounts = st.floats(1e-9, 20_000)


@given(title=texts, name=texts, ca=st.none() | amounts, target=amounts, temperature=st.floats(-5, 60))
def test_every_recipe_comes_back(title: str, name: str, ca: float | None, target: float, temperature: float) -> None:
    if 0 < abs(temperature) < 1e-9:
        temperature = 0.0
    made = recipe_of(
        title=title,
        water=Water(name=name, mg_per_l=WaterContents(ca=ca), temperature_c=temperature),
        aim=Aim(targets=(Target("N", target),)),
    )
    data = dumps(made)
    assert loads(data) == made
    assert dumps(loads(data)) == data
