"""The HTML of the demos and of every story: all that is to be weighed, and nothing that is not in the recipe."""

import html
import re

import msgspec
import pytest

from app.paper.amounts import grouped
from app.paper.document import document
from app.paper.html import to_html
from app.paper.text import shown
from app.wording import decimals_of_step, format_decimals
from core.logbook.worklist import worklist
from tests.helpers.recipes import PLAIN, SIX, recipe

ACID_WORDS = re.compile(r"\bacid\b.*per 1\s?000 L|never water into acid|Acid in the tanks", re.IGNORECASE)


def page(job, parts=("sheet",), mark="."):
    return to_html(document(job, parts, mark))


def words(text):
    return html.unescape(re.sub(r"<[^>]*>", "\n", re.sub(r"<style>.*?</style>", "", text, flags=re.DOTALL)))


@pytest.mark.parametrize("mark", [".", ","])
def test_every_weight_appears_in_the_readers_numbers(job, name, mark):
    printed = job(name, "metric")
    lines = words(page(printed, mark=mark)).splitlines()
    contents = [content for tank in printed.plan.tanks for content in tank.contents]
    assert contents
    for content in contents:
        number = format_decimals(content.grams_to_weigh, decimals_of_step(content.scale.readability_g))
        assert f"{grouped(number).replace('.', mark)} g" in lines


def test_programs_find_every_weight_plain(job, name):
    printed = job(name)
    found = [float(value) for value in re.findall(r'<data value="([^"]+)">', page(printed))]
    weighed = [item.planned_g for item in worklist(printed.blend, printed.plan)]  # in the order of the steps
    assert sorted(weighed) == sorted(c.grams_to_weigh for tank in printed.plan.tanks for c in tank.contents)
    assert found == pytest.approx(weighed, rel=1e-9)


def test_every_tank_is_named_by_what_it_holds_with_its_dose(job, name):
    printed = job(name)
    text = words(page(printed))
    for tank in printed.plan.tanks:
        assert f"{tank.content.upper()} SIDE" in text
    assert "per litre" in text
    assert "fl oz per US gal" in text


def test_acid_lines_only_where_there_is_acid(job, name):
    printed = job(name)
    acids = [amount for amount in printed.plan.amounts if printed.is_acid(amount.entry_id)]
    assert bool(ACID_WORDS.search(words(page(printed)))) is bool(acids)


def test_the_demo_says_how_much_acid_and_defers(job):
    text = words(page(job("strawberry")))
    assert (
        "Before the tanks, into the feed water, not into a tank: nitric acid 60 %, 202 mL per 1\xa0000 L of feed."
        in text
    )
    assert "Its safety data sheet, local rules and licensed practice come first." in text
    assert "Should give: EC 1.66 ± 0.08 mS/cm at 25 °C, pH 5.5 fresh, 6.6 once aired." in text


def test_pails_are_weighed_in_pounds_and_ounces_and_traces_in_grams(job):
    lines = words(page(job("us_pails"))).splitlines()
    assert {"3 lb 2.4 oz", "1 lb 10.5 oz", "1 lb 6.2 oz", "13.2 oz", "43.61 g", "0.32 g"} <= set(lines)
    assert "1 fl oz per US gal of finished feed" in lines
    assert "5 US gal (18.93 L) tank" in lines


def test_nothing_of_another_recipe(job):
    text = words(page(job("full_shelf"))).lower()
    for absent in ("chelate", "cup of", "trace bottle", "silicate", "bleach", "borehole"):
        assert absent not in text


EVIL = '=cmd|<script>alert("x")</script><img src=x onerror=y> & \'"'


@pytest.fixture
def hostile(printing):
    shelf = [
        {"salt": "calcium-nitrate-tetrahydrate", "entry_id": "<b>bag</b>"},
        {"salt": "blend:<i>mine</i>", "label_percent": {"K2O": 20, "Fe": 0.2}, "exactly_mg_per_l": 100},
        *(salt for salt in PLAIN if "calcium" not in salt),
    ]
    made = recipe(SIX, shelf, title=EVIL, currency="<u>", water={"name": "<svg onload=z>"})
    return printing(made)


def test_nothing_hostile_in_a_name_gets_through(hostile):
    text = page(hostile, ("sheet", "labels", "card", "summary"))
    for tag in ("<script", "<img", "<b>bag", "<i>", "<svg onload", "<u>"):
        assert tag not in text
    assert "&lt;script&gt;" in text
    assert set(re.findall(r"<(\w+)", re.sub(r"<style>.*?</style>", "", text, flags=re.DOTALL))) <= {
        "html", "head", "meta", "title", "style", "body", "section", "h1", "h2", "p", "div", "table", "thead", "tbody",
        "tr", "td", "th", "span", "b", "br", "small", "data", "ol", "ul", "li", "svg", "path", "circle", "text",
        "bdi",
    }  # fmt: skip


def test_a_page_that_needs_nothing_else(job):
    text = page(job("strawberry"), ("sheet", "labels", "card", "summary"))
    assert not re.search(r"<(script|link|img|iframe)|url\(|@import|https?:", text)
    assert "default-src 'none'" in text


@pytest.mark.parametrize(("paper", "size"), [("a4", "size: A4;"), ("letter", "size: letter;")])
def test_the_paper_is_set(job, paper, size):
    assert size in to_html(document(job("strawberry")), paper)


def test_a_stop_stands_first(printing):
    text = words(page(printing(recipe(SIX, PLAIN, tanks={"count": 1}))))
    assert text.index("STOP. Do not mix this") < text.index("EVERYTHING TOGETHER")


def test_nothing_to_weigh_is_said(printing):
    assert "There is nothing to weigh" in words(page(printing(recipe({}, ["potassium-nitrate"]))))


def test_more_than_the_scale_carries_is_ticked_off_in_goes(printing):
    batch = {"tank_volume_l": 100, "scales": [{"capacity_g": 2000, "readability_g": 1}]}
    printed = printing(recipe({}, [{"salt": "potassium-nitrate", "exactly_mg_per_l": 500}], batch=batch))
    text = page(printed)
    assert {"5\xa0000 g", "1\xa0667 g", "1\xa0666 g"} <= set(words(text).splitlines())
    assert text.count('class="tick"') == 3


def test_too_little_for_the_scale_comes_from_a_trace_bottle(printing):
    batch = {"tank_volume_l": 2, "scales": [{"capacity_g": 500, "readability_g": 0.1}]}
    shelf = [{"salt": "sodium-molybdate-dihydrate", "exactly_mg_per_l": 0.126}]
    text = words(page(printing(recipe({}, shelf, batch=batch))))
    assert "5 mL\n" in text
    assert "Weigh once: sodium molybdate 5.0 g. Dissolve, fill to 1 L" in text
    assert "Use 5 mL of it for each batch, in place of sodium molybdate; it lasts 200 batches." in text


def test_two_bags_of_one_salt_are_told_apart(printing):
    shelf = [{"salt": "potassium-nitrate", "entry_id": bag, "exactly_mg_per_l": 100} for bag in ("bag 1", "bag 2")]
    text = words(page(printing(recipe({}, shelf))))
    assert "potassium nitrate (bag 1), then potassium nitrate (bag 2)" in text


def test_titles_show_names_as_typed(job):
    printed = job("strawberry")
    changed = msgspec.structs.replace(printed.recipe, title="Bed 1.5")
    assert "Bed 1.5" in page(type(printed)(changed, printed.blend, printed.plan, printed.style), mark=",")
    assert shown("1.5", ",") == "1,5"
