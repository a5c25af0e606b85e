"""The plan as text: amounts to weigh first, columns that line up, nothing foreign let through."""

from __future__ import annotations

from msgspec.structs import replace

from app.headless.plan_text import plan_text
from core.plan.cautions import caution
from core.plan.records import Amount, Cost, Feed, NutrientRow, Plan, Tank, TankContent, WeighedOn

KITCHEN = WeighedOn(5000.0, 1.0)
FINE = WeighedOn(200.0, 0.01)


def amount(salt: str, mg_per_l: float, tank: str, **more: float) -> Amount:
    ml_per_l = more.get("ml_per_l")
    per_1000_l = None if ml_per_l is None else 1000.0 * ml_per_l
    return Amount(salt, salt, mg_per_l, ml_per_l, tank, {}, {}, 0.0, ml_per_1000_l=per_1000_l)


def tank(name: str, content: str, contents: tuple[TankContent, ...], **more: object) -> Tank:
    made = Tank(name, content, 100.0, 50.0, 10.0, contents, "clear", "clear", None, None)  # type: ignore[arg-type]
    return replace(made, **more)


PLAN = Plan(
    title="Berries",
    amounts=(
        amount("calcium-nitrate-tetrahydrate", 842.0, "A"),
        amount("nitric-acid", 512.0, "water", ml_per_l=0.3757),
        amount("citric-acid", 12.0, "reservoir"),
    ),
    unused=(),
    rows=(
        NutrientRow("N", 128.0, 121.6, 134.4, 0.0, 128.0, "met"),
        NutrientRow("Ca", 160.0, 152.0, None, 61.0, 158.4, "short"),
        NutrientRow("Na", None, None, 46.0, 9.2, 9.2, "fine"),
    ),
    feed=Feed({}, 1.7666, 5.0, 0.452, 5.83, 6.14, 0.5, 0.0, {}),
    tanks=(
        tank(
            "A",
            "calcium",
            (
                TankContent("bag 1", "calcium-nitrate-greenhouse", 4210.4, 4210.0, KITCHEN),
                TankContent("iron-edta-13", "iron-edta-13", 7.694, 7.69, FINE),
            ),
            cold_verdict="doubtful",
            settling=("gypsum",),
            ratio_limit=171.0,
            injector_step=150,
        ),
        tank("B", "phosphate", (TankContent("x", "phosphoric-acid", 101.23, 101.23, None, millilitres=64.07),)),
        tank("C", "plain", ()),
    ),
    cost=Cost("EUR", 1.254, ("bag 1",)),
    cautions=(
        caution("settles", content="calcium", solids=("gypsum",)),
        caution("scale-assumed"),
    ),
)


def test_amounts_for_my_tank_stand_first() -> None:
    assert plan_text(PLAN).startswith("""\
Berries

Calcium side (tank A), 50 L: stays clear; at its coldest: may settle (calcium sulfate); clear up to 1:150
  4210    g  Calcium nitrate, greenhouse grade (bag 1)
     7.69 g  Iron EDTA chelate, 13 % Fe
  10 mL per litre of finished feed (1.28 fl oz per US gallon, 1:100)
""")


def test_liquids_are_told_by_volume_too() -> None:
    assert "  101.2 g  Phosphoric acid (x)  = 64.07 mL" in plan_text(PLAN)


def test_acid_outside_the_tanks_is_told_for_1000_l() -> None:
    text = plan_text(PLAN)
    assert "Into the water, before anything else, for 1000 L of finished feed\n  375.7 mL  Nitric acid\n" in text
    assert "Into the reservoir, for 1000 L of finished feed\n  12.00 g  Citric acid" in text


def test_the_feed_in_columns() -> None:
    expected = """\
mg/L  wanted  range         water  feed
N     128     122–134        0     128     met
Ca    160     at least 152  61.0   158     short
Na            at most 46     9.20    9.20  fine
"""
    assert expected in plan_text(PLAN)


def test_ec_ph_and_cost() -> None:
    text = plan_text(PLAN)
    assert "EC 1.77 mS/cm ± 5 % at 25 °C (the water alone 0.45)\n" in text
    assert "pH 5.8 freshly mixed, 6.1 once aired, at 25 °C; alkalinity 0.50 meq/L\n" in text
    assert "Cost: EUR 1.25 per 1000 L of feed, without bag 1\n" in text


def test_without_forecast_and_prices_it_says_so() -> None:
    feed = replace(PLAN.feed, ec_ms_per_cm=None, ph=None, ph_aired=None)
    text = plan_text(replace(PLAN, feed=feed, cost=Cost("", None, ())))
    assert "EC: no forecast for a feed like this\npH: no forecast for a feed like this; alkalinity 0.50 meq/L\n" in text
    assert "Cost: not known: nothing on the shelf has a price\n" in text


def test_cautions_come_with_their_level_and_are_wrapped() -> None:
    lines = plan_text(PLAN).splitlines()
    assert any(line.startswith("STOP: This tank does not stay clear: calcium side.") for line in lines)
    assert any(line.startswith("NOTE: No scale was entered") for line in lines)
    assert max(map(len, lines)) <= 120


def test_an_empty_plan_has_no_empty_table() -> None:
    text = plan_text(replace(PLAN, title="", amounts=(), rows=(), tanks=(), cautions=()))
    assert text.startswith("EC ")
    assert "mg/L  wanted" not in text


def test_foreign_text_cannot_steer_the_terminal() -> None:
    content = TankContent("bag\x1b[2J", "blend:ev\u202eil", 5.0, 5.0, KITCHEN)
    text = plan_text(replace(PLAN, title="a\nb\x07", tanks=(tank("A\r", "plain", (content,)),)))
    assert all(line.isprintable() for line in text.split("\n"))
    assert text.startswith("a\\nb\\x07\n")
