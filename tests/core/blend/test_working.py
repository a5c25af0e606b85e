"""The working: every line can be repeated by hand to one per cent from the numbers as they are printed."""

import math
import re

import pytest

from app.wording.why import line_text
from core.blend.solve import solve
from core.blend.working import cost_working, ec_working, in_unit, nutrient_working, salt_working, units_of
from core.plan import plan
from tests.core.blend.test_goals import priced
from tests.helpers.recipes import HARD, SIX, recipe

ACID = {"salt": "nitric-acid", "strength_percent": 60, "price_per_kg": 0.6}


def made():
    return recipe(SIX, [*priced(), ACID], water=HARD, currency="EUR")


def by_hand(text: str) -> tuple[float, float]:
    """What a printed line comes to, per cent taken as hundredths, and what it says it comes to."""
    left, _, right = text.rpartition(" = ")
    left = left.partition(": ")[2]
    numbers = [
        float(number) / (100.0 if unit == "%" else 1.0)
        for number, unit in re.findall(r"(?:^|[+×] )(\d[\d.]*) (%?)", left)
    ]
    total = math.prod(numbers) if "×" in left else sum(numbers)
    return total, float(re.match(r"[\d.]+", right).group())


@pytest.mark.parametrize("subject", ["N", "K", "Ca", "P", "EC", "cost", "potassium-nitrate", "nitric-acid"])
def test_every_line_can_be_repeated_by_hand(subject):
    blend = solve(made())
    working = {
        "EC": lambda: ec_working(blend),
        "cost": lambda: cost_working(blend, "EUR"),
    }.get(
        subject,
        lambda: salt_working(blend, subject, 100.0, 50.0) if "-" in subject else nutrient_working(blend, subject),
    )()
    assert working is not None
    lines = [line_text(line) for line in working.lines if line.numbers]
    assert lines
    for text in lines:
        calculated, printed = by_hand(text)
        assert calculated == pytest.approx(printed, rel=0.01), text


def test_the_last_line_is_the_plans_own_figure():
    planned, blend = plan(made()), solve(made())
    assert nutrient_working(blend, "N").lines[-1].result.value == pytest.approx(planned.feed.mg_per_l["N"])
    assert ec_working(blend).lines[-1].result.value == pytest.approx(planned.feed.ec_ms_per_cm, rel=1e-6)
    assert cost_working(blend, "EUR").lines[-1].result.value == pytest.approx(planned.cost.per_1000_l)
    tank = planned.tanks[0]
    content = tank.contents[0]
    share = next(a for a in planned.amounts if a.entry_id == content.entry_id).shares[tank.name]
    worked = salt_working(blend, content.entry_id, tank.ratio, tank.volume_l).lines[-1].result.value
    assert worked * share == pytest.approx(content.grams)


def test_the_waters_share_is_its_own_line():
    assert nutrient_working(solve(made()), "Ca").lines[0].code == "water"


def test_what_cannot_be_worked_out_is_none_or_refused():
    blend = solve(recipe(SIX, ["potassium-nitrate"]))
    assert cost_working(blend, "") is None
    with pytest.raises(KeyError):
        salt_working(blend, "urea", 100.0, 10.0)
    assert ec_working(solve(recipe({}, [{"salt": "potassium-nitrate", "exactly_mg_per_l": 600000}]))) is None


@pytest.mark.parametrize(
    ("subject", "unit", "per_unit"),
    [
        ("Ca", "mmol/L", 40.078),
        ("Ca", "meq/L", 20.039),
        ("K", "meq/L", 39.098),
        ("potassium-nitrate", "lb", 453.59237),
        ("potassium-nitrate", "oz", 28.349523),
    ],
)
def test_a_figure_is_turned_into_another_unit_by_a_last_line(subject, unit, per_unit):
    """Atomic weights: IUPAC abridged 2021; the avoirdupois pound is 453.59237 g by definition."""
    blend = solve(made())
    plain = salt_working(blend, subject, 100.0, 50.0) if "-" in subject else nutrient_working(blend, subject)
    turned = in_unit(plain, unit)
    assert turned.lines[:-1] == plain.lines
    last = turned.lines[-1]
    assert last.result.value == pytest.approx(plain.lines[-1].result.value / per_unit, rel=1e-4)
    divided, by = last.numbers
    assert divided.value / by.value == pytest.approx(last.result.value)
    assert line_text(last).startswith(f"in {unit}: ")


def test_only_units_that_make_sense_are_offered():
    blend = solve(made())
    assert units_of(nutrient_working(blend, "Ca")) == ("mg/L", "mmol/L", "meq/L")
    assert "meq/L" not in units_of(nutrient_working(blend, "Fe"))
    assert units_of(cost_working(blend, "EUR")) == ("EUR",)
    assert in_unit(ec_working(blend), "µS/cm").lines[-1].result.value == pytest.approx(
        1000.0 * ec_working(blend).lines[-1].result.value
    )
    with pytest.raises(ValueError, match="cannot be told"):
        in_unit(nutrient_working(blend, "Fe"), "meq/L")
