"""Days at the bench, through the command line as a grower or a program would use it.

The recipes in `stories/` are invented. Their answers were worked out by separate arithmetic with the same label
contents, and are asserted to its precision: amounts 0.5 %, acid and EC 2 %, pH 0.1.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from app.__main__ import main

STORIES = Path(__file__).parent / "stories"
OUNCE_G = 28.34952

Planned = Callable[[str], dict[str, Any]]


@pytest.fixture
def planned(capsys: pytest.CaptureFixture[str]) -> Planned:
    def plan(story: str) -> dict[str, Any]:
        assert main(["plan", str(STORIES / f"{story}.saltwright"), "--json"]) == 0
        shown = capsys.readouterr()
        assert shown.err == ""
        return json.loads(shown.out)

    return plan


def amounts(plan: dict[str, Any]) -> dict[str, float]:
    return {amount["entry_id"]: amount["mg_per_l"] for amount in plan["amounts"]}


def about(expected: dict[str, float], percent: float) -> Any:
    return pytest.approx(expected, rel=percent / 100)


def only(found: dict[str, float], wanted: dict[str, float]) -> dict[str, float]:
    return {name: found[name] for name in wanted}


def test_two_jugs_read_backwards(planned: Planned) -> None:
    plan = planned("us_two_jugs")
    feed = {"N": 155.8, "P": 35.3, "K": 218.4, "Ca": 145.8, "Mg": 36.8, "S": 50.4, "Fe": 2.52}
    assert only(plan["feed"]["mg_per_l"], feed) == about(feed, 0.5)
    assert plan["feed"]["ec_ms_per_cm"] == pytest.approx(1.84, rel=0.02)
    assert plan["feed"]["water_ec_ms_per_cm"] == pytest.approx(0.306, rel=0.02)
    assert plan["feed"]["ph"] == pytest.approx(6.6, abs=0.1)
    weights = {c["entry_id"]: c["grams"] for tank in plan["tanks"] for c in tank["contents"]}
    assert weights == about({"blend:all but calcium": 12.0 * OUNCE_G, "calcium-nitrate-greenhouse": 8.0 * OUNCE_G}, 0.5)


def test_two_jugs_on_paper(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(STORIES / "us_two_jugs.saltwright")]) == 0
    assert "10 mL per litre of finished feed (1.28 fl oz per US gallon, 1:100)" in capsys.readouterr().out


def test_hard_water_with_nitric_acid(planned: Planned) -> None:
    plan = planned("hard_water_nitric")
    expected = {
        "calcium-nitrate-greenhouse": 168.4,
        "potassium-nitrate": 216.3,
        "monopotassium-phosphate": 175.7,
        "potassium-sulfate": 95.5,
        "magnesium-sulfate-heptahydrate": 192.7,
    }
    found = amounts(plan)
    assert only(found, expected) == about(expected, 0.5)
    (acid,) = [amount for amount in plan["amounts"] if amount["salt"] == "nitric-acid"]
    assert acid["ml_per_l"] * 1000 == pytest.approx(375.7, rel=0.02)
    assert acid["brings_mg_per_l"]["NO3-N"] == pytest.approx(68.5, rel=0.02)
    assert acid["tank"] == "water"
    assert plan["feed"]["mg_per_l"]["S"] == pytest.approx(66.6, rel=0.005)
    assert plan["feed"]["ec_ms_per_cm"] == pytest.approx(1.77, rel=0.02)


def test_full_shelf_is_five_plain_salts(planned: Planned) -> None:
    plan = planned("full_shelf")
    expected = {
        "calcium-nitrate-tetrahydrate": 885.5,
        "potassium-nitrate": 353.9,
        "monopotassium-phosphate": 136.1,
        "potassium-sulfate": 43.6,
        "magnesium-sulfate-heptahydrate": 369.7,
    }
    assert amounts(plan) == about(expected, 0.5)
    feed = plan["feed"]
    assert feed["mg_per_l"].get("Cl", 0.0) <= 5.0
    assert feed["mg_per_l"].get("urea-N", 0.0) == 0.0
    assert feed["ec_ms_per_cm"] == pytest.approx(1.71, rel=0.02)


def test_adapting_from_two_mixed_tanks_falls_short_and_says_so(planned: Planned) -> None:
    plan = planned("adapt_two_tanks_only")
    short = [c for c in plan["cautions"] if c["code"] == "target-short" and c["data"]["nutrient"] == "K"]
    assert len(short) == 1
    assert short[0]["data"]["percent"] == pytest.approx(20.5, abs=0.5)
    assert short[0]["text"].startswith("Potassium reaches ")
    first, second = (amount["mg_per_l"] for amount in plan["amounts"])
    assert (first / 68.0, second / 62.0) == pytest.approx((15.25, 10.92), rel=0.005)


def test_adapting_with_one_supplement_reaches_every_macro(planned: Planned) -> None:
    plan = planned("adapt_plus_one")
    found = list(amounts(plan).values())
    assert (found[0] / 68.0, found[1] / 62.0, found[2]) == pytest.approx((13.95, 10.52, 172.0), rel=0.005)
    assert not [c for c in plan["cautions"] if c["code"] in ("target-short", "target-over")]


def test_pails_are_weighed_in_ounces_and_in_grams(planned: Planned) -> None:
    plan = planned("us_pails")
    weighed = {c["entry_id"]: c["grams_to_weigh"] for tank in plan["tanks"] for c in tank["contents"]}
    ounces = {
        "calcium-nitrate-greenhouse": 50.4,
        "potassium-nitrate": 22.2,
        "monopotassium-phosphate": 13.2,
        "magnesium-sulfate-heptahydrate": 26.5,
    }
    grams = {
        "iron-dtpa-11": 43.61,
        "manganese-sulfate-monohydrate": 3.88,
        "zinc-sulfate-heptahydrate": 1.45,
        "copper-sulfate-pentahydrate": 0.48,
        "boric-acid": 4.12,
    }
    assert only(weighed, ounces) == pytest.approx({name: oz * OUNCE_G for name, oz in ounces.items()}, rel=1e-6)
    assert only(weighed, grams) == pytest.approx(grams, abs=1e-9)
    # The exact weight, 0.31495 g, lies half-way between two steps of the scale to within a twentieth of one.
    assert weighed["sodium-molybdate-dihydrate"] in (0.31, 0.32)
