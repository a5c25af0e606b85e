"""Schema numbers: ours is read, newer is refused by name, older is lifted step by step."""

from __future__ import annotations

from typing import Any

import pytest

from core.recipe import RecipeError, loads, migrations


def document(schema: str) -> bytes:
    return f'{{"format": "saltwright-recipe", "schema": {schema}, "shelf": [{{"salt": "urea"}}]}}'.encode()


def test_newer_is_refused_by_name() -> None:
    with pytest.raises(RecipeError, match=r"was written by a newer Saltwright \(schema 7\); this one reads up to 1"):
        loads(document("7"))


def test_newer_is_refused_before_its_fields_are_looked_at() -> None:
    with pytest.raises(RecipeError, match="newer Saltwright"):
        loads(b'{"format": "saltwright-recipe", "schema": 2, "racks": {}}')


@pytest.mark.parametrize("schema", ["0", "-1", "true", "1.0", '"1"', "null", "[1]", "{}"])
def test_odd_schema(schema: str) -> None:
    with pytest.raises(RecipeError, match="schema must be a whole number from 1; write 1"):
        loads(document(schema))


def test_missing_schema() -> None:
    with pytest.raises(RecipeError, match="schema must be a whole number from 1"):
        loads(b'{"format": "saltwright-recipe", "shelf": []}')


def test_older_is_lifted_one_step_at_a_time(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(migrations, "STEPS", {})
    monkeypatch.setattr(migrations, "SCHEMA", 3)

    @migrations.migrates(1, 2)
    def _(old: dict[str, Any]) -> dict[str, Any]:
        return {**old, "seen": [1]}

    @migrations.migrates(2, 3)
    def _(old: dict[str, Any]) -> dict[str, Any]:
        return {**old, "seen": [*old["seen"], 2]}

    old = {"format": "saltwright-recipe", "schema": 1}
    assert migrations.migrated(old) == {"format": "saltwright-recipe", "schema": 3, "seen": [1, 2]}
    assert old["schema"] == 1


def test_steps_go_up_by_one_and_stand_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(migrations, "STEPS", {1: dict})
    for old, new in ((1, 3), (2, 1), (1, 2)):
        with pytest.raises(ValueError, match="no step"):
            migrations.migrates(old, new)


def test_every_older_schema_has_its_step() -> None:
    assert sorted(migrations.STEPS) == list(range(1, migrations.SCHEMA))
