"""Sentences of the Compare surface and of the goal picked."""

from __future__ import annotations

import pytest

from app.wording import comparing, comparing_cards, goals
from core.blend.ratios import Ratio, Usual
from core.plan.costing import Bag
from core.plan.records import Caution


@pytest.mark.parametrize(
    ("verdicts", "text"),
    [
        ((), "none"),
        (("clear", "clear"), "2, stays clear"),
        (("clear", "doubtful"), "2, may settle"),
        (("settles", "doubtful", "clear"), "3, settles out"),
    ],
)
def test_the_worst_tank_speaks(verdicts: tuple[str, ...], text: str) -> None:
    assert comparing.tanks_words(verdicts) == text


@pytest.mark.parametrize(
    ("ends", "text"),
    [
        ((123.5, 136.4, 130.0, "short"), "target 130, wanted 124 to 136, short"),
        ((None, 46.0, None, "fine"), "at most 46, fine"),
        ((10.0, None, None, "met"), "at least 10, met"),
    ],
)
def test_a_place_in_words(ends: tuple[float | None, float | None, float | None, str], text: str) -> None:
    assert comparing.place_words(*ends) == text


def test_bags_in_a_cell() -> None:
    bag = Bag("x", "potassium-nitrate", 3.1, 1.6, None, 25.0, 1, 21.9, 40.0)
    assert comparing.bag_cell(bag) == "1 × 25 kg, 21.9 left"
    assert comparing.bag_cell(Bag("x", "potassium-nitrate", 3.1, 1.6, None, None, None, None, None)) == "3.10 kg"


def test_cautions_are_counted_by_what_they_ask() -> None:
    assert [comparing.cautions_words(*counts) for counts in ((0, 0), (1, 0), (0, 3), (2, 1))] == [
        "none", "1 to stop", "3 to check", "2 to stop, 1 to check",
    ]  # fmt: skip


def test_unusual_shares_are_named_with_what_is_usual() -> None:
    ratio = Ratio("anions", "NO3", 45.0, Usual(55.0, 60.0, ("Ikeda 1996",), "READ"))
    told = comparing_cards.shares_told([ratio], ["Ikeda 1996"], crop_known=True)
    assert told == "Unusual: nitrate 45 % of Anions (usual 55 to 60). Usual: Ikeda 1996."
    assert comparing_cards.shares_told([], ["Ikeda 1996"], crop_known=True).startswith("The shares lie about where")


@pytest.mark.parametrize(
    ("caution", "text"),
    [
        (Caution("check", "cheapest-no-prices"), "Nothing has a price yet, so the closest fit is shown."),
        (
            Caution(
                "note", "unpriced-aside", {"entry_ids": ["urea", "potassium-nitrate", "nitric-acid", "boric-acid"]}
            ),
            "Left aside for want of a price: urea, potassium nitrate and 2 more.",
        ),
        (
            Caution("note", "fewest-unproven", {"count": 7, "at_least": 6}),
            "7 found in the time allowed; fewer than 6 is proven impossible.",
        ),
        (Caution("check", "no-acid", {}), ""),
    ],
)
def test_a_goal_says_in_brief_what_came_of_it(caution: Caution, text: str) -> None:
    assert goals.goal_note(caution) == text
