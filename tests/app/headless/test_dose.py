"""The command `dose`: an EC reading in, what to pour out, and every way to refuse."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from app.__main__ import main
from core.recipe import dumps
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe

JUGS = "tests/outside/stories/us_two_jugs.saltwright"
FL_OZ_ML = 29.5735
FORTY = ["--volume", "40 US gal", "--now", "245", "--target", "1.6", "--meter", "ppm-700"]


def dose(capsys: pytest.CaptureFixture[str], *rest: str, file: str = JUGS) -> dict:  # type: ignore[type-arg]
    assert main(["dose", file, *rest, "--json"]) == 0
    return json.loads(capsys.readouterr().out)  # type: ignore[no-any-return]


def test_the_first_pour(capsys: pytest.CaptureFixture[str]) -> None:
    """40 US gal at 245 on the 700 scale, target 1.6: 41.8 fl oz of each, first 33.4, then 1.35 (3 %)."""
    found = dose(capsys, *FORTY)
    assert found["do"]["kind"] == "pour-first"
    assert found["do"]["pour_ml"] == pytest.approx({"A": 33.4 * FL_OZ_ML, "B": 33.4 * FL_OZ_ML}, rel=0.03)
    assert found["do"]["in_all_ml"] == pytest.approx(41.8 * FL_OZ_ML, rel=0.03)
    assert found["do"]["expected_ms_per_cm"] == pytest.approx(1.35, rel=0.03)
    assert found["steps"][found["now"]]["title"] == "Pour most of it"
    assert found["order"]["text"].startswith("EC first, then pH")


def test_the_rest_and_the_water(capsys: pytest.CaptureFixture[str]) -> None:
    rest = dose(capsys, *FORTY, "--after-pouring", "33.4 fl oz", "--reads", "910")
    assert rest["factor"] == pytest.approx(0.95, rel=0.03)
    assert rest["do"]["pour_ml"]["A"] == pytest.approx(10.6 * FL_OZ_ML, rel=0.03)
    water = dose(capsys, *FORTY, "--after-pouring", "33.4 fl oz", "--reads", "1344")
    assert water["do"]["water_to_add_l"] == pytest.approx(10.2 * 3.785412, rel=0.03)


def test_for_reading(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["dose", JUGS, *FORTY, "--after-pouring", "33.4 fl oz", "--reads", "910"]) == 0
    shown = capsys.readouterr().out
    assert "two jugs: 40 US gal at 245 ppm (700), 0.35 mS/cm, 1.60 mS/cm wanted" in shown
    assert "Now: Pour the rest\n  10.5 US fl oz of the calcium side\n  10.5 US fl oz of the phosphate side" in shown
    assert "It should then show 1120 ppm (700), 1.60 mS/cm." in shown


def test_hard_water_says_acid_first_with_its_care(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "hard.saltwright"
    path.write_bytes(dumps(recipe(SIX, [*PLAIN, {"salt": "nitric-acid", "strength_percent": 60}], water=HARD)))
    assert main(["dose", str(path), "--volume", "400", "--now", "0.75", "--target", "1.8"]) == 0
    shown = capsys.readouterr().out
    assert "Now: Acid into the water, before the tanks" in shown
    assert "never the other way" in shown
    assert "Hard water" in shown
    found = dose(
        capsys, "--volume", "400", "--now", "0.75", "--target", "1.8", "--after-pouring", "2.5", "--reads", "1.5",
        file=str(path),
    )  # fmt: skip
    assert found["drops"][0]["key"] == "nitric-acid", "what comes before the tanks was done as told"
    assert found["parts_ml"] == {"A": 2500.0, "B": 2500.0}


def test_what_stands_in_the_way_ends_in_one(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["dose", JUGS, "--volume", "40", "--now", "0.35", "--target", "19.9"]) == 1
    assert "No dose of these tanks gives 19.90 mS/cm" in capsys.readouterr().out


def test_left_feed_and_a_meter_without_compensation(capsys: pytest.CaptureFixture[str]) -> None:
    found = dose(
        capsys, "--volume", "300", "--now", "1.62", "--target", "1.6", "--feed-left", "--water-ec", "0.243",
        "--uncompensated-at", "15 C",
    )  # fmt: skip
    assert found["ec_ms_per_cm"] == pytest.approx(2.0, rel=1e-3)
    assert found["do"]["water_to_add_l"] == pytest.approx(300 * 0.4 / 1.3, rel=1e-3)


def test_finished_volume_factor_and_acid(capsys: pytest.CaptureFixture[str]) -> None:
    found = dose(
        capsys, "--volume", "100", "--now", "0.35", "--target", "1.6", "--finished", "--factor", "0.9", "--ph", "5.5",
        "--acid", "nitric-acid", "--strength", "38",
    )  # fmt: skip
    assert found["volume_end_l"] == pytest.approx(100.0, rel=2e-3)
    assert found["factor"] == 0.9
    assert found["ph"]["drop"]["salt"] == "nitric-acid"
    assert found["ph"]["steps"][-1][1] == pytest.approx(5.5, abs=0.02)


@pytest.mark.parametrize(
    ("rest", "reason"),
    [
        (["--volume", "40 gal", "--now", "0.3", "--target", "1.6"], '--volume: "gal" is of two sizes'),
        (
            ["--volume", "100", "--now", "480", "--target", "1.6"],
            "--now: No feed reads 480 mS/cm, 20 mS/cm is the most: did you mean 480 µS/cm?",
        ),
        (["--volume", "100", "--now", "0.3", "--target", "30"], "--target: No feed reads 30 mS/cm"),
        (["--volume", "0", "--now", "0.3", "--target", "1.6"], "--volume must be above zero"),
        (["--volume", "40", "--now", "300 ppm", "--target", "1.6"], '--now: "ppm" has several meanings'),
        (["--volume", "40", "--now", "0.3", "--target", "x"], "--target: "),
        (["--volume", "40", "--now", "0.3", "--target", "1.6", "--reads", "1.0"], "go together"),
        (["--volume", "40", "--now", "0.3", "--target", "1.6", "--meter", "bar"], "--meter: "),
        (["--volume", "40", "--now", "0.3", "--target", "1.6", "--acid", "urea"], "neither an acid nor a base"),
        (["--volume", "40", "--now", "0.3", "--target", "1.6", "--uncompensated-at", "70 C"], "0 to 50"),
        (["--volume", "40", "--now", "0.3"], "--target"),
        (["--volume", "40", "--now", "0.3", "--target", "1.6", "--after-pouring", "3 oz", "--reads", "1"], "--after-"),
    ],
)
def test_bad_input_is_one_line(rest: list[str], reason: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["dose", JUGS, *rest]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.count("\n") == 1
    assert reason in said.err


def test_a_recipe_without_tanks_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "none.saltwright"
    path.write_bytes(dumps(recipe({}, [{"salt": "potassium-nitrate", "exactly_mg_per_l": 0.0}])))
    assert main(["dose", str(path), "--volume", "40", "--now", "0.3", "--target", "1.6"]) == 2
    assert "plans no tanks" in capsys.readouterr().err


TWICE = [
    "--volume", "400", "--now", "0.5", "--target", "1.8", "--after-pouring", "3640 mL", "--reads", "2.5",
]  # fmt: skip
DEMO = "resources/demo/strawberry.saltwright"


def test_a_rise_no_meter_explains_is_read_again_first(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["dose", DEMO, *TWICE]) == 1
    shown = capsys.readouterr().out
    assert "Stir, wait and read again before anything else goes in" in shown
    assert "Now: Stir, wait, read" in shown
    assert "Add water" not in shown.split("Then:")[0]
    assert "used from now on" not in shown
    assert main(["dose", DEMO, *TWICE, "--reads", "2.48"]) == 0
    again = capsys.readouterr().out
    assert "Now: Add water" in again
    assert "Read twice, the EC rose" in again
    assert "for this reservoir alone" in again


def test_a_reading_is_not_given_again_where_it_was_believed(capsys: pytest.CaptureFixture[str]) -> None:
    poured = ["--after-pouring", "33.4 fl oz", "--reads", "910", "--reads", "911"]
    assert main(["dose", JUGS, *FORTY, *poured]) == 2
    assert "only where the answer says to read again" in capsys.readouterr().err
