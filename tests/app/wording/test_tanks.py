"""Every code of the split has words, and numbers in them never promise more than was found."""

from __future__ import annotations

import pytest

from app.wording import tanks as say
from core.plan.records import NearSolid, Tank
from core.plan.together import Mixed, Together
from core.tanks.compatibility import RULES
from core.tanks.placing import REASONS


def tank(**fields: object) -> Tank:
    plain = {
        "name": "A", "content": "calcium", "ratio": 100.0, "volume_l": 50.0, "ml_per_l": 10.0, "contents": (),
        "verdict": "clear", "cold_verdict": "clear", "ratio_limit": None, "limited_by": None,
    }  # fmt: skip
    return Tank(**(plain | fields))  # type: ignore[arg-type]


def test_every_reason_and_rule_has_words() -> None:
    assert set(say.REASONS) == set(REASONS)
    assert set(say.RULES) == set(RULES)
    assert all(say.reason(code).endswith(".") for code in REASONS)


def test_ratios_are_rounded_down() -> None:
    assert say.strongest(tank(clear_ratio=411.9)) == "Surely clear up to 1 in 411"
    limited = tank(clear_ratio=411.9, clear_limited_by="potassium-nitrate")
    assert say.strongest(limited) == "Surely clear up to 1 in 411, set by potassium nitrate"
    assert say.strongest(limited, named=False) == "Surely clear up to 1 in 411"
    assert say.strongest(tank(clear_ratio=0.3)) == "Not clear at any strength"
    assert say.near_ratio(NearSolid("potassium-nitrate", 199.99, 0.5)) == "1 in 199"


@pytest.mark.parametrize(
    ("steps", "ratio", "words"),
    [
        ([], 100, "Nothing in these tanks limits their strength."),
        ([300, 200], 100, "Strongest injector step that stays clear: 1 in 200."),
        ([100, 200], 100, "This is the strongest injector step that stays clear."),
        ([150, 400], 200, "Next injector step that stays clear: 1 in 150."),
        ([150, None], 200, "No injector step is weak enough to keep every tank clear."),
    ],
)
def test_the_hint_names_the_step_that_holds_for_all_tanks(steps: list[int | None], ratio: float, words: str) -> None:
    assert say.step_hint(steps, ratio) == words


def test_what_settles_and_what_may() -> None:
    assert say.comes_out(tank()) == ""
    out = ("potassium-sulfate",)
    assert say.comes_out(tank(settling=out, cold_verdict="doubtful")) == "May come out: potassium sulfate"
    assert say.comes_out(tank(settling=out, cold_verdict="settles")) == "Comes out: potassium sulfate"


def test_one_tank_in_words() -> None:
    bad = Mixed("settles", ("gypsum",), 1121.0, 18.7, 0.588)
    poured = Mixed("settles", ("gypsum",), 450.0, 7.5, 0.47)
    words = say.together_words(Together(bad, poured), 60.0)
    assert "1.1 kg of calcium sulfate" in words
    assert "59 % of the calcium" in words
    assert "still drop 7.5 g" in words
    fine = Mixed("clear", (), 0.0, 0.0, 0.0)
    assert say.together_words(Together(fine, fine), 60.0) == "One 60 L tank would stay clear with everything in it."
    assert say.together_words(None, 60.0) == "There is only one tank."
