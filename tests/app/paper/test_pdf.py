"""The pages of the PDF: nothing wider than the page, nothing over anything else, no row in two."""

import itertools
import re

import pytest
from PySide6.QtGui import QFontInfo

from app.paper.document import document
from app.paper.pdf import to_pdf
from app.paper.pdf_marks import Text, font, pt
from app.paper.pdf_pages import lay_out
from tests.helpers.recipes import PLAIN, SIX, recipe

PAPERS = ("a4", "letter")
DUST = pt(0.5)
FRAME = pt(0.1)
"""Rules may stand on the very edge of the margin."""


@pytest.fixture(autouse=True)
def _qt(qapp):
    """Typefaces need an application."""


def assert_tidy(pages):
    for page in pages:
        inside = page.content().adjusted(-FRAME, -FRAME, FRAME, FRAME)
        texts = []
        for mark, box in page.marks():
            assert box.left() >= inside.left(), f"{getattr(mark, 'text', mark)} lies outside the page"
            assert box.right() <= inside.right(), f"{getattr(mark, 'text', mark)} lies outside the page"
            assert box.top() >= inside.top(), f"{getattr(mark, 'text', mark)} lies outside the page"
            assert box.bottom() <= inside.bottom(), f"{getattr(mark, 'text', mark)} lies outside the page"
            texts += [(mark.text, box)] if isinstance(mark, Text) and mark.text.strip() else []
        for (one, a), (other, b) in itertools.combinations(texts, 2):
            over = a.intersected(b)
            assert over.width() <= DUST or over.height() <= pt(2.5), f"{one!r} lies over {other!r}"


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("mark", [".", ","])
def test_pages_of_every_story_are_tidy(job, name, paper, mark):
    assert_tidy(lay_out(document(job(name), decimal_mark=mark), paper))


def shown_texts(page):
    return [mark.text.replace("\xa0", " ") for mark, _ in page.marks() if isinstance(mark, Text)]


@pytest.mark.parametrize("paper", PAPERS)
def test_a_page_per_tank_and_one_per_card_in_the_demo(job, paper):
    pages = lay_out(document(job("strawberry")), paper)
    texts = [shown_texts(page) for page in pages]
    assert len(pages) == 7
    assert "CALCIUM SIDE" in texts[0]
    assert "PHOSPHATE SIDE" in texts[1]
    assert {"CALCIUM SIDE", "PHOSPHATE SIDE"} <= set(texts[2])
    assert texts[3][0].startswith("Dosing card")
    assert texts[4][0].startswith("Recipe")
    assert [page.number.text for page in pages] == [f"{n} of 7" for n in range(1, 8)]


@pytest.mark.parametrize("paper", PAPERS)
def test_acid_that_goes_first_has_its_box_first(job, paper):
    first = shown_texts(lay_out(document(job("strawberry"), ("sheet",)), paper)[0])
    title = next(place for place, text in enumerate(first) if "into the feed water, not into a tank" in text)
    assert title < first.index("CALCIUM SIDE")
    assert any(text.startswith("Protection: face shield and goggles") for text in first[title:])


@pytest.mark.parametrize("paper", PAPERS)
def test_type_is_for_reading_glasses_and_figures_are_larger(job, name, paper):
    """8 points are our own choice of the least that is read at arm's length; weights and doses stand out."""
    pages = lay_out(document(job(name), ("sheet", "labels", "card")), paper)
    sizes = [(one.scale * mark.points, mark.text) for page in pages for one in page.placed for mark in one.piece.marks
             if isinstance(mark, Text) and mark.text.strip()]  # fmt: skip
    assert min(sizes)[0] >= 8.0, min(sizes)
    for points, text in sizes:
        if re.fullmatch(r"[\d\s.]+ g", text):
            assert points >= 15.5, text
        if "of finished feed" in text and len(text) < 50:
            assert points >= 13.0, text


