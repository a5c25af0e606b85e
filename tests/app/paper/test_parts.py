"""Labels, dosing card and recipe summary."""

import math
import re
from importlib.resources import files

import msgspec
import pytest

from app.paper.blocks import Bullets, Curve, Label, Line, Table, Together, Weights
from app.paper.document import PARTS, document
from app.paper.dosing_card import nice_step
from app.paper.text import shown
from core.recipe import loads
from core.recipe.records import Scale
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe


def flat(part):
    for block in part.blocks:
        yield from block.blocks if isinstance(block, Together) else (block,)


def part(job, name):
    (made,) = document(job, (name,)).parts
    return made


def labels(job):
    return [block for block in flat(part(job, "labels")) if isinstance(block, Label)]


def test_a_label_per_tank(job, name):
    printed = job(name)
    assert [label.title for label in labels(printed)] == [
        f"{tank.content.upper()} SIDE" for tank in printed.plan.tanks
    ]  # fmt: skip


def test_the_demos_labels(job):
    calcium, phosphate = labels(job("strawberry"))
    assert calcium.dose == "10 mL per litre of finished feed"
    assert calcium.also == "(1.28 fl oz per US gal; 1:100)"
    assert (calcium.signal, phosphate.signal) == ("DANGER", "")
    assert calcium.hazards[0] == "Damages eyes, at the strength in this jug."
    assert calcium.holds == "Holds: calcium nitrate (greenhouse grade), potassium nitrate, iron DTPA chelate (11 % Fe)"
    assert len(calcium.blanks) == 3


def test_a_bought_blend_is_left_to_its_data_sheet(job):
    blend = next(label for label in labels(job("us_two_jugs")) if "all but calcium" in label.holds)
    assert blend.hazards == ("Not judged: all but calcium. See the supplier's safety data sheet.",)
    assert blend.signal == ""


def test_two_tanks_of_one_kind_have_letters(printing):
    from msgspec.structs import replace

    printed = printing(recipe(SIX, PLAIN, water={"name": "RO"}))
    alike = tuple(replace(tank, content="phosphate") for tank in printed.plan.tanks)
    titles = [
        label.title
        for label in labels(
            type(printed)(printed.recipe, printed.blend, replace(printed.plan, tanks=alike), printed.style)
        )
    ]  # noqa: E501
    assert titles == ["PHOSPHATE SIDE A", "PHOSPHATE SIDE B"]


def test_the_same_recipe_has_the_same_mark_and_another_has_not(job, printing):
    assert printing(job("strawberry").recipe).mark == job("strawberry").mark
    assert len({job(name).mark for name in ("strawberry", "cucumber", "us_pails", "full_shelf")}) == 4
    assert re.fullmatch(r"[0-9A-F]{4}-[0-9A-F]{4}", job("strawberry").mark)


def card(job):
    blocks = list(flat(part(job, "card")))
    return next(b for b in blocks if isinstance(b, Table)), next(b for b in blocks if isinstance(b, Curve))


def test_the_planned_row_stands_out_and_gives_the_planned_ec(job, name):
    printed = job(name)
    table, curve = card(printed)
    (planned,) = table.strong
    assert float(table.rows[planned][2]) == pytest.approx(printed.plan.feed.ec_ms_per_cm, abs=0.005)
    assert curve.mark[1] == pytest.approx(printed.plan.feed.ec_ms_per_cm, rel=1e-9)


def test_ec_rises_with_the_dose_and_every_scale_follows_it(job, name):
    table, curve = card(job(name))
    assert [ec for _, ec in curve.points] == sorted(ec for _, ec in curve.points)
    for row in table.rows:
        ec, cf, half, seven = (float(text) for text in row[2:])
        assert cf == pytest.approx(10 * ec, abs=0.1)
        assert half == pytest.approx(500 * ec, abs=3)
        assert seven == pytest.approx(700 * ec, abs=4)


def test_the_curve_stays_within_its_ticks(job, name):
    _, curve = card(job(name))
    assert max(dose for dose, _ in curve.points) <= curve.x_ticks[-1][0] + 1e-9
    assert max(ec for _, ec in curve.points) <= curve.y_ticks[-1][0] + 1e-9


