"""The command `adapt`: another crop or water, or tanks already mixed; saved as a new recipe, never over an old one."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from app.__main__ import main
from core.recipe import dumps, load
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe

SHELF = [*PLAIN, "monoammonium-phosphate", "iron-dtpa-11", {"salt": "nitric-acid", "strength_percent": 60}]


@pytest.fixture
def strawberry(tmp_path: Path) -> str:
    path = tmp_path / "strawberry.saltwright"
    path.write_bytes(dumps(recipe(SIX | {"Fe": 2.0}, SHELF, title="strawberry")))
    return str(path)


def test_another_crop_says_what_changes_and_names_its_parent(strawberry: str, capsys) -> None:
    assert main(["adapt", strawberry, "--crop", "cucumber-ikeda-1996"]) == 0
    shown = capsys.readouterr().out
    assert shown.startswith("cucumber-ikeda-1996, adapted from strawberry\n")
    assert "What changes:" in shown
    assert "Phosphorus: 30.7 instead of 40 mg/L" in shown


def test_the_new_recipe_is_saved_and_plans_as_told(strawberry: str, tmp_path: Path, capsys) -> None:
    out = tmp_path / "cucumber.saltwright"
    assert main(["adapt", strawberry, "--crop", "cucumber-ikeda-1996", "-o", str(out), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert load(out).aim.crop == "cucumber-ikeda-1996"
    assert main(["plan", str(out), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["amounts"] == told["plan"]["amounts"]
    assert told["parent"] == "strawberry"


def test_nothing_is_overwritten(strawberry: str, tmp_path: Path, capsys) -> None:
    before = Path(strawberry).read_bytes()
    assert main(["adapt", strawberry, "--crop", "cucumber-ikeda-1996", "-o", strawberry]) == 2
    assert "exists already" in capsys.readouterr().err
    assert Path(strawberry).read_bytes() == before
    assert main(["adapt", strawberry, "--crop", "cucumber-ikeda-1996", "-o", str(tmp_path / "no" / "room")]) == 2
    assert capsys.readouterr().err.count("\n") == 1


@pytest.mark.parametrize("whole", [True, False], ids=["a recipe", "a report"])
def test_another_water_from_a_recipe_or_a_report(strawberry: str, tmp_path: Path, capsys, whole: bool) -> None:
    water = tmp_path / "water.json"
    made = dumps(recipe({}, ["urea"], water=HARD)) if whole else json.dumps(HARD).encode()
    water.write_bytes(made)
    assert main(["adapt", strawberry, "--water", str(water), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["recipe"]["water"]["mg_per_l"]["HCO3"] == 329
    assert found["recipe"]["title"] == "hard, adapted from strawberry"
    assert any(one["kind"] == "new" and one["about"] == "nitric-acid" for one in found["differences"])


def test_from_its_own_tanks_for_another_crop(strawberry: str, capsys) -> None:
    assert main(["adapt", strawberry, "--crop", "spinach-takatsuji-1997", "--from-tanks", "-", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert len(found["doses"]) == 2
    assert all(dose["meant_ml_per_l"] == 10 for dose in found["doses"])
    assert {entry["salt"] for entry in found["recipe"]["shelf"]} >= {dose["entry_id"] for dose in found["doses"]}


def test_tanks_are_told_as_doses_and_not_as_weights(strawberry: str, capsys) -> None:
    assert main(["adapt", strawberry, "--from-tanks", "-"]) == 0
    shown = capsys.readouterr().out
    assert "mL per litre of finished feed instead of 10" in shown
    assert " g  calcium side" not in shown


@pytest.mark.parametrize(
    ("more", "complaint"),
    [
        ([], "adapt to what"),
        (["--crop", "cucumbre"], "no crop profile"),
        (["--water", "/nowhere"], "cannot be read"),
        (["--from-tanks", "/nowhere"], "/nowhere"),
        (["--nonsense"], "try"),
    ],
)
def test_what_cannot_be_done_is_refused_in_one_line(strawberry: str, capsys, more: list[str], complaint: str) -> None:
    assert main(["adapt", strawberry, *more]) == 2
    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err.count("\n") == 1
    assert complaint in shown.err


@pytest.mark.parametrize("content", ["[]", "{", '{"mg_per_l": {"Ca": -5}}', '{"mg_per_l": {"Xx": 1}}', "7"])
def test_a_water_report_that_is_none_is_refused(strawberry: str, tmp_path: Path, capsys, content: str) -> None:
    water = tmp_path / "water.json"
    water.write_text(content)
    assert main(["adapt", strawberry, "--water", str(water)]) == 2
    assert capsys.readouterr().err.count("\n") == 1
