"""Every cause of a reading that differs and every test of it has a sentence of its own, with all its figures in it."""

from __future__ import annotations

from typing import get_args

import pytest

from app.wording import logbook_causes as say
from core.logbook.triage_records import Ask, AskCode, Cause, CauseCode, Triage

TANKS = {"A": "calcium side", "B": "phosphate side"}
PRODUCTS = {"bag 2": "potassium nitrate, bag 2"}
ABOUT = {
    "scale": ("ppm-700", "ppm-500"),
    "part-missing": ("A", ""),
    "part-dose": ("A", ""),
    "part-twice": ("A", "B"),
    "salt-forgotten": ("bag 2", ""),
    "salt-doubled": ("bag 2", ""),
    "wrong-hydrate": ("bag 2", "magnesium-sulfate-anhydrous"),
    "tank-volume": ("A", ""),
}
"""Cause -> what it is about, and what was taken in its place."""

FIGURE = {"meter": "18 %", "part-dose": "82 %", "tank-volume": "82 %", "volume": "246 L"}
"""Cause -> the figure its sentence tells when it is off by a factor of 0.82."""


def cause(code: CauseCode, factor: float = 0.82, also: tuple[str, ...] = ()) -> Cause:
    what, other = ABOUT.get(code, ("", ""))
    return Cause(code, 40.0, 1.2, Ask("volume", if_true=246.0, if_not=300.0), what, other, factor, also)


def told(code: CauseCode, factor: float = 0.82, also: tuple[str, ...] = ()) -> str:
    return say.cause_text(cause(code, factor, also), TANKS, PRODUCTS)


@pytest.mark.parametrize("code", get_args(CauseCode))
def test_every_cause_says_what_it_is_about(code: CauseCode) -> None:
    sentence = told(code)
    assert sentence.endswith(".")
    assert FIGURE.get(code, "") in sentence
    for name in ABOUT.get(code, ()):
        assert {**TANKS, **PRODUCTS, "magnesium-sulfate-anhydrous": "magnesium sulfate"}.get(name, name) in sentence


def test_no_two_causes_are_told_alike() -> None:
    sentences = [told(code) for code in get_args(CauseCode)]
    assert len(set(sentences)) == len(sentences)


@pytest.mark.parametrize("code", ["meter", "acid"])
def test_too_little_is_told_otherwise_than_too_much(code: CauseCode) -> None:
    assert told(code, 0.5) != told(code, 1.5)


def test_others_of_the_same_cause_are_named_behind_it() -> None:
    assert told("salt-forgotten", also=("A", "bag 2")).endswith(
        "Or the same with calcium side and potassium nitrate, bag 2."
    )


@pytest.mark.parametrize("code", get_args(AskCode))
def test_every_test_says_what_is_seen(code: AskCode) -> None:
    what = {"display": "ppm-700", "tank-level": "A", "part-alone": "A"}.get(code, "")
    ask = Ask(code, what) if code == "analysis" else Ask(code, what, 1.27, 1.88, 10.0)
    sentence = say.ask_text(ask, TANKS, PRODUCTS)
    assert sentence.endswith(".")
    assert TANKS.get(what, what) in sentence
    assert ("1.27" in sentence) is (code != "analysis")


@pytest.mark.parametrize(("off", "word"), [(-12.0, "12 % less"), (15.0, "15 % more")])
def test_how_far_the_reading_is_off(off: float, word: str) -> None:
    assert word in say.differs(Triage(0, 1.2, 1.4, off, 3, ()))


def test_a_guess_by_one_reading_says_so() -> None:
    assert "one reading" in say.weighed_by(1)
    assert "our own guess" in say.weighed_by(4)
    assert [say.likelihood(percent).partition(",")[0] for percent in (60.0, 20.0, 5.0)] == [
        "likely", "possible", "less likely",
    ]  # fmt: skip