def test_ounces_lead_in_the_united_states(job):
    us, metric = card(job("us_pails"))[0], card(job("us_pails", "metric"))[0]
    assert us.head[0] == "fl oz of each per US gal"
    assert metric.head[0] == "mL of each per litre"
    assert us.rows[next(iter(us.strong))][:2] == ("1", "7.81")


@pytest.mark.parametrize(
    ("span", "steps", "step"), [(10, 8, 1), (7.8125, 8, 1), (5, 8, 0.5), (20, 8, 2.5), (1, 8, 0.1)]
)
def test_round_steps(span, steps, step):
    assert math.isclose(nice_step(span, steps), step)


def summary_text(job):
    texts = []
    for block in flat(part(job, "summary")):
        texts += block.lines if isinstance(block, Bullets) else [block.text] if hasattr(block, "text") else []
        texts += [" ".join(row) for row in block.rows] if isinstance(block, Table) else []
    return "\n".join(shown(text) for text in texts)


def test_the_summary_tells_every_product_and_every_caution(job, name):
    printed = job(name)
    text = summary_text(printed)
    for amount in printed.plan.amounts:
        assert shown(printed.name(amount.entry_id)) in text
    for caution in printed.plan.cautions:
        assert shown(printed.caution(caution)) in text


def test_the_working_adds_up(job, name):
    lines = [line for line in summary_text(job(name)).splitlines() if re.match(r"[A-Z][\w-]* = .* mg/L$", line)]
    assert lines
    for line in lines:
        *_, total = re.findall(r"= ([\d.]+) mg/L$", line)
        parts = [float(number) for number in re.findall(r"(?:= |\+ )([\d.]+) \(", line)]
        assert sum(parts) == pytest.approx(float(total), rel=2e-3)
        for brought, amount, percent in re.findall(
            r"([\d.]+) \([^()]*(?:\([^()]*\)[^()]*)*: ([\d.]+) × ([\d.]+) %\)", line
        ):
            assert float(amount) * float(percent) / 100 == pytest.approx(float(brought), rel=2e-3)


def test_sources_and_what_is_only_recalled(job):
    text = summary_text(job("strawberry"))
    assert "Prohaska T. et al. 2022" in text
    assert "(recalled, source not seen: check it)" in text
    assert "phreeqc.dat 3.7.3" in text


def test_assumptions_name_what_was_not_stated(printing):
    text = summary_text(printing(recipe(SIX, [*PLAIN, "nitric-acid"], water=HARD)))
    assert "Strength of nitric acid 60 % as usual, not stated" in text
    assert "Water as reported (hard)" in text


def test_a_forecast_that_is_missing_is_said(printing):
    printed = printing(recipe({}, [{"salt": "potassium-nitrate", "exactly_mg_per_l": 60000}]))
    texts = [block.text for block in flat(part(printed, "sheet")) if isinstance(block, Line)]
    assert any("No forecast of EC and pH" in text for text in texts)
    assert document(printed).parts


def test_parts_come_in_their_order_and_empty_ones_are_left_out(job, printing):
    assert [p.name for p in document(job("strawberry"), ("summary", "sheet")).parts] == ["sheet", "summary"]
    nothing = printing(recipe({}, ["potassium-nitrate"]))
    assert [p.name for p in document(nothing, PARTS).parts] == ["sheet", "summary"]


def test_what_shares_a_trace_bottle_is_one_row(printing):
    """Four rows of 5 mL each would be poured four times."""
    demo = loads(files("resources.demo").joinpath("strawberry.saltwright").read_bytes())
    batch = msgspec.structs.replace(demo.batch, tank_volume_l=2.0, scales=(Scale(3000, 1),))
    made = part(printing(msgspec.structs.replace(demo, batch=batch)), "sheet")
    rows = [row for block in flat(made) if isinstance(block, Weights) for row in block.rows]
    pours = [row for row in rows if row.name.startswith("Trace bottle")]
    assert [row.weight for row in pours] == ["5 mL", "5 mL"]
    assert "manganese sulfate, zinc sulfate, boric acid and copper sulfate together" in pours[0].remark
    assert not [row for row in rows if row.name.startswith(("Manganese", "Zinc", "Boric", "Copper"))]