def test_every_weight_is_on_a_page_in_the_largest_type_but_titles(job):
    printed = job("us_pails")
    pages = lay_out(document(printed, ("sheet",)), "letter")
    texts = [text for page in pages for text in shown_texts(page)]
    for weight in ("3 lb 2.4 oz", "1 lb 10.5 oz", "1 lb 6.2 oz", "13.2 oz", "43.61 g", "4.12 g", "0.32 g"):
        assert weight in texts


def test_the_content_is_the_largest_thing_on_a_label(job):
    (page,) = lay_out(document(job("strawberry"), ("labels",)))
    heights = {mark.text: mark.height for mark, _ in page.marks() if isinstance(mark, Text)}
    assert max(heights, key=lambda text: heights[text]) in ("CALCIUM SIDE", "PHOSPHATE SIDE")


LONG = "W" * 190


def crowded(printing):
    """A hostile recipe: an endless word for a title, endless names, weights in many goes, many cautions."""
    shelf = [{"salt": salt, "entry_id": f"{salt[:9]} {'X' * 60}"} for salt in PLAIN]
    shelf += [{"salt": f"blend:{'Y' * 80}{n}", "label_percent": {"K2O": 10}, "exactly_mg_per_l": 900} for n in range(9)]
    batch = {"tank_volume_l": 1000, "scales": [{"capacity_g": 5000, "readability_g": 1}]}
    return printing(recipe(SIX, shelf, title=LONG, water={"name": "Z" * 150, "mg_per_l": {"Ca": 20}}, batch=batch))


@pytest.mark.parametrize("paper", PAPERS)
def test_whatever_the_names_and_weights_nothing_is_cut(printing, paper):
    printed = crowded(printing)
    pages = lay_out(document(printed), paper)
    assert_tidy(pages)
    goes = sum(re.fullmatch(r"go \d+ of \d+", text) is not None for page in pages for text in shown_texts(page))
    assert goes > 100


def test_no_piece_is_in_two_places(printing):
    pages = lay_out(document(crowded(printing)), "letter")
    placed = [id(one.piece) for page in pages for one in page.placed]
    assert len(placed) == len(set(placed))
    for page in pages:
        for one, following in itertools.pairwise(page.placed):
            assert following.top >= one.bottom - DUST


def test_a_name_written_from_the_right_keeps_to_its_place(printing):
    made = recipe({}, [{"salt": "potassium-nitrate", "entry_id": "\u05d0\u05d1\u05d2", "exactly_mg_per_l": 100}])
    assert_tidy(lay_out(document(printing(made))))


@pytest.mark.parametrize("paper", PAPERS)
def test_the_file_is_a_pdf_of_as_many_pages_on_that_paper(job, paper):
    printed = document(job("strawberry"))
    data = to_pdf(printed, paper)
    assert data.startswith(b"%PDF-")
    assert len(re.findall(rb"/Type /Page\b(?!s)", data)) == len(lay_out(printed, paper))
    (box,) = set(re.findall(rb"/MediaBox \[([^\]]*)\]", data))
    assert [round(float(side)) for side in box.split()] == {"a4": [0, 0, 595, 842], "letter": [0, 0, 612, 792]}[paper]


def letters_that_can_be_copied(data):
    """All letters that every typeface of the PDF maps its glyphs back to."""
    tables = re.findall(rb"beginbfrange\n(.*?)endbfrange", data, re.DOTALL)
    return set.intersection(*({chr(int(code, 16)) for code in re.findall(rb"<(\w{4})>", t)} for t in tables))


def test_weights_can_be_searched_and_copied(job):
    """A glyph put in for another, such as a digit of fixed width, would have no letter behind it."""
    assert set("0123456789.:()mLgCALCIUM") <= letters_that_can_be_copied(to_pdf(document(job("strawberry"))))


def test_our_own_typeface_is_used():
    assert QFontInfo(font(12.0)).family() == "Inter"
    assert QFontInfo(font(12.0, strong=True)).family() == "Inter"
