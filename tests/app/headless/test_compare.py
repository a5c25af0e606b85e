"""The command `compare`: columns side by side and differences in words."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from app.__main__ import main
from core.recipe import dumps
from tests.core.blend.test_goals import AIM, priced
from tests.helpers.recipes import recipe


@pytest.fixture
def three(tmp_path: Path) -> list[str]:
    names = []
    for goal in ("closest", "cheapest", "fewest"):
        shelf = [entry | {"pack_kg": 25} for entry in priced()]
        path = tmp_path / f"{goal}.saltwright"
        path.write_bytes(dumps(recipe(AIM, shelf, goal=goal, title=goal, currency="EUR")))
        names.append(str(path))
    return names


def test_a_column_each_and_differences_in_words(three: list[str], capsys) -> None:
    assert main(["compare", *three]) == 0
    shown = capsys.readouterr().out
    head = shown.splitlines()[0]
    assert head.split() == ["mg/L", "closest", "cheapest", "fewest"]
    assert "cheapest beside closest:" in shown
    assert "Cost of 1000 L: " in shown
    assert "bags of 25 kg: 1" in shown


def test_json_holds_everything_in_numbers_and_words(three: list[str], capsys) -> None:
    assert main(["compare", *three, "--feed-l", "50000", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert [variant["title"] for variant in found["variants"]] == ["closest", "cheapest", "fewest"]
    closest, cheapest, _fewest = (variant["costing"] for variant in found["variants"])
    assert cheapest["per_1000_l"] < closest["per_1000_l"]
    assert closest["feed_l"] == 50000
    assert closest["bags_pay"] >= closest["per_1000_l"] * 50
    assert len(found["differences"]) == 2
    assert all(one["text"] for column in found["differences"] for one in column)
    assert any("of K, Ca and Mg" in ratio["text"] for ratio in found["variants"][0]["ratios"])


@pytest.mark.parametrize("feed_l", ["0", "-5", "much", "nan", "1e99"])
def test_a_use_that_is_no_amount_is_refused(three: list[str], capsys, feed_l: str) -> None:
    assert main(["compare", *three, f"--feed-l={feed_l}"]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_one_recipe_is_not_a_comparison(three: list[str], capsys) -> None:
    assert main(["compare", three[0]]) == 2
    assert capsys.readouterr().err.count("\n") == 1


@pytest.mark.parametrize("goal", ["cheapest", "fewest"])
def test_plan_for_another_goal_is_what_compare_shows(three: list[str], capsys, goal: str) -> None:
    assert main(["plan", three[0], "--goal", goal, "--json"]) == 0
    planned = json.loads(capsys.readouterr().out)
    assert main(["compare", three[0], *three[1:], "--json"]) == 0
    variants = {v["goal"]: v for v in json.loads(capsys.readouterr().out)["variants"]}
    assert {a["entry_id"]: a["mg_per_l"] for a in planned["amounts"]} == pytest.approx(
        variants[goal]["amounts_mg_per_l"]
    )


def test_a_goal_there_is_not(three: list[str], capsys) -> None:
    assert main(["plan", three[0], "--goal", "best"]) == 2
    assert capsys.readouterr().err.count("\n") == 1
