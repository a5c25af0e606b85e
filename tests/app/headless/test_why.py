"""The command `why`: reasons, remedy, offers and workings, for people and for programs."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from app.__main__ import main
from core.plan import plan
from core.recipe import dumps
from tests.core.blend.test_goals import AIM, priced
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe

PHOSPHORIC = {"salt": "phosphoric-acid", "strength_percent": 85}


@pytest.fixture
def saved(tmp_path: Path):
    def save(made: Any) -> str:
        path = tmp_path / "recipe.saltwright"
        path.write_bytes(dumps(made))
        return str(path)

    return save


@pytest.fixture
def short_of_acid(saved) -> str:
    return saved(recipe(SIX, [p for p in PLAIN if "phosphate" not in p] + [PHOSPHORIC], water=HARD))


def test_json_names_causes_and_the_remedy_in_words(short_of_acid: str, capsys) -> None:
    assert main(["why", short_of_acid, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    worst = found["reasons"][0]
    assert worst["nutrient"] == "P"
    assert worst["text"] == "Phosphorus stands at 147 mg/L; at most 42 mg/L is wanted."
    assert worst["causes"][0]["text"].startswith("It follows from the acid or base")
    assert found["remedy"]["step"] == {"kind": "add-salt", "about": "nitric-acid", "value": None}
    assert "put nitric acid on the shelf" in found["remedy"]["text"]
    assert "?" not in json.dumps([reason["causes"] for reason in found["reasons"]])


def test_text_is_worst_first_and_says_what_to_try(short_of_acid: str, capsys) -> None:
    assert main(["why", short_of_acid]) == 0
    shown = capsys.readouterr().out
    assert shown.index("Phosphorus stands") < shown.index("Nitrogen stands") < shown.index("Try this:")


def test_a_salt_to_spare_is_offered_in_words(saved, capsys) -> None:
    assert main(["why", saved(recipe(AIM | {"N": 150.0}, PLAIN))]) == 0
    shown = capsys.readouterr().out
    assert "You can do without potassium sulfate: sulfur 46.4 instead of 55.5 mg/L" in shown
    assert "still fine" in shown


def test_prices_and_entering_prices_carry_the_currency(saved, capsys) -> None:
    assert main(["why", saved(recipe(AIM, priced(), goal="cheapest", currency="EUR"))]) == 0
    shown = capsys.readouterr().out
    assert "would be used below EUR " in shown
    assert "EUR per 1000 L" in shown


@pytest.mark.parametrize("of", ["N", "EC", "ec", "potassium-nitrate", "cost"])
def test_a_working_ends_in_its_figure(saved, capsys, of: str) -> None:
    assert main(["why", saved(recipe(AIM, priced(), currency="EUR")), "--of", of]) == 0
    assert " = " in capsys.readouterr().out.splitlines()[-1]


def test_a_working_as_json(saved, capsys) -> None:
    made = recipe(AIM, priced())
    assert main(["why", saved(made), "--of", "K", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["lines"][-1]["result"]["value"] == pytest.approx(plan(made).feed.mg_per_l["K"], rel=1e-9)


@pytest.mark.parametrize(("of", "complaint"), [("Kalium", "there is no figure"), ("cost", "cannot be worked out")])
def test_a_figure_there_is_not_is_refused_in_one_line(saved, capsys, of: str, complaint: str) -> None:
    assert main(["why", saved(recipe(AIM, PLAIN)), "--of", of]) == 2
    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err.count("\n") == 1
    assert complaint in shown.err


def test_a_missed_limit_ends_in_one(saved, capsys) -> None:
    limit = {"limits": [{"nutrient": "Na", "at_most_mg_per_l": 5}]}
    assert main(["why", saved(recipe({"K": 100.0}, ["potassium-nitrate"], water=HARD, aim=limit))]) == 1
    assert capsys.readouterr().err == ""


def test_a_file_that_is_not_there(capsys) -> None:
    assert main(["why", "/nowhere/at all"]) == 2
    assert capsys.readouterr().err.count("\n") == 1
