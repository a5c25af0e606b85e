"""Sentences of "why?", of recipes side by side, of bags and of doses."""

from __future__ import annotations

import pytest

from app.wording import compare, why
from core.blend.ratios import Ratio, Usual
from core.blend.why_records import Cause, Change, Price, Remedy, Side, Spare, Step, Unused
from core.plan.comparison import Differing
from core.plan.costing import Bag
from tests.helpers.messages import blanks

SULFUR = Change("S", 68.0, 58.0, True)


def test_an_offer_says_what_changes_and_what_it_saves() -> None:
    spare = Spare(Step("drop-entry", "potassium-sulfate"), "potassium-sulfate", (SULFUR,), -0.25)
    assert why.spare_text(spare, "EUR") == (
        "You can do without potassium sulfate: sulfur 58 instead of 68 mg/L, still fine; EUR 0.25 less per 1000 L."
    )
    bare = Spare(spare.step, spare.entry_id, (), None)
    assert why.spare_text(bare) == "You can do without potassium sulfate: nothing changes by much."


@pytest.mark.parametrize(
    ("step", "text"),
    [
        (Step("add-salt", "potassium-nitrate"), "put potassium nitrate on the shelf"),
        (Step("drop-entry", "potassium-sulfate"), "leave out potassium sulfate"),
        (Step("raise-limit", "Cl", 90.0), "let chloride go up to 90 mg/L"),
        (Step("raise-limit", "potassium-nitrate", 90.0), "let potassium nitrate go up to 90 mg/L"),
        (Step("ammonium-share", "NH4-N", 15.0), "allow 15 % of the nitrogen as ammonium"),
        (Step("residual-alkalinity", "", 0.5), "leave 0.5 meq/L of alkalinity"),
        (Step("purer-water", "rain water", 40.0), "blend in 40 % of rain water"),
    ],
)
def test_every_step_has_its_words(step: Step, text: str) -> None:
    assert why.step_text(step) == text


def test_a_remedy_that_mends_all_and_one_that_mends_some() -> None:
    step = Step("add-salt", "potassium-nitrate")
    assert "every target is in its range: sulfur 58" in why.remedy_text(Remedy(step, 2, 0, (SULFUR,)))
    assert "1 instead of 2 targets are out of range" in why.remedy_text(Remedy(step, 2, 1, (SULFUR,)))


CAUSE_DATA = {
    "water_mg_per_l": 118.0, "fixed_mg_per_l": 90.0, "entry_ids": ["urea"], "about": "Cl", "goal_meq_per_l": 0.5,
    "entry_id": "potassium-nitrate", "brings_mg_per_l": 50.0, "nutrient": "N", "before_mg_per_l": 1.0,
    "after_mg_per_l": 2.0,
}  # fmt: skip


@pytest.mark.parametrize("code", why.CAUSE_SENTENCES)
def test_every_cause_is_told_with_its_blanks_filled(code: str) -> None:
    text = why.cause_text(Cause(code, {n: v for n, v in CAUSE_DATA.items() if n in blanks(why.CAUSE_SENTENCES[code])}))
    assert not set("?{}_") & set(text)
    assert text.endswith(".")


def test_a_cause_nobody_knows_shows_its_code() -> None:
    assert why.cause_text(Cause("new-thing")) == "new-thing"


def test_both_sides_of_a_bound() -> None:
    price = Price("chloride", "Cl", 70.0, "mg/L", Side(69.3, 0.002, 0.5), Side(70.7, -0.002, -0.4, "Ca"))
    assert why.price_text(price, "EUR") == (
        "limit on chloride: down to 69.3 mg/L: +0.50 EUR per 1000 L, a worse fit; "
        "up to 70.7 mg/L: \N{MINUS SIGN}0.40 EUR per 1000 L, a better fit, calcium nearer"
    )


def test_what_is_not_worth_telling_of_a_step_is_not_told() -> None:
    """Money to the hundredth, smaller sums with two digits, none under a thousandth of the currency for 1000 L."""
    nothing = Side(70.7, 0.0, 0.00028)
    assert not why.is_told(Price("limit", "Cl", 70.0, "mg/L", Side(69.3, 0.0, -0.00028), nothing))
    price = Price("target", "K", 172.0, "mg/L", Side(170.0, 1.0, -0.00723), Side(174.0, -1.0, 1.2345, gains="S"))
    assert why.is_told(price)
    assert why.step_rows(price) == [
        ("target for potassium", "170 mg/L", "\N{MINUS SIGN}0.0072", "a worse fit"),
        ("", "174 mg/L", "+1.23", "a better fit, sulfur nearer"),
    ]
    half = Price("limit", "Cl", 70.0, "mg/L", nothing, Side(71.4, -1.0, 0.00028))
    assert why.step_rows(half) == [("limit on chloride", "71.4 mg/L", "\N{EN DASH}", "a better fit")]
    assert "0.00028" not in why.price_text(half, "EUR")


@pytest.mark.parametrize("reason", ["price", "no-price-helps", "not-allowed", "prices-missing", "count"])
def test_every_unused_entry_is_told(reason: str) -> None:
    text = why.unused_text(Unused("potassium-chloride", None, 0.64, reason), "EUR")  # type: ignore[arg-type]
    assert text.startswith("Potassium chloride ")
    assert ("EUR 0.640" in text) is (reason == "price")


def test_what_it_costs_now_stands_beside_the_price_it_would_enter_at() -> None:
    text = why.unused_text(Unused("potassium-chloride", 0.8, 0.64, "price"), "EUR")
    assert text == "Potassium chloride would be used below EUR 0.640 per kg; it costs 0.8"


@pytest.mark.parametrize("kind", compare.DIFFERING_SENTENCES)
def test_every_difference_has_its_words(kind: str) -> None:
    text = compare.differing_text(Differing(kind, "K", 1.0, 2.0))
    assert not set("{}_?") & set(text)


def test_ratios_name_what_is_usual_and_how_that_is_known() -> None:
    usual = Usual(1.2, 1.5, ("Ikeda 1996", "Sonneveld 1994", "Resh 2013"), "MEMORY")
    text = compare.ratio_text(Ratio("n-to-k", "K", 1.29, usual))
    assert text == (
        "N to K by mass 1 : 1.29 (usual 1.2 to 1.5: Ikeda 1996 and Sonneveld 1994 and others, "
        "partly recalled, not seen in print)"
    )
    one = compare.ratio_text(Ratio("anions", "SO4", 35.2, Usual(35.0, 35.0, ("A 1984",), "READ")))
    assert one == "sulfate 35.2 % of anions (usual 35: A 1984)"


def test_bags_to_buy_and_what_is_left_over() -> None:
    bag = Bag("potassium-nitrate", "potassium-nitrate", 30.0, 1.4, "2026-05-01", 25.0, 2, 20.0, 70.0)
    assert compare.bag_text(bag, "EUR") == (
        "potassium nitrate: 30.0 kg, bags of 25 kg: 2, 20 kg left over, EUR 70.00 (price of 2026-05-01)"
    )
    bare = Bag("potassium-nitrate", "potassium-nitrate", 30.0, None, None, None, None, None, None)
    assert compare.bag_text(bare, "EUR") == "potassium nitrate: 30.0 kg"
