"""The command `correct`: a laboratory's report of a reservoir in, what to drain and add out."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from app.__main__ import main
from core.recipe import dumps
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe

SHELF = [*PLAIN, "boric-acid", "sodium-chloride"]
GOOD = {"NO3-N": 150, "P": 40, "K": 200, "Ca": 150, "Mg": 35, "S": 55, "B": 0.3}


@pytest.fixture
def bench(tmp_path: Path):
    """Write a recipe and a report, and give back what stands behind the command."""

    def make(changed: dict, made=None, whole=None) -> list[str]:
        made = recipe(SIX | {"B": 0.3}, SHELF, title="strawberry") if made is None else made
        (tmp_path / "r.saltwright").write_bytes(dumps(made))
        report = {"name": "lab", "mg_per_l": GOOD | changed} if whole is None else whole
        (tmp_path / "lab.json").write_text(json.dumps(report), encoding="utf-8")
        return ["correct", str(tmp_path / "r.saltwright"), "--analysis", str(tmp_path / "lab.json")]

    return make


def test_what_is_short_is_added_to_the_volume_there_is(bench, capsys) -> None:
    assert main([*bench({"K": 150, "NO3-N": 130}), "--volume", "400 L", "--json"]) == 0
    small = json.loads(capsys.readouterr().out)
    assert main([*bench({"K": 150, "NO3-N": 130}), "--volume", "200 US gal", "--json"]) == 0
    large = json.loads(capsys.readouterr().out)
    assert small["drain_l"] == large["drain_l"] == 0
    grams = {one["entry_id"]: one["grams"] for one in small["additions"]}
    assert 0.38672 * grams["potassium-nitrate"] == pytest.approx(50 * 0.4, rel=0.15)
    ratio = 200 * 3.785411784 / 400  # a US gallon is 231 cubic inches
    assert [one["grams"] for one in large["additions"]] == pytest.approx([ratio * grams[k] for k in grams])
    assert small["in_range"]
    assert "Drain nothing." in small["text"]


def test_text_tells_what_to_do_what_it_changes_and_what_the_meter_will_not_show(bench, capsys) -> None:
    assert main([*bench({"B": 0.9}), "--volume", "400 L"]) == 0
    shown = capsys.readouterr().out
    assert shown.startswith("strawberry: Correcting 400 L\n")
    assert "Drain 200 L (50 %)" in shown
    assert "Boron is far off" in shown
    assert "It does not show what happens to boron" in shown
    assert "Still out of range after this step: boron." in shown
    assert main([*bench({"B": 0.9}), "--volume", "400 L", "--at-once", "100"]) == 0
    whole = capsys.readouterr().out
    assert "Drain 240 L (60 %)" in whole
    assert "After that every target is in its range." in whole


def test_what_is_fixed_in_the_recipe_is_not_added_twice(bench, capsys) -> None:
    shelf = [{"salt": "calcium-nitrate-tetrahydrate", "exactly_mg_per_l": 600}, *SHELF[1:]]
    assert main([*bench({}, recipe(SIX | {"B": 0.3}, shelf)), "--json"]) == 0
    grams = {one["entry_id"]: one["grams"] for one in json.loads(capsys.readouterr().out)["additions"]}
    assert grams.get("calcium-nitrate-tetrahydrate", 0.0) < 60.0  # 600 g would double it


def test_acid_is_told_in_millilitres_with_its_caution(bench, capsys) -> None:
    made = recipe(SIX | {"B": 0.3}, [*SHELF, {"salt": "nitric-acid", "strength_percent": 60}], water=HARD)
    assert main([*bench({"B": 0.5, "HCO3": 120}, made), "--volume", "400 L", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    acid = next(one for one in found["additions"] if one["entry_id"] == "nitric-acid")
    assert acid["millilitres"] == pytest.approx(acid["grams"] / 1.367, rel=0.01)
    assert "acid-handling" in {caution["code"] for caution in found["cautions"]}


def test_a_solution_that_harms_the_crop_ends_in_one(bench, capsys) -> None:
    assert main(bench({"B": 12.0})) == 1
    assert "STOP" in capsys.readouterr().out


def test_what_the_report_leaves_out_is_told(bench, capsys) -> None:
    assert main(bench({}, whole={"mg_per_l": {"NO3-N": 150, "P": 40, "K": 200, "Ca": 150, "Mg": 35}})) == 0
    assert "Not in the report, so taken as fresh feed has it: sulfur and boron." in capsys.readouterr().out


@pytest.mark.parametrize(
    ("more", "complaint"),
    [
        (["--volume", "much"], "--volume"),
        (["--volume", "0"], "--volume"),
        (["--at-once", "0"], "--at-once"),
        (["--at-once", "nan"], "--at-once"),
    ],
)
def test_what_makes_no_sense_is_refused_in_one_line(bench, capsys, more, complaint) -> None:
    assert main([*bench({}), *more]) == 2
    err = capsys.readouterr().err
    assert complaint in err
    assert err.count("\n") == 1


def test_a_report_of_nothing_and_an_aim_at_nothing_are_refused(bench, capsys) -> None:
    assert main(bench({}, whole={"name": "empty"})) == 2
    assert main(bench({}, recipe({}, [{"salt": "potassium-nitrate", "exactly_mg_per_l": 100}]))) == 2
    assert main(["correct", "nowhere.saltwright", "--analysis", "nowhere.json"]) == 2
    assert capsys.readouterr().err.count("\n") == 3


def test_acid_goes_into_hard_water_before_anything_else(bench, capsys) -> None:
    made = recipe(SIX | {"B": 0.3}, [*SHELF, {"salt": "nitric-acid", "strength_percent": 60}], water=HARD)
    assert main([*bench({"K": 150, "HCO3": 120}, made), "--volume", "400 L"]) == 0
    shown = capsys.readouterr().out
    assert shown.index("before anything else:\n") < shown.index("Then add one after")
    assert shown.index("Nitric acid 60 %") < shown.index("Potassium sulfate")
    unwrapped = " ".join(shown.split())
    assert (
        "Protection: face shield and goggles, acid gloves, apron, boots, moving air. Nitric acid: always" in unwrapped
    )
    assert main([*bench({"K": 150, "HCO3": 120}, made), "--json"]) == 0
    additions = json.loads(capsys.readouterr().out)["additions"]
    assert [one["turn"] for one in additions] == ["first", *["then"] * (len(additions) - 1)]


def test_acid_goes_last_in_soft_water(bench, capsys) -> None:
    shelf = [*SHELF, {"salt": "nitric-acid", "strength_percent": 60}]
    made = recipe(SIX | {"B": 0.3}, shelf, water={"mg_per_l": {"HCO3": 30}})
    assert main([*bench({"K": 150, "HCO3": 120}, made), "--volume", "400 L"]) == 0
    shown = capsys.readouterr().out
    assert shown.index("Then add one after") < shown.index("The acid last, a little at a time, by the pH:")
    assert shown.index("Potassium sulfate") < shown.index("Nitric acid 60 %")


def test_what_no_scale_there_is_can_show_is_told(bench, capsys) -> None:
    """Boron at 0.25 of 0.3 mg/L in 10 L: 3 mg of boric acid; the finer scale shows hundredths of a gram."""
    scales = [{"capacity_g": 6000, "readability_g": 1}, {"capacity_g": 200, "readability_g": 0.01}]
    made = recipe(SIX | {"B": 0.3}, SHELF, batch={"scales": scales})
    assert main([*bench({"B": 0.25}, made), "--volume", "10 L"]) == 0
    assert "Under half a step of the finest scale (0.01 g), so it cannot be weighed: boric acid." in " ".join(
        capsys.readouterr().out.split()
    )
    assert main([*bench({"B": 0.25}, made), "--volume", "400 L"]) == 0
    assert "Under half a step" not in capsys.readouterr().out


def test_a_recipe_is_no_report(bench, capsys) -> None:
    made = bench({})
    assert main([*made[:3], made[1]]) == 2
    err = capsys.readouterr().err
    assert "is a recipe or another of our files, no laboratory's report" in err
    assert err.count("\n") == 1
