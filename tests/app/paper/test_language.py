"""No paper says anything in English while another language is spoken."""

from __future__ import annotations

import html
import re
from collections.abc import Callable

from app.paper.csv import to_csv
from app.paper.document import document
from app.paper.html import to_html
from app.paper.job import Job
from app.wording import language
from core.catalog import sources
from tests.app.pseudo_words import OWN
from tests.app.seen import untranslated


def names_of(job: Job) -> frozenset[str]:
    """Return what people or sources gave names to."""
    recipe = job.recipe
    waters = [water.name for water in (recipe.water, recipe.second_water) if water is not None]
    entries = [entry.entry_id for entry in recipe.shelf] + [entry.salt.removeprefix("blend:") for entry in recipe.shelf]
    given = [recipe.title, recipe.currency, *waters, *(name or "" for name in entries)]
    return OWN | {name for name in given if name} | frozenset(sources())


def test_no_sheet_is_in_english(job: Callable[..., Job], name: str) -> None:
    one = job(name)
    language.speak("pseudo")
    try:
        page = to_html(document(one))
        table = to_csv(one)
    finally:
        language.speak("")
    body = re.sub(r"<style>.*?</style>|<[^>]+>", " ", page.partition("<body>")[2], flags=re.DOTALL)
    assert untranslated(html.unescape(body), names_of(one)) == []
    columns, _newline, rows = table.partition("\n")
    assert columns.isascii(), "the columns are keys for other programs"
    assert untranslated(rows, names_of(one) | {"blend", "water", "reservoir"}) == []
